"""The main sizes of a net, for the first page and for the customer."""

from __future__ import annotations

from net3d.chain import Design
from net3d.drawings.hoop_words import size_text
from net3d.plan.guides import GuidePlan
from net3d.plan.plan import HoopPlan, Plan, ThroatPlan
from net3d.shop.amounts import netting_mass
from net3d.shop.escapes import escape_knots
from net3d.shop.guides import guide_knots

MADE = {"hand-tied": "knotted by hand in the round", "sheet": "cut from sheet netting and seamed"}


def size_facts(design: Design) -> tuple[tuple[str, str], ...]:
    """Everything that the maker wants to see at a glance."""
    spec, plan = design.spec, design.plan
    knots = plan.knots + sum(throat.knots for throat in plan.throats)
    knots += guide_knots(plan) + escape_knots(plan)
    return (
        *customer_facts(design),
        ("Made", MADE[spec.netting.made]),
        ("Sections", f"{', '.join(f'{section.meshes_deep:g}' for section in plan.sections)} meshes deep"),
        ("Knots", f"{knots:,} in netting that weighs {spec.tape.mass(netting_mass(plan))} undipped"),
        ("Pulled straight by", spec.tape.force(plan.pull)),
    )


def customer_facts(design: Design) -> tuple[tuple[str, str], ...]:
    """What a customer wants to know: length, hoops, netting, throats, tail."""
    spec, plan, shape = design.spec, design.plan, design.shape
    sure = spec.tape.either_way(shape.length_follows.either_way(spec.tolerances))
    length = f"{spec.tape.length(shape.length)} from the first hoop to the last, {sure} either way"
    tail = f", {design.spec.tape.length(shape.tail_end)} with the tail" if plan.tail_rows else ""
    facts = [
        ("Length", length + tail),
        ("Hoops", f"{len(plan.hoops)}, {_diameters(design)}"),
        ("Netting", f"{_netting(design, plan.stretched_mesh)}, twine {plan.twine.name}, {_around(plan)}"),
        *((f"Throat {throat.number}", _throat(design, throat)) for throat in plan.throats),
    ]
    if plan.tail_rows:
        facts.append(("Tail", f"{plan.tail_rows / 2:g} meshes deep, gathered by a drawstring"))
    facts += [(guide.part.title.capitalize(), _guide(design, guide)) for guide in plan.guides]
    if plan.pair:
        facts.append(("Pair", "two nets alike, mouth to mouth: sizes are of one, hours and price of both"))
    if spec.rigging.bridle is not None:
        legs = spec.rigging.bridle
        facts.append(("Bridle", f"{legs.legs} legs of {design.spec.tape.length(legs.length)}"))
    return tuple(facts)


def _guide(design: Design, guide: GuidePlan) -> str:
    tape, said = design.spec.tape, guide.spec
    two = "two, " if len(guide.sides) > 1 else ""
    two = "between two nets, " if said.pair else two
    return (
        f"{two}{tape.length(guide.float_line.length)} along the float line, "
        f"{tape.length(guide.height)} high, {_netting(design, said.stretched)}, twine {said.twine.name}"
    )


def _diameters(design: Design) -> str:
    hoops = design.plan.hoops
    if design.plan.framed:
        said = dict.fromkeys(size_text(design.spec.tape, hoop) for hoop in hoops)
        return f"{', then '.join(said)}; all outside, mouth to tail, {_materials(hoops)}"
    first, last = (design.spec.tape.length(hoop.outside_diameter) for hoop in (hoops[0], hoops[-1]))
    sizes = f"{first} across outside" if first == last else f"{first} to {last} across outside, mouth to tail"
    return f"{sizes}, {_materials(hoops)}"


def _materials(hoops: tuple[HoopPlan, ...]) -> str:
    return ", ".join(dict.fromkeys(hoop.material for hoop in hoops))


def _netting(design: Design, mesh: float) -> str:
    return f"{design.spec.tape.mesh(mesh)} stretched mesh ({design.spec.tape.mesh(mesh / 2)} bar)"


def _around(plan: Plan) -> str:
    counts = dict.fromkeys(hoop.meshes_around for hoop in plan.hoops)
    return f"{' to '.join(map(str, counts))} meshes around"


def _throat(design: Design, throat: ThroatPlan) -> str:
    style = design.spec.throats[throat.number - 1].style
    deep = len(throat.piece.changes) / 2
    return (
        f"{style}, on hoop {throat.hoop}, {deep:g} meshes deep, "
        f"{throat.piece.rows[0].count} meshes down to {throat.tip}"
    )
