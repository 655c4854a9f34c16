"""The loads sheet: what the river pulls on a net, and what published models say of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from net3d.chain import Design
from net3d.errors import ShapeError
from net3d.statics.settle import GOOD
from net3d.tables.sheet import Cell, Column, Sheet
from net3d.water.holding import anchor_needs
from net3d.water.loads import Loads, loads_in

Rows = tuple[Loads, ...]

RIVER_CAUTIONS = (
    "A river in flood runs twice as fast and faster, and pulls with the square of that: lift the net before.",
    "Leaves, grass and drift fill meshes within hours and can pull more than the net: see blocked and caught "
    "in [water].",
    "Never a line around the body or a hand, never stand in a bight, and keep a knife in reach: a net that "
    "the current takes holds whoever is tangled in it.",
    "How gear may be anchored, lit and marked is in the local code: look it up first.",
)


def loads_of(
    design: Design, currents: tuple[float, ...], announce: Callable[[str], None] = lambda text: None
) -> Rows:
    """The loads on a net in other currents than those of its spec [m/s]; slowest first.

    Raises ShapeError where the net has no shape in still water to begin from.
    """
    if design.shape.state not in GOOD:
        raise ShapeError(f"No loads without a shape. {design.shape.state.sentence}")
    chosen = tuple(sorted(set(currents)))
    return loads_in(design.spec, design.plan, (design.netting, design.shape), chosen, announce)


def load_records(rows: Rows) -> list[dict[str, Any]]:
    """Loads as names and plain numbers in SI."""
    return [
        {
            "current_mps": loads.current,
            "angle_rad": loads.standing.stream.angle,
            "drag_low_N": loads.drag_low,
            "drag_N": loads.drag,
            "drag_high_N": loads.drag_high,
            "drag_vector_N": loads.standing.drag.total.tolist(),
            "models": [
                {"name": m.name, "drag_N": m.drag, "counts": m.counts, "remark": m.remark, "source": m.source}
                for m in loads.models
            ],
            "state": loads.standing.state.value,
            "still": loads.standing.still,
            "length_m": loads.standing.length,
            "waist_diameter_m": loads.waist,
            "anchor_pull_N": loads.anchor_pull,
            "anchor_pull_high_N": loads.anchor_pull_high,
            "anchors": [
                {"type": need.holding.type, "bottom": need.holding.bottom, "weight_kg": need.weight}
                for need in anchor_needs(loads.anchor_pull_high, loads.line.rise if loads.line else 0.0)
            ],
            "line_tension_N": loads.line_tension,
            "line_needed_strength_N": loads.line.needed_strength if loads.line else None,
            "line_strength_N": loads.line.strength if loads.line else None,
            "leg_tension_N": loads.leg_tension,
            "twine_part": loads.twine_part,
            "twine_tension_N": loads.twine_tension,
            "twine_share": loads.twine_share,
            "hoops": [
                {
                    "number": hoop.number,
                    "line_load_N_per_m": hoop.line_load,
                    "compression_N": hoop.compression,
                    "buckling_factor": hoop.buckling_factor,
                    "legs": hoop.legs.count if hoop.legs else None,
                    "bow_m": hoop.legs.bow if hoop.legs else None,
                    "stress_Pa": hoop.legs.stress if hoop.legs else None,
                }
                for hoop in loads.hoops
            ],
        }
        for loads in rows
    ]


def loads_sheet(design: Design, rows: Rows) -> Sheet:
    """Drag, shape, line, legs and twine in every current, with the cautions that go with them."""
    tape, units, step = design.spec.tape, design.spec.units, design.spec.marking.round
    force, speed = tape.unit("force"), tape.unit("speed")
    columns = (
        Column("current", speed),
        Column("drag, low", force),
        Column("drag", force),
        Column("drag, high", force),
        Column("net long", units, step),
        Column("waist", units, step),
        Column("anchor line", force),
        Column("anchor, at the high drag", force),
        Column("one bridle leg", force),
        Column("tightest bar", force),
        Column("of its strength"),
        Column("in"),
    )
    cells = tuple(
        (
            loads.current,
            loads.drag_low,
            loads.drag,
            loads.drag_high,
            loads.standing.length,
            loads.waist,
            loads.line_tension or loads.anchor_pull,
            loads.anchor_pull_high,
            loads.leg_tension or None,
            loads.twine_tension,
            f"{loads.twine_share:.1%}",
            loads.twine_part,
        )
        for loads in rows
    )
    notes = (*_notes(design), *RIVER_CAUTIONS)
    return Sheet("loads", f"{design.spec.title}: what the river pulls", columns, cells, notes)


def _notes(design: Design) -> tuple[str, ...]:
    spec = design.spec
    end = "tail" if spec.rigging.anchor == "tail" else "mouth"
    debris = f"{spec.water.blocked:.0%} of the meshes blocked, {spec.water.caught:.0%} of the outline covered"
    sideways = (
        ("Hoops stay where they stand and square to the net: the bottom holds them sideways.",)
        if spec.water.angle
        else ()
    )
    return (
        *sideways,
        f"Current from the anchored {end} along the net, {spec.water.angle:g} degrees off in plan; {debris}. "
        f"{spec.tape.force(spec.rigging.pull)} hold the other end back; the anchor bears that too.",
        "Low and high are the least and the most of the published models that fit; between them every bar, "
        "string, line and hoop counts as a cylinder. Take it for a range, and plan by the high one.",
    )


def models_sheet(design: Design, rows: Rows) -> Sheet:
    """What every model says in every current, and which of them fit."""
    force = design.spec.tape.unit("force")
    columns = (Column("model"), *(speed_column(design, loads, force) for loads in rows), Column("its range"))
    cells: tuple[tuple[Cell, ...], ...] = tuple(
        (
            model.name,
            *(loads.models[number].drag for loads in rows),
            "fits" if model.counts else "left",
        )
        for number, model in enumerate(rows[-1].models)
    )
    left = [f"{model.name}: {model.remark}." for model in rows[-1].models if model.remark]
    sources = dict.fromkeys(model.source for model in rows[-1].models)
    return Sheet("models", f"{design.spec.title}: drag by model", columns, cells, (*left, *sources))


def speed_column(design: Design, loads: Loads, unit: str) -> Column:
    """A column of what holds in one current."""
    return Column(f"at {design.spec.tape.speed(loads.current)}", unit)
