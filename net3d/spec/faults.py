"""Broken rules, and what several rules ask of a draft."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from net3d.handbook.twine import find_twine, near_twines, plain_name
from net3d.spec.draft import Draft
from net3d.spec.form import BareHoop, HoopForm
from net3d.spec.keys import Path
from net3d.spec.table import Table
from net3d.spec.wording import listed, shown
from net3d.units import Tape


@dataclass(frozen=True)
class Fault:
    """A rule that is broken, and where."""

    path: Path
    message: str


def exactly_one(table: Path, record: Table | None, keys: tuple[str, str]) -> Iterator[Fault]:
    """Of two keys that say the same thing one is typed."""
    if record is None:
        return
    typed = [key for key in keys if key in record.model_fields_set]
    if len(typed) == 2:
        message = f"{keys[0]} is given too; they say the same thing, so leave one of them out"
        yield Fault((*table, keys[1]), message)
    elif not typed:
        yield Fault(table, f"{keys[0]} or {keys[1]} is missing: give one of them")


def hoops(draft: Draft) -> Iterator[tuple[int, HoopForm]]:
    """The hoop tables that could be read, with their numbers from 0."""
    tables = getattr(draft.form, "hoop", None) or ()
    return ((number, hoop) for number, hoop in enumerate(tables) if hoop is not None)


def bare_hoops(draft: Draft) -> Iterator[tuple[Path, BareHoop]]:
    """The hoop tables that could be read, then those of the pile, and where they stand."""
    for key in ("hoop", "pile"):
        for number, hoop in enumerate(getattr(draft.form, key, None) or ()):
            if hoop is not None:
                yield (key, number), hoop


def hoop_count(draft: Draft) -> int | None:
    """How many hoops the net has, repeats counted; None where that cannot be known."""
    tables: tuple[HoopForm, ...] | None = getattr(draft.form, "hoop", None)
    if tables is None or not all(draft.fine("hoop", number, "repeat") for number in range(len(tables))):
        return None
    return sum(hoop.repeat for hoop in tables)


def twine_fault(draft: Draft, path: Path, name: str) -> Iterator[Fault]:
    """A twine that is neither in the table nor one of the maker's own."""
    own = tuple(getattr(draft.form, "twine", None) or ())
    if plain_name(name) not in map(plain_name, own) and find_twine(name) is None:
        near = near_twines(name, own)
        hint = f"; the nearest are {listed(near)}" if near else ""
        more = "`net3d twines` lists it, and a [twine.NAME] adds your own"
        yield Fault(path, f"{shown(name)} is not in the twine table{hint}. {more}")


def too_wide(draft: Draft, circle: float, meshes: tuple[int, float], hoop: str) -> str:
    """What to say where meshes do not reach around a circle.

    Parameters
    ----------
    draft : what was typed
    circle : around it [m]
    meshes : how many, and their stretched size [m]
    hoop : what it is called
    """
    around, mesh = meshes
    tape = Tape(draft.form.units)
    size, length = tape.mesh(mesh), tape.length(circle)
    return (
        f"{around} meshes of {size} stretched cannot be tied to {hoop}: its knots stand on a circle "
        f"{length} around (E1 = {circle / around / mesh:.3g}, and it must be below 1). "
        f"Take {math.floor(circle / mesh) + 1} meshes around or more, or a larger mesh"
    )
