"""Two nets laid beside each other: which keys differ, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from net3d.chain import Design
from net3d.checks import told_once
from net3d.checks.checks import Level
from net3d.page.facts import facts_of
from net3d.page.pulls import scale_top
from net3d.page.scene import scene_in_waters
from net3d.shop.costing import work
from net3d.shop.used import built_twine
from net3d.spec.edit import each_standing
from net3d.workshop.files import design_of

NONE = ""  # what a net does not have
LISTS = ("hoop", "pile", "throat")


def beside(one: tuple[str, Path], other: tuple[str, Path]) -> dict[str, Any]:
    """Rows of key or name, the one's and the other's: ``keys`` that differ, ``comes``; the other's ``scene``.

    Parameters
    ----------
    one : text and place of the net
    other : the same of the net laid beside it

    Raises
    ------
    NetError : one of them has no shape
    """
    mine, yours = (design_of(*net) for net in (one, other))
    keys = (_keys("", _standing(made.spec.source.typed)) for made in (mine, yours))
    comes = (_comes(made) for made in (mine, yours))
    shape = scene_in_waters(yours, scale_top(yours.at_work))
    return {"title": yours.spec.title, "keys": _rows(*keys), "comes": _rows(*comes), "scene": shape}


def _rows(one: Mapping[str, str], other: Mapping[str, str]) -> list[list[str]]:
    names = dict.fromkeys([*one, *other])
    rows = [[name, one.get(name, NONE), other.get(name, NONE)] for name in names]
    return [row for row in rows if row[1] != row[2]]


def _standing(typed: Mapping[str, Any]) -> dict[str, Any]:
    listed = {key: [table for table, _ in each_standing(key, typed[key])] for key in LISTS if key in typed}
    return {**typed, **listed}


def _keys(before: str, typed: Any) -> dict[str, str]:  # noqa: ANN401 - anything that is typed
    """Every key that holds a value, with it.

    >>> _keys("", {"hoop": [{"rod": "1/2"}], "title": "Weir"})
    {'hoop 1 rod': '1/2', 'title': 'Weir'}
    """
    if isinstance(typed, list) and not any(isinstance(entry, dict) for entry in typed):
        return {before: ", ".join(map(str, typed))}
    if not isinstance(typed, dict | list):
        return {before: str(typed)}
    entries = typed.items() if isinstance(typed, dict) else ((str(n), one) for n, one in enumerate(typed, 1))
    return {
        key: value
        for name, inner in entries
        for key, value in _keys(f"{before} {name}".strip(), inner).items()
    }


def _waist(made: Design) -> dict[str, str]:
    """Where the net is narrowest between round hoops."""
    sections = zip(made.plan.sections, made.shape.sections, strict=True)
    narrow = [one.waist_diameter for planned, one in sections if made.plan.frame_of(planned) is None]
    return {"Waist": made.spec.tape.reading(min(narrow))} if narrow else {}


def _comes(made: Design) -> dict[str, str]:
    """What comes of a net: its sizes, strings and openings, twine, hours, drag, and how the checks went."""
    tape, plan = made.spec.tape, made.plan
    found = [finding.level for finding in told_once(made.findings)]
    counts = {level: found.count(level) for level in (Level.FAIL, Level.CAUTION)}
    shape = made.shape
    return {
        **dict(facts_of(made)),
        **_waist(made),
        **{f"Strings of throat {n}": tape.length(one) for n, one in enumerate(made.string_lengths, 1)},
        **{
            f"Opening of throat {one.number}": f"{tape.length(one.opening_girth)} around"
            for one in shape.throats
        },
        **{f"Drag in {tape.speed(load.current)}": tape.force(load.drag) for load in made.loads},
        **{
            f"Twine {name}": tape.text(length, "run") for name, length in built_twine(made.spec, plan).items()
        },
        "Knots": f"{plan.knots + sum(throat.knots for throat in plan.throats):,}",
        "Hours": f"{sum(one.hours for one in work(made.spec, plan)):.1f}",
        "Checks": ", ".join(f"{count} {level.value}" for level, count in counts.items()),
    }
