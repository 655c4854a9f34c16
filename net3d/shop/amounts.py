"""What a net takes: every length of twine, rod and rope, and what it weighs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import Twine
from net3d.parts import ANCHOR_LINE, BRIDLE, TAIL, Part
from net3d.plan.escapes import ChimneyPlan
from net3d.plan.guides import GuidePlan
from net3d.plan.parts import has_anchor_line, planned_parts, refuse_missing
from net3d.plan.plan import HoopPlan, Plan, ThroatPlan
from net3d.shop import escapes
from net3d.shop.guides import guide_mass, hanging_twine, hitches, lines_of, pieces_of
from net3d.shop.lacing import lace
from net3d.shop.tubes import tubes
from net3d.spec.spec import NetSpec

SHEET_NETTING, DIP = "sheet_netting", "dip"


@dataclass(frozen=True)
class Amount:
    """One thing that a net takes. Lengths in m, masses in kg, None where they do not apply."""

    item: str  # key of what it is
    twine: Twine | None = None
    rod: tuple[str, float] | None = None  # material and thickness
    rope: float | None = None  # thickness
    pieces: int | None = None
    length: float | None = None  # of each, as it is in the net
    cut_length: float | None = None  # of each, with its ends
    knots: int | None = None
    total: float | None = None  # length in all, ends included
    mass: float | None = None
    parts: tuple[Part, ...] = ()  # of the net that it is for
    throat: int | None = None  # the one it is for alone
    guide: Part | None = None  # likewise
    escape: int | None = None  # likewise, by its number
    each: float | None = None  # what a float lifts or a lead weighs in water [N]
    made_of: str = ""  # type of an anchor


def hoop_rod_length(hoop: HoopPlan) -> float:
    """Rod in a hoop along the middle of the rod [m]: ``pi (D - rod)`` where it is round."""
    return hoop.outline.inner_girth(hoop.rod_diameter / 2)


def amounts(spec: NetSpec, plan: Plan, strings: Sequence[float] = ()) -> tuple[Amount, ...]:
    """What the net takes. ``strings`` are the lengths of every throat's strings, knot to knot [m].

    Without them throats' strings are left out, since how long they must be follows from the shape. Raises
    PartError where a part of the net is on no line of the list.
    """
    needed = (
        *_netting(spec, plan),
        *_lacing(spec, plan),
        *(
            _strings(spec, throat, length)
            for throat, length in zip(plan.throats, strings, strict=bool(strings))
        ),
        *(_tip_line(spec, throat) for throat in plan.throats if throat.tip_line is not None),
        *_rods(plan),
        *_ropes(spec, plan),
        *_guides(spec, plan),
        *_escapes(spec, plan),
        *_dip(spec, plan),
    )
    listed = [part for amount in needed for part in amount.parts]
    later = [] if strings else [throat.strings_part for throat in plan.throats]
    refuse_missing(planned_parts(spec, plan), [*listed, *later], "planned, and nothing on the list is for it")
    return needed


def netting_mass(plan: Plan) -> float:
    """Twine in the netting of body, throats, wings and leaders [kg]."""
    return plan.twine_mass + sum(throat.twine_mass for throat in plan.throats) + guide_mass(plan)


def string_count(throat: ThroatPlan) -> int:
    """Strings of a throat: one a tip mesh, or one a tie where a line runs through the tip."""
    return throat.tip if throat.tip_line is None else throat.strings.points


def _netting(spec: NetSpec, plan: Plan) -> list[Amount]:
    """Twine in the netting, by the twine."""
    item = SHEET_NETTING if spec.netting.made == "sheet" else "netting_twine"
    body = (*(section.part for section in plan.sections), *((TAIL,) if plan.tail else ()))
    knitted: list[tuple[Plan | ThroatPlan | GuidePlan | ChimneyPlan, tuple[Part, ...]]] = [(plan, body)]
    knitted += [(throat, (throat.part,)) for throat in plan.throats]
    knitted += [(guide, (guide.part,)) for guide in plan.guides for _ in guide.sides]
    knitted += [(one.chimney, (one.chimney_part,)) for one in plan.escapes if one.chimney]
    amounts = []
    for twine in dict.fromkeys(piece.twine for piece, _ in knitted):
        alike = [(piece, parts) for piece, parts in knitted if piece.twine == twine]
        length = sum(piece.twine_length for piece, _ in alike)
        amounts.append(
            Amount(
                item,
                twine=twine,
                knots=sum(piece.knots for piece, _ in alike),
                total=length,
                mass=length * twine.mass_per_length,
                parts=tuple(part for _, parts in alike for part in parts),
            )
        )
    return amounts


def _guides(spec: NetSpec, plan: Plan) -> list[Amount]:
    """Of each wing and leader its lines, floats, leads and stakes; the twine that hangs all of them."""
    found = [
        Amount(
            line.item,
            rope=line.rope,
            pieces=line.pieces,
            length=line.length,
            cut_length=line.cut_length,
            total=line.pieces * line.cut_length,
            parts=(line.part,),
            guide=guide.part,
        )
        for guide in plan.guides
        for line in lines_of(spec, guide)
    ]
    found += [
        Amount(
            piece.item,
            pieces=piece.pieces,
            each=piece.each,
            mass=piece.mass,
            parts=piece.parts,
            guide=guide.part,
            made_of=piece.made_of,
        )
        for guide in plan.guides
        for piece in pieces_of(guide)
    ]
    if found:
        twine = spec.lacing.twine
        length = hanging_twine(plan, twine)
        mass = length * twine.mass_per_length
        found.append(Amount("hanging_twine", twine=twine, knots=hitches(plan), total=length, mass=mass))
    return found


def _escapes(spec: NetSpec, plan: Plan) -> list[Amount]:
    """Of each way out its frames, lacing, lines, floats, and the thread that rots."""
    twine, end = spec.lacing.twine, spec.tape.roughly(allowance("string_end"))
    return [
        Amount(
            thing.item,
            twine=None if thing.item in escapes.BARE else twine,
            pieces=thing.pieces,
            length=thing.length,
            cut_length=thing.length and thing.length + (2 * end if thing.tied else 0.0),
            total=thing.length and thing.pieces * (thing.length + (2 * end if thing.tied else 0.0)),
            parts=thing.parts,
            escape=escape.spec.place,
            each=thing.each,
            rod=thing.rod,
        )
        for escape in plan.escapes
        for thing in escapes.things(escape, plan)
    ]


def _lacing(spec: NetSpec, plan: Plan) -> list[Amount]:
    twine = spec.lacing.twine
    rows = lace(plan, spec.lacing)
    length = sum(row.length for row in rows)
    laced = [
        Amount(
            "lacing_twine",
            twine=twine,
            knots=sum(row.hitches for row in rows),
            total=length,
            mass=length * twine.mass_per_length,
        )
    ]
    if spec.netting.made == "sheet":
        seamed = seam_twine(plan, twine)
        knots = sum(tube.seam_knots for tube in tubes(plan))
        laced.append(
            Amount("seam_twine", twine=twine, knots=knots, total=seamed, mass=seamed * twine.mass_per_length)
        )
    return laced


def seam_twine(plan: Plan, twine: Twine) -> float:
    """Twine in the seams of cut netting: along each, the meshes pulled long, and a knot at every pair [m]."""
    knot = allowance("seam_hitch_diameters") * twine.diameter
    return sum(tube.seam_length + tube.seam_knots * knot for tube in tubes(plan))


def _strings(spec: NetSpec, throat: ThroatPlan, length: float) -> Amount:
    count = string_count(throat)
    cut = length + 2 * spec.tape.roughly(allowance("string_end"))
    twine = throat.strings.twine
    return Amount(
        "strings",
        twine=twine,
        pieces=count,
        length=length,
        cut_length=cut,
        total=count * cut,
        mass=count * cut * twine.mass_per_length,
        parts=(throat.strings_part,),
        throat=throat.number,
    )


def _tip_line(spec: NetSpec, throat: ThroatPlan) -> Amount:
    assert throat.tip_line is not None
    cut = throat.tip_line + 2 * spec.tape.roughly(allowance("string_end"))
    twine = throat.strings.twine
    return Amount(
        "tip_line",
        twine=twine,
        pieces=1,
        length=throat.tip_line,
        cut_length=cut,
        total=cut,
        mass=cut * twine.mass_per_length,
        throat=throat.number,
    )


def _rods(plan: Plan) -> list[Amount]:
    alike: dict[tuple[str, float, float], list[Part]] = {}
    for hoop in plan.hoops:
        rod = (hoop.material, hoop.rod_diameter, hoop_rod_length(hoop))
        alike.setdefault(rod, []).append(Part.hoop(hoop.number))
    return [
        Amount(
            "hoop_rod",
            rod=(material, thickness),
            pieces=len(hoops),
            length=length,
            cut_length=length,
            total=len(hoops) * length,
            parts=tuple(hoops),
        )
        for (material, thickness, length), hoops in alike.items()
    ]


def _ropes(spec: NetSpec, plan: Plan) -> list[Amount]:
    """Bridle and lines with an eye at either end, and the drawstring as long as the open tail."""
    rigging = spec.rigging
    eyes = 2 * allowance("splice_diameters") * rigging.rope
    ropes: list[tuple[str, int, float, float, tuple[Part, ...]]] = []
    if rigging.bridle is not None:
        ropes.append(("bridle", rigging.bridle.legs, rigging.bridle.length, eyes, (BRIDLE,)))
    tied = 2 * spec.tape.roughly(allowance("string_end"))
    for rib in plan.ribs:
        ropes.append(("rib_line", len(rib.starts), rib.length, tied, (rib.part,)))
    if has_anchor_line(spec, plan):
        ropes.append(("anchor_line", 1, rigging.line, eyes, (ANCHOR_LINE,)))
    if plan.tail is not None:
        ropes.append(
            (
                "drawstring",
                1,
                plan.hoops[-1].circumference,
                spec.tape.roughly(allowance("drawstring_spare")),
                (),
            )
        )
    return [
        Amount(
            item,
            rope=rigging.rope,
            pieces=count,
            length=length,
            cut_length=length + ends,
            total=count * (length + ends),
            parts=parts,
        )
        for item, count, length, ends, parts in ropes
    ]


def _dip(spec: NetSpec, plan: Plan) -> list[Amount]:
    share = spec.stock.dip_share
    if not spec.stock.dipped or share is None:
        return []
    return [Amount(DIP, mass=share * netting_mass(plan))]
