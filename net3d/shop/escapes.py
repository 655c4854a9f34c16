"""What ways out take: frames, lacing, lines, floats, and thread that rots."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from net3d.parts import Part
from net3d.plan.escapes import EscapePlan
from net3d.plan.plan import Plan

BARE = ("escape_frame", "escape_float", "rotting_thread")  # not of the lacing's twine
TURNS = 4  # lengths of a lacing that a knot takes: there, back, and the knots; common practice, no source


@dataclass(frozen=True)
class Thing:
    """Pieces of one thing, all alike."""

    item: str  # key of what it is
    pieces: int
    length: float | None = None  # of each [m]
    parts: tuple[Part, ...] = ()
    tied: bool = False  # with ends to be made fast
    each: float | None = None  # what a float lifts [N]
    rod: tuple[str, float] | None = None  # material and thickness [m]


def things(escape: EscapePlan, plan: Plan) -> Iterator[Thing]:
    """What a way out takes beside the netting of a chimney."""
    said, openings = escape.spec, escape.apertures
    if openings:
        frames = len(openings) * (2 if escape.chimney else 1)
        assert escape.rod is not None
        rod = (escape.rod.material.name, escape.rod.diameter)
        yield Thing("escape_frame", frames, escape.frame, (escape.frame_part,), rod=rod)
        laced = TURNS * escape.lacing * len(openings[0].rim)
        yield Thing("escape_lacing", len(openings), laced, (escape.lacing_part,), tied=True)
    for length in sorted({round(one, 4) for one in escape.line_lengths}, reverse=True):
        alike = sum(round(one, 4) == length for one in escape.line_lengths)
        yield Thing("escape_line", alike, length, (escape.frame_part,), tied=True)
    if said.kind == "panel":
        parts = (escape.seam_part,) if escape.seam else ()
        yield Thing("rotting_thread", 1, TURNS * plan.bar * max(len(escape.seam), 1), parts)
    if said.kind == "floats":
        yield Thing("escape_float", said.pieces, None, (escape.floats_part,), each=said.lift)
    if escape.chimney:
        yield Thing("escape_float", 1, each=escape.chimney.lift)


def escape_knots(plan: Plan) -> int:
    """Knots in the netting of all chimneys."""
    return sum(escape.chimney.knots for escape in plan.escapes if escape.chimney)


def escape_hitches(plan: Plan) -> int:
    """Knots by which frames are laced, and the ends of lines."""
    laced = sum(len(one.rim) for escape in plan.escapes for one in escape.apertures)
    return laced + sum(2 * len(escape.line_lengths) for escape in plan.escapes)
