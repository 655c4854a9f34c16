"""Rules of the fish: one way to tell how large around they are."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.spec.draft import Draft
from net3d.spec.faults import Fault
from net3d.spec.throat_form import FishForm

WAYS = ("girth_ratio", "species", "measured")  # from length to girth


def fish_have_a_girth(draft: Draft) -> Iterator[Fault]:
    """Fish are named by their girth, or by their length and one way to tell the girth from it."""
    fish = getattr(draft.form, "fish", None)
    if fish is not None:
        yield from fish_faults(fish)


def fish_faults(fish: FishForm) -> Iterator[Fault]:
    """What is wrong with the keys that a table of fish has."""
    typed = fish.model_fields_set - ({"measured"} if fish.measured == () else set())
    ways = [key for key in WAYS if key in typed]
    if "girth" in typed and typed & {"length", *ways}:
        given = [key for key in ("length", *ways) if key in typed]
        say = f"{' and '.join(given)} say{'s' if len(given) == 1 else ''}"
        yield Fault(("fish", "girth"), f"{say} the same thing: leave one of the two ways out")
    elif "girth" not in typed and not ("length" in typed and ways):
        missing = "girth is missing: give it, or length together with girth_ratio, species or measured"
        yield Fault(("fish",), missing)
    elif len(ways) > 1:
        message = f"{ways[0]} is given too; they say the same thing, so leave one of them out"
        yield Fault(("fish", ways[1]), message)


FISH_RULES = (fish_have_a_girth,)
