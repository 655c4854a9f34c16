"""The loads sheet: what the river pulls on a net, and what published models say of it."""

from __future__ import annotations

from net3d.chain import Design
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted
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
    columns = (
        Column("current", "current", "speed"),
        Column("drag_low", "drag, low", "force"),
        Column("drag", "drag", "force"),
        Column("drag_high", "drag, high", "force"),
        Column("length", "net long", "reading"),
        Column("waist", "waist", "reading"),
        Column("line_tension", "anchor line", "force"),
        Column("anchor_pull_high", "anchor, at the high drag", "force"),
        Column("leg_tension", "one bridle leg", "force"),
        Column("twine_tension", "tightest bar", "force"),
        Column("twine_share", "of its strength"),
        Column("twine_part", "in"),
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
    notes = (*_notes(design), *noted("caution", *RIVER_CAUTIONS))
    title = f"{design.spec.title}: what the river pulls"
    return Sheet("loads", title, design.spec.tape, columns, cells, notes)


def _notes(design: Design) -> tuple[Note, ...]:
    spec = design.spec
    end = "tail" if spec.rigging.anchor == "tail" else "mouth"
    debris = f"{spec.water.blocked:.0%} of the meshes blocked, {spec.water.caught:.0%} of the outline covered"
    sideways = (
        ("Hoops stay where they stand and square to the net: the bottom holds them sideways.",)
        if spec.water.angle
        else ()
    )
    return noted(
        "how",
        *sideways,
        f"Current from the anchored {end} along the net, {spec.water.angle:g} degrees off in plan; {debris}. "
        f"{spec.tape.force(spec.rigging.pull)} hold the other end back; the anchor bears that too.",
        "Low and high are the least and the most of the published models that fit; between them every bar, "
        "string, line and hoop counts as a cylinder. Take it for a range, and plan by the high one.",
    )


def models_sheet(design: Design, rows: Rows) -> Sheet:
    """What every model says in every current, and which of them fit."""
    columns = (
        Column("model", "model"),
        *current_columns(design, rows, ("drag", "force")),
        Column("range", "its range"),
    )
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
    notes = (*noted("fact", *left), *noted("source", *sources))
    return Sheet("models", f"{design.spec.title}: drag by model", design.spec.tape, columns, cells, notes)


def current_columns(design: Design, rows: Rows, held: tuple[str, str]) -> tuple[Column, ...]:
    """A column for each current of what holds in it; ``held``: key and kind of that."""
    tape = design.spec.tape
    return tuple(
        Column(key=held[0], heading=f"at {tape.speed(loads.current)}", kind=held[1], number=number)
        for number, loads in enumerate(rows, start=1)
    )
