"""The loads sheet: what the river pulls on a net, and what published models say of it."""

from __future__ import annotations

from net3d.chain import Design
from net3d.checks.anchors import anchor_text
from net3d.spec.spec import NetSpec
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
    """What the river pulls in every current and which anchor holds it, then what bears it; cautions."""
    anchor = design.spec.anchor
    columns = (
        Column("current", "current", "speed"),
        Column("drag_low", "the river pulls, low", "force"),
        Column("drag", "drag", "force"),
        Column("drag_high", "high", "force"),
        Column("anchor_pull_high", "the anchor bears, up to", "force"),
        Column(
            "anchor", f"your {anchor.type} holds" if anchor else f"lightest on {design.spec.water.bottom}"
        ),
        Column("line_tension", "anchor line", "force"),
        Column("leg_tension", "one bridle leg", "force"),
        Column("twine_tension", "tightest bar", "force"),
        Column("twine_share", "of its strength"),
        Column("twine_part", "in"),
        Column("length", "net long", "reading"),
        Column("waist", "waist", "reading"),
        Column("guide_drag", "wings and leader pull", "force"),
        Column("set_drag", "both nets and all between", "force"),
    )
    cells = tuple(
        (
            loads.current,
            loads.drag_low,
            loads.drag,
            loads.drag_high,
            loads.anchor_pull_high,
            anchor_text(design.spec, loads),
            loads.line_tension or loads.anchor_pull,
            loads.leg_tension or None,
            loads.twine_tension,
            f"{loads.twine_share:.1%}",
            loads.twine_part.name,
            loads.standing.length,
            loads.waist,
            loads.guide_drag if loads.guides else None,
            loads.set_drag,
        )
        for loads in rows
    )
    notes = (*_notes(design, rows[-1]), *noted("caution", *RIVER_CAUTIONS))
    title = f"{design.spec.title}: what the river pulls"
    return Sheet("loads", title, design.spec.tape, columns, cells, notes)


def _notes(design: Design, loads: Loads) -> tuple[Note, ...]:
    spec = design.spec
    end = "tail" if spec.rigging.anchor == "tail" else "mouth"
    debris = f"{spec.water.blocked:.0%} of the meshes blocked, {spec.water.caught:.0%} of the outline covered"
    sideways = (
        ("Hoops stay where they stand and square to the net: the bottom holds them sideways.",)
        if spec.water.angle
        else ()
    )
    both = (
        (
            "The anchor bears what the river pulls along both nets of the pair, since the net down the "
            "stream hangs on the one up the stream: give each net such an anchor, for the river may turn.",
        )
        if loads.set_drag is not None
        else ()
    )
    kinds = loads.range.kinds
    telling = (
        f"the models that count ({', '.join(kinds)})"
        if len(kinds) > 1
        else "all models, since one alone fits"
    )
    held = "Nothing but the current stretches the net"
    if spec.rigging.pull:
        held = f"{spec.tape.force(spec.rigging.pull)} hold the other end back; the anchor bears that too"
    return noted(
        "how",
        f"Low and high are the least and the most of {telling}; drag is by {loads.models[0].name}, and so "
        "is the shape. Take it for a range, and plan by the high one.",
        _meant(spec, loads),
        *sideways,
        *both,
        f"Current from the anchored {end} along the net, {spec.water.angle:g} degrees off in plan; {debris}. "
        f"{held}.",
    )


def _meant(spec: NetSpec, loads: Loads) -> str:
    """Where the currents are meant, and how fast the water runs at the net."""
    if spec.water.depth is None or spec.water.current_at == "net":
        return (
            "Currents are those of the water at the net. It runs faster at the surface: measure at the "
            "bottom, or say where with current_at and depth in [water]."
        )
    place = {"mean": "the mean over", "surface": "those at the surface of"}[spec.water.current_at]
    share = loads.standing.stream.speed / loads.current
    return (
        f"Currents are {place} {spec.tape.length(spec.water.depth)} of water; at the net it runs "
        f"{share:.2f} of that, by the logarithmic law over the bed."
    )


def models_sheet(design: Design, rows: Rows) -> Sheet:
    """What every model says in every current, by what it is, and which of them count."""
    columns = (
        Column("model", "model"),
        *current_columns(design, rows, ("drag", "force")),
        Column("range", "counts"),
    )
    cells: tuple[tuple[Cell, ...], ...] = tuple(
        (
            model.name,
            *(loads.models[number].drag for loads in rows),
            "counts" if model.counts else "shown, and does not count",
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
