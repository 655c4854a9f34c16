"""What has to bear the river's pull: anchor and line, hoops, bridle, netting."""

from __future__ import annotations

import numpy as np

from net3d.chain import Design
from net3d.checks.anchors import CARRIED, sold_weight
from net3d.checks.ropes import bearing_line
from net3d.handbook.anchors import Holding, anchor_types, find_holding, holdings
from net3d.handbook.water import water_constant
from net3d.netting.carriers import rod_of
from net3d.tables.loads import current_columns
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted
from net3d.water.cylinders import twine_area
from net3d.water.holding import AnchorLine, holding_factor
from net3d.water.hoops import COMPARED_LEGS, HoopLoad, held_by, leg_pull
from net3d.water.loads import Loads
from net3d.water.models import caught_solidity

SHOWN = 3  # currents in a table of anchors


def anchors_sheet(design: Design, rows: tuple[Loads, ...]) -> Sheet:
    """How the anchor of the spec holds, then what every kind must weigh in air, on its bottom."""
    few = _few(rows)
    columns = (
        Column("anchor", f"anchor on {design.spec.water.bottom}"),
        Column("holds", "holds"),
        *current_columns(design, few, ("weight", "")),
    )
    needed = tuple(_needed_row(design, few, holding) for holding in _holdings_on(design))
    cells = (*_own_anchor_row(design, few), *needed)
    title = f"{design.spec.title}: the anchor, weight in air"
    return Sheet("anchors", title, design.spec.tape, columns, cells, _anchor_notes(design, rows))


def _few(rows: tuple[Loads, ...]) -> tuple[Loads, ...]:
    """Three currents at most: of many a slow one, a middle one and the last."""
    if len(rows) <= SHOWN:
        return rows
    return rows[len(rows) // 4 - 1], rows[len(rows) // 2 - 1], rows[-1]


def _holdings_on(design: Design) -> tuple[Holding, ...]:
    return tuple(holding for holding in holdings() if holding.bottom == design.spec.water.bottom)


def _own_anchor_row(design: Design, rows: tuple[Loads, ...]) -> tuple[tuple[Cell, ...], ...]:
    """What the anchor that the spec names holds, over what it is pulled with; no row without one."""
    spec = design.spec
    if spec.anchor is None:
        return ()
    own = (spec.anchor.type, spec.water.bottom, spec.anchor.weight)
    factors = [
        holding_factor(loads.anchor_pull_high, loads.line.rise if loads.line else 0.0, own) for loads in rows
    ]
    return (
        (
            f"yours: {spec.anchor.type} of {spec.tape.mass(spec.anchor.weight)}",
            _range_text(find_holding(*own[:2])),
            *("nothing" if factor is None else f"{factor:.1f} times the pull" for factor in factors),
        ),
    )


def _needed_row(design: Design, rows: tuple[Loads, ...], holding: Holding) -> tuple[Cell, ...]:
    tape = design.spec.tape
    weights = [sold_weight(design.spec, loads, holding) for loads in rows]
    over = f"over {tape.mass(tape.sold_mass(CARRIED))}"
    return (
        holding.type,
        _range_text(holding),
        *(over if weight > CARRIED else tape.mass(weight) for weight in weights),
    )


def _range_text(holding: Holding | None) -> str:
    return "nothing" if holding is None else f"{holding.least:g} to {holding.most:g}"


def _anchor_notes(design: Design, rows: tuple[Loads, ...]) -> tuple[Note, ...]:
    """How the weights were worked out, and the line."""
    spec, line = design.spec, rows[-1].line
    limit = spec.limits.threshold("anchor_hold")
    found = {holding.type for holding in _holdings_on(design)}
    missing = [kind for kind in anchor_types() if kind not in found]
    factor = max(limit.caution, water_constant("safety_anchor"))
    notes = [
        f"Each holds, at the least of its range, {factor:g} times the pull and the highest drag together, "
        "and is rounded up to a weight that is sold. Deadweights: friction on their weight in water; others: "
        "a multiple of their weight in air, once dug in and pulled along the bottom. All but the concrete "
        "block on sand are common practice, no source.",
        *([f"Nothing to rely on here: {', '.join(missing)}."] if missing else []),
    ]
    if line is not None:
        notes.append(_line_note(design, rows[-1], line))
    return noted("fact", *notes)


def _line_note(design: Design, loads: Loads, line: AnchorLine) -> str:
    tape, safety = design.spec.tape, water_constant("safety_line")
    bearing = bearing_line(tape, line, safety)
    size = tape.thickness(bearing.rope.diameter) if bearing else "no size that is sold"
    return (
        f"Anchor line of {tape.length(line.length)}: scope {line.scope:.1f} to 1. At "
        f"{tape.speed(loads.current)} it pulls with up to {tape.force(line.tension)}. With a safety factor "
        f"of {safety:g} it takes {line.rope.material} that breaks, wet and {line.rope.ends}, at "
        f"{tape.force(line.needed_strength)}: {size}. Yours breaks at {tape.force(line.rope.strength)}; new "
        f"and straight at {tape.force(line.rope.new_strength)} or more."
    )


def _ring_words(hoop: HoopLoad) -> tuple[str, str]:
    """At how many times what squeezes it a hoop buckles, and how a ring was stressed when sprung in."""
    factor = f"{hoop.buckling_factor:.3g}" if hoop.buckling_factor < 1000 else "over 1000"
    return factor, "" if hoop.is_frame else f"{hoop.sprung_stress / hoop.strength:.0%}"


def hoops_sheet(design: Design, loads: Loads) -> Sheet:
    """What the netting does to every hoop in one current."""
    tape = design.spec.tape
    columns = (
        Column("hoop", "hoop"),
        Column("material", "material"),
        Column("compression", "squeezed with", "force"),
        Column("buckling_factor", "buckles at, times that"),
        Column("sprung_share", "sprung stress, of strength"),
    )
    cells = tuple(
        (
            hoop.number,
            hoop.material,
            max(hoop.compression, 0.0),
            *_ring_words(hoop),
        )
        for hoop in loads.hoops
    )
    speed = tape.speed(loads.current)
    notes = noted(
        "how",
        "Squeezed: ring compression by the inward pull of the netting, q R; it buckles at q = 3 E I / R^3, "
        "and a frame where its own shape folds.",
        "Sprung stress: what a straight rod carries once it is sprung into the hoop; none in a hoop that was "
        "bent hot, steamed or rolled, and less in one that has stood for years.",
    )
    return Sheet("hoops", f"{design.spec.title}: hoops at {speed}", tape, columns, cells, notes)


def legs_sheet(design: Design, loads: Loads) -> Sheet | None:
    """The mouth hoop on 2, 3, 4 and 6 legs side by side; None without a bridle, or where it is a frame."""
    spec, bridle = design.spec, design.spec.rigging.bridle
    if bridle is None or design.plan.hoops[0].is_frame:
        return None
    rod = rod_of(design.plan.hoops[0])
    standing = loads.standing
    pull = leg_pull(design.netting, standing.positions, standing.tensions)
    counts = sorted({*COMPARED_LEGS, bridle.legs})
    held = [held_by(rod, pull, count, bridle.length) for count in counts]
    columns = (
        Column("legs", "legs"),
        Column("bow", "bow between legs", "thickness"),
        Column("bow_share", "of the diameter"),
        Column("stress", "largest stress", "stress"),
        Column("stress_share", "of its strength"),
    )
    cells = tuple(
        (
            legs.count,
            legs.bow,
            f"{legs.bow / design.plan.hoops[0].outside_diameter:.2%}",
            legs.stress,
            f"{legs.stress / rod.material.strength:.1%}",
        )
        for legs in held
    )
    title = f"{spec.title}: hoop 1, {rod.material.name}, pulled with {spec.tape.force(pull)}"
    notes = noted(
        "how",
        "Bow: how far the hoop stands out half-way between two legs, elastic and at once. Under a lasting "
        "load wood and plastic creep, so the bow grows over the years: that is what a bridle does to a hoop.",
    )
    return Sheet("legs", title, spec.tape, columns, cells, notes)


def netting_sheet(design: Design, loads: Loads) -> Sheet:
    """Twine area and solidity of every piece of netting as it stands in one current."""
    bands = loads.standing.bands
    with_debris = caught_solidity(bands, loads.standing.stream)
    columns = (
        Column("part", "part"),
        Column("outline", "outline", "area"),
        Column("twine", "twine and knots", "area"),
        Column("solidity", "solidity"),
        Column("solidity_with_debris", "with debris"),
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
                outline,
                float(twine),
                f"{solidity:.3f}",
                f"{covered:.3f}",
            )
        )
    title = f"{design.spec.title}: netting in the flow"
    return Sheet("netting", title, design.spec.tape, columns, tuple(cells))
