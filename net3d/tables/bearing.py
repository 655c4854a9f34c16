"""What has to bear the river's pull: anchor and line, hoops, bridle, netting."""

from __future__ import annotations

import numpy as np

from net3d.chain import Design
from net3d.checks.river import rope_size
from net3d.handbook.anchors import anchor_types, bottoms, holdings
from net3d.handbook.water import water_constant
from net3d.tables.loads import speed_column
from net3d.tables.sheet import Cell, Column, Sheet
from net3d.water.cylinders import twine_area
from net3d.water.holding import anchor_needs
from net3d.water.hoops import COMPARED_LEGS, held_by, leg_pull, rod_of
from net3d.water.loads import Loads
from net3d.water.models import caught_solidity


def anchors_sheet(design: Design, rows: tuple[Loads, ...]) -> Sheet:
    """What every type of anchor on every bottom must weigh in air, in every current."""
    mass = design.spec.tape.unit("mass")
    needs = [anchor_needs(loads.anchor_pull_high, loads.line.rise if loads.line else 0.0) for loads in rows]
    columns = (
        Column("anchor"),
        Column("bottom"),
        Column("holds"),
        *(speed_column(design, loads, mass) for loads in rows),
    )
    cells: tuple[tuple[Cell, ...], ...] = tuple(
        (
            need.holding.type,
            need.holding.bottom,
            f"{need.holding.least:g} to {need.holding.most:g}",
            *(column[number].weight for column in needs),
        )
        for number, need in enumerate(needs[0])
    )
    return Sheet(
        "anchors",
        f"{design.spec.title}: anchor needed, weight in air",
        columns,
        cells,
        _anchor_notes(design, rows),
    )


def _anchor_notes(design: Design, rows: tuple[Loads, ...]) -> tuple[str, ...]:
    """How the weights were worked out, and the line."""
    safety, line = water_constant("safety_anchor"), rows[-1].line
    missing = [
        f"{kind} on {bottom}"
        for kind in anchor_types()
        for bottom in bottoms()
        if not any((need.type, need.bottom) == (kind, bottom) for need in holdings())
    ]
    notes = [
        f"Each holds, at the least of its range, {safety:g} times the pull and the highest drag together. "
        "Deadweights: friction on their weight in water; others: a multiple of their weight in air, once dug "
        "in and pulled along the bottom. All but the concrete block on sand are common practice, no source.",
        f"Nothing to rely on: {', '.join(missing)}.",
    ]
    if line is not None:
        tape = design.spec.tape
        speed = tape.speed(rows[-1].current)
        rope = rope_size(line.needed_diameter, tape)
        notes.append(
            f"Anchor line of {tape.length(design.spec.rigging.line)}: scope {line.scope:.1f} to 1. "
            f"At {speed} it pulls with up to {tape.force(line.tension)}; with a safety factor of "
            f"{water_constant('safety_line'):g} it takes rope that breaks at "
            f"{tape.force(line.needed_strength)}, polypropylene of {rope}; "
            f"yours breaks at {tape.force(line.strength)}."
        )
    return tuple(notes)


def hoops_sheet(design: Design, loads: Loads) -> Sheet:
    """What the netting does to every hoop in one current."""
    tape = design.spec.tape
    force = tape.unit("force")
    columns = (
        Column("hoop"),
        Column("material"),
        Column("squeezed with", force),
        Column("buckles at, times that"),
        Column("sprung stress, of strength"),
    )
    cells = tuple(
        (
            hoop.number,
            hoop.material,
            max(hoop.compression, 0.0),
            f"{hoop.buckling_factor:.3g}" if hoop.buckling_factor < 1000 else "over 1000",
            f"{hoop.sprung_stress / hoop.strength:.0%}",
        )
        for hoop in loads.hoops
    )
    speed = tape.speed(loads.current)
    notes = (
        "Squeezed: ring compression by the inward pull of the netting, q R; it buckles at q = 3 E I / R^3.",
        "Sprung stress: what a straight rod carries once it is sprung into the hoop; none in a hoop that was "
        "bent hot, steamed or rolled.",
    )
    return Sheet("hoops", f"{design.spec.title}: hoops at {speed}", columns, cells, notes)


def legs_sheet(design: Design, loads: Loads) -> Sheet | None:
    """The mouth hoop on 2, 3, 4 and 6 legs side by side; None without a bridle."""
    spec, bridle = design.spec, design.spec.rigging.bridle
    if bridle is None:
        return None
    rod = rod_of(design.plan.hoops[0])
    standing = loads.standing
    pull = leg_pull(design.netting, standing.positions, standing.tensions)
    counts = sorted({*COMPARED_LEGS, bridle.legs})
    held = [held_by(rod, pull, count, bridle.length) for count in counts]
    columns = (
        Column("legs"),
        Column("bow between legs", spec.tape.unit("thickness")),
        Column("of the diameter"),
        Column("largest stress (MPa)"),
        Column("of its strength"),
    )
    cells = tuple(
        (
            legs.count,
            legs.bow,
            f"{legs.bow / design.plan.hoops[0].outside_diameter:.2%}",
            f"{legs.stress / 1e6:.1f}",
            f"{legs.stress / rod.material.strength:.1%}",
        )
        for legs in held
    )
    title = f"{spec.title}: hoop 1, {rod.material.name}, pulled with {spec.tape.force(pull)}"
    notes = (
        "Bow: how far the hoop stands out half-way between two legs, elastic and at once. Under a lasting "
        "load wood and plastic creep, so the bow grows over the years: that is what a bridle does to a hoop.",
    )
    return Sheet("legs", title, columns, cells, notes)


def netting_sheet(design: Design, loads: Loads) -> Sheet:
    """Twine area and solidity of every piece of netting as it stands in one current."""
    bands, tape = loads.standing.bands, design.spec.tape
    area = tape.unit("area")
    with_debris = caught_solidity(bands, loads.standing.stream)
    columns = (
        Column("part"),
        Column(f"outline ({area})"),
        Column(f"twine and knots ({area})"),
        Column("solidity"),
        Column("with debris"),
    )
    cells = []
    for part, twine in twine_area(design.netting, bands).items():
        own = np.flatnonzero(bands.parts == design.netting.number_of(part))
        outline = float(bands.areas[own].sum())
        solidity = float(np.average(bands.solidity[own], weights=bands.areas[own]))
        covered = float(np.average(with_debris[own], weights=bands.areas[own]))
        cells.append(
            (
                part.name,
                f"{tape.number(outline, 'area'):.3g}",
                f"{tape.number(twine, 'area'):.3g}",
                f"{solidity:.3f}",
                f"{covered:.3f}",
            )
        )
    return Sheet("netting", f"{design.spec.title}: netting in the flow", columns, tuple(cells))
