"""What rules a choice out before or after it is solved, and how near it came."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from math import sqrt

from net3d.propose.choices import Choice
from net3d.propose.section import reach_form, section_form
from net3d.spec.wanted import Hand, Mesh, Wanted

SURE = 0.95  # of the closed form's length: hoops are not all alike, and twine has weight


@dataclass(frozen=True)
class Miss:
    """A limit that a net does not keep: in words, and by how much, as a share of the limit."""

    code: str
    message: str
    by: float
    typed: dict[str, object] = field(
        default_factory=dict, hash=False, compare=False
    )  # the net that misses it


@dataclass
class Ruled:
    """What was ruled out: by every limit how many, and which came nearest to it."""

    counts: dict[str, int] = field(default_factory=dict)
    nearest: dict[str, Miss] = field(default_factory=dict)

    def note(self, miss: Miss, typed: dict[str, object] | None = None) -> None:
        """Count a miss."""
        self.counts[miss.code] = self.counts.get(miss.code, 0) + 1
        if miss.code not in self.nearest or miss.by < self.nearest[miss.code].by:
            self.nearest[miss.code] = Miss(miss.code, miss.message, miss.by, typed or {})


def usable_meshes(wanted: Wanted, ruled: Ruled) -> list[Mesh]:
    """The meshes that keep the fish in and the local rules; the others are ruled out."""
    usable = []
    for mesh in wanted.meshes:
        misses = list(_mesh_misses(wanted, mesh))
        for miss in misses:
            ruled.note(miss)
        usable += [] if misses else [mesh]
    return usable


def _mesh_misses(wanted: Wanted, mesh: Mesh) -> Iterator[Miss]:
    """A fish is held by a mesh when its girth is more than the mesh is around: ``G > 2 m``.

    Source: around a mesh pulled to a slit are its four bars, twice the stretched mesh: geometry.
    """
    tape, limits = wanted.tape, wanted.form.limits
    size = f"{tape.length(mesh.stretched)} stretched"
    around = 2 * mesh.stretched
    if wanted.girths is not None and around >= wanted.girths[0]:
        girth = wanted.girths[0]
        message = (
            f"Netting of {size} lets fish of {tape.length(girth)} girth through: a mesh is "
            f"{tape.length(around)} around. To hold them its bar must be less than {tape.length(girth / 4)}."
        )
        yield Miss("mesh-lets-fish-through", message, around / girth - 1)
    for code, value, bound, word in (
        ("local-stretched-mesh", mesh.stretched, limits.stretched_min, "stretched mesh"),
        ("local-bar", mesh.stretched / 2, limits.bar_min, "bar"),
    ):
        if bound is not None and value < bound * (1 - 1e-9):
            message = f"Netting of {size} is finer than your own limit: {word} {tape.length(bound)} or more."
            yield Miss(code, message, bound / value - 1)


def usable_hoops(wanted: Wanted, ruled: Ruled) -> list[Hand]:
    """The hoops that keep the local rules and stand in the water; the others are ruled out."""
    tape, most, depth = wanted.tape, wanted.form.limits.hoop_diameter_max, wanted.form.water.depth
    usable = []
    for hoop in wanted.hoops:
        name = f"{hoop.name}, {hoop.size(tape)} across,"
        if most is not None and hoop.widest > most * (1 + 1e-9):
            message = f"{name} is larger than your own limit of {tape.length(most)}."
            ruled.note(Miss("local-largest-hoop", _begun(message), hoop.widest / most - 1))
        elif depth is not None and hoop.height > depth:
            message = f"{name} stands out of water that is {tape.length(depth)} deep."
            ruled.note(Miss("water-depth", _begun(message), hoop.height / depth - 1))
        else:
            usable.append(hoop)
    return usable


def _begun(text: str) -> str:
    return text[0].upper() + text[1:]


def least_length(choice: Choice) -> float:
    """What a net is at least long, mouth hoop to the end of its tail [m], by its sections' closed form.

    Nothing is known so of frames, whose lines draw the netting together.
    """
    if choice.has_frames:
        return 0.0
    bar, total = choice.mesh.stretched / 2, 0.0
    radii = [hoop.diameter / 2 - hoop.rod for hoop in choice.hoops]
    for one, other in pairwise(radii):
        total += section_form(max(one, other), choice.around, bar, choice.deep)[0]
    slope = choice.tail * reach_form(radii[-1], choice.around, bar)
    return SURE * (total + sqrt(max(slope**2 - radii[-1] ** 2, 0.0)))


def least_knots(choice: Choice) -> int:
    """What a body has at least of knots: a row of them for every row of bars but the last of each piece."""
    rows = 2 * (choice.deep * (len(choice.hoops) - 1) + choice.tail)
    return int(choice.around * (rows - len(choice.hoops)))


def least_twine(choice: Choice, mass_per_length: float) -> float:
    """What a body takes at least of twine [kg]: its bars without their knots.

    Parameters
    ----------
    mass_per_length : of the twine [kg/m]
    """
    rows = 2 * (choice.deep * (len(choice.hoops) - 1) + choice.tail)
    return choice.around * rows * choice.mesh.stretched * mass_per_length


def early_miss(wanted: Wanted, choice: Choice, mass_per_length: float) -> Miss | None:
    """The limit that a choice cannot keep, whatever its shape: bounds that throw away no net that could.

    Parameters
    ----------
    mass_per_length : of the twine [kg/m]
    """
    want, tape = wanted.want, wanted.tape
    most = wanted.form.limits.hoops_max
    if most is not None and len(choice.hoops) > most:
        return Miss(
            "local-hoops",
            f"{len(choice.hoops)} hoops are more than your own limit of {most}.",
            len(choice.hoops) / most - 1,
        )
    if wanted.longest is not None and (length := least_length(choice)) > wanted.longest:
        lengths = tape.length(length), tape.length(wanted.longest)
        hoops = len(choice.hoops)
        message = (
            f"With {hoops} hoops and its tail it is {lengths[0]} long at least; longest is {lengths[1]}."
        )
        return Miss("local-length", message, length / wanted.longest - 1)
    rate = wanted.form.prices.knots_per_hour
    if want.hours is not None and wanted.form.netting.made == "hand-tied":
        hours = least_knots(choice) / rate
        if hours > want.hours:
            return Miss(
                "hours",
                f"Its knots alone take {hours:.0f} hours at least; most are {want.hours:g}.",
                hours / want.hours - 1,
            )
    if want.twine is not None and (mass := least_twine(choice, mass_per_length)) > want.twine:
        message = f"Its bars alone take {tape.mass(mass)} of twine; most is {tape.mass(want.twine)}."
        return Miss("twine", message, mass / want.twine - 1)
    return None
