"""The loads sheet: what the river pulls on a net, and what published models say of it."""

from __future__ import annotations

from net3d.chain import Design
from net3d.tables.sheet import Cell, Column, Sheet
from net3d.water.loads import Loads

Rows = tuple[Loads, ...]

RIVER_CAUTIONS = (
    "A river in flood runs twice as fast and faster, and pulls with the square of that: lift the net before.",
    "Leaves, grass and drift fill meshes within hours and can pull more than the net: see blocked and caught "
    "in [water].",
    "Never a line around the body or a hand, never stand in a bight, and keep a knife in reach: a net that "
    "the current takes holds whoever is tangled in it.",
    "How gear may be anchored, lit and marked is in the local code: look it up first.",
)


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
            loads.twine_part.name,
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
