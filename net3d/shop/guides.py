"""What wings and leaders take beside their netting: lines, floats, leads, stakes, and hitches."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import Twine
from net3d.parts import Part
from net3d.plan.guides import GuidePlan, LinePlan
from net3d.plan.plan import Plan
from net3d.shop.lacing import hitch_length
from net3d.spec.spec import NetSpec


@dataclass(frozen=True)
class Line:
    """A guide's float line or lead line, or lines to its anchors, of all its sides."""

    item: str  # key of what it is
    rope: float  # thickness [m]
    pieces: int
    length: float  # of each, along the netting [m]
    cut_length: float  # with its ends at mouth and stake [m]
    part: Part


@dataclass(frozen=True)
class Piece:
    """Floats, leads, and what holds a guide's ends, of all its sides."""

    item: str
    pieces: int
    each: float | None  # what one lifts or weighs in water [N]
    mass: float | None  # of all in air [kg]
    parts: tuple[Part, ...] = ()
    made_of: str = ""


def guide_knots(plan: Plan) -> int:
    """Knots in the netting of all wings and leaders."""
    return sum(len(guide.sides) * guide.knots for guide in plan.guides)


def guide_mass(plan: Plan) -> float:
    """Twine in their netting [kg]."""
    return sum(len(guide.sides) * guide.twine_mass for guide in plan.guides)


def guide_cuts(plan: Plan) -> int:
    """Bars and points that are cut around their netting where it comes from sheet."""
    return sum(len(guide.sides) * 2 * (guide.spec.long + guide.spec.deep) for guide in plan.guides)


def hitches(plan: Plan) -> int:
    """Hitches by which their netting hangs on its lines: one a mesh."""
    return sum(len(guide.sides) * 2 * guide.spec.long for guide in plan.guides)


def lines_of(spec: NetSpec, guide: GuidePlan) -> tuple[Line, ...]:
    """Its two lines, each with an end to make fast at the mouth and at the stake; lines to its anchors.

    A line to an anchor begins in two legs, from head and foot of the pole: half as long again as it is high.
    """
    ends = 2 * spec.tape.roughly(allowance("string_end"))
    pairs = (("float_line", guide.float_line), ("lead_line", guide.lead_line))
    own = [
        Line(item, guide.spec.rope, len(guide.sides), line.length, line.length + ends, guide.lines_part)
        for item, line in pairs
    ]
    if guide.spec.anchor is not None:
        long, count = guide.anchor_line + guide.height, len(guide.sides) * guide.holds
        own.append(Line("anchor_lines", guide.spec.rope, count, long, long + ends, guide.lines_part))
    return tuple(own)


def pieces_of(guide: GuidePlan) -> tuple[Piece, ...]:
    """Its floats and leads, and its stakes or poles and anchors."""
    sides, floats, leads = len(guide.sides), guide.float_line, guide.lead_line
    mass, anchor, held = sides * leads.pieces * leads.mass, guide.spec.anchor, sides * guide.holds
    pieces = [
        Piece("floats", sides * floats.pieces, floats.each, None, (guide.floats_part,)),
        Piece("leads", sides * leads.pieces, leads.each, mass, (guide.leads_part,)),
    ]
    if held:
        pieces.append(Piece("poles" if anchor else "stakes", held, None, None, (guide.ends_part,)))
    if held and anchor:
        pieces.append(Piece("guide_anchors", held, None, held * anchor.weight, (), anchor.type))
    return tuple(pieces)


def hanging_twine(plan: Plan, twine: Twine) -> float:
    """Twine that hangs the netting on its lines [m]: along each line, and a hitch a mesh."""

    def along(guide: GuidePlan, line: LinePlan) -> float:
        return line.length + guide.spec.long * hitch_length(guide.spec.rope, twine.diameter)

    return sum(
        len(guide.sides) * along(guide, line)
        for guide in plan.guides
        for line in (guide.float_line, guide.lead_line)
    )
