"""What is written into a net's record of a thing that was done, with what went into the net."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from net3d.errors import Problem, SpecError
from net3d.plan import lay_out
from net3d.plan.plan import Plan
from net3d.shop.used import built_twine, dip_mass, mended_twine
from net3d.spec.log import KINDS, LOG, Entry, note_fault
from net3d.spec.spec import NetSpec
from net3d.spec.wording import listed


@dataclass(frozen=True)
class Done:
    """What somebody says was done."""

    day: date
    note: str = ""
    kind: str | None = None  # None: a note, or mended where a hole is named
    hole: int | None = None  # of the spec, from 1, that was mended


def entry_of(spec: NetSpec, net: str, done: Done) -> Entry:
    """What is to be written; what is built, dipped or mended with what went into it.

    Parameters
    ----------
    spec : the net
    net : name of its file
    done : what was done to it

    Raises
    ------
    SpecError : with every problem, by ``kind``, ``hole`` or ``note``
    """
    if faults := tuple(_faults(spec, done)):
        raise SpecError(LOG, faults)
    plan = lay_out(spec)
    kind = "mended" if done.hole else done.kind or "note"
    dip = dip_mass(spec, plan) if kind == "dipped" else 0.0
    if done.hole:
        note = f"Hole {done.hole}: {spec.holes[done.hole - 1]}. {done.note}".rstrip()
        return Entry(done.day, net, kind, note, mended_twine(spec, plan, done.hole))
    return Entry(done.day, net, kind, done.note, _built(spec, plan, kind), dip)


def _built(spec: NetSpec, plan: Plan, kind: str) -> dict[str, float]:
    return dict(built_twine(spec, plan)) if kind == "built" else {}


def _faults(spec: NetSpec, done: Done) -> Iterator[Problem]:
    kinds = KINDS if done.hole is None else ("mended",)
    if done.kind is not None and done.kind not in kinds:
        yield Problem("kind", f"{done.kind!r} is not known here: write {listed(kinds)}")
    if done.hole is not None and not 1 <= done.hole <= len(spec.holes):
        yield Problem(
            "hole", f"the spec has {len(spec.holes)} [[hole]], so that there is no hole {done.hole}"
        )
    if fault := note_fault(done.note):
        yield Problem("note", fault)
