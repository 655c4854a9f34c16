"""What to change about wings and leader; a function a kind of finding."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.advice.amounts import typed_length
from net3d.advice.trying import Case, Way
from net3d.checks.anchors import weight_sold
from net3d.handbook.anchors import holdings
from net3d.handbook.rope import sold_sizes
from net3d.plan.guides import GuidePlan
from net3d.water.guides import line_to_anchor

MORE = (1.5, 2.0, 3.0, 5.0, 8.0)  # times as many floats, as heavy leads
LOOSER = (1.5, 2.5, 4.0)  # times the slack


def more_floats(case: Case) -> Iterator[Way]:
    """So many more floats of the same lift; where leads are typed, as many times their weight."""
    guide = _guide(case)
    floats = guide.float_line
    yield [
        {
            f"{guide.spec.table}.floats": round(times * floats.pieces),
            f"{guide.spec.table}.float_lift": case.base.spec.tape.force(floats.each),
            **(_heavier(case, times) if guide.spec.lead_weight else {}),
        }
        for times in MORE
        if floats.each > 0
    ]


def heavier_leads(case: Case) -> Iterator[Way]:
    """Heavier leads, as many."""
    yield [_heavier(case, times) for times in MORE]


def thicker_line(case: Case) -> Iterator[Way]:
    """Thicker rope for its lines."""
    guide, rigging, tape = _guide(case), case.base.spec.rigging, case.base.spec.tape
    thicker = [
        size for size in sold_sizes(rigging.rope_material, tape) if size > guide.spec.rope * (1 + 1e-6)
    ]
    yield [{f"{guide.spec.table}.rope": tape.thickness(size)} for size in thicker[:5]]


def heavier_anchor(case: Case) -> Iterator[Way]:
    """A heavier anchor of its kind, another kind, a longer line where it is steep."""
    guide, spec, tape = _guide(case), case.base.spec, case.base.spec.tape
    standing = [one for row in case.base.loads for one in row.guides if one.wall.plan is guide]
    lines = [line for one in standing if (line := line_to_anchor(spec, one))]
    if guide.spec.anchor is None or not lines:
        return
    line, table = max(lines, key=lambda line: line.pull), f"{guide.spec.table}.anchor"
    weights = {
        holding.type: weight_sold(spec, holding, line.pull, line.rise)
        for holding in holdings()
        if holding.bottom == spec.water.bottom
    }
    if guide.spec.anchor.type in weights:
        yield [{f"{table}.weight": tape.mass(weights[guide.spec.anchor.type])}]
    others = sorted((weight, kind) for kind, weight in weights.items() if kind != guide.spec.anchor.type)
    yield [{f"{table}.type": kind, f"{table}.weight": tape.mass(weight)} for weight, kind in others[:1]]
    if line.is_steep:
        yield [{f"{table}.line": typed_length(tape, tape.sold_run(line.gentle_length))}]


def driven_stakes(case: Case) -> Iterator[Way]:
    """Stakes, which need no line."""
    yield [{f"{_guide(case).spec.table}.anchor": None}]


def more_slack(case: Case) -> Iterator[Way]:
    """More slack in its lines: they belly further, and pull less."""
    guide = _guide(case)
    yield [{f"{guide.spec.table}.slack": round(times * guide.spec.slack, 4)} for times in LOOSER]


def _heavier(case: Case, times: float) -> dict[str, object]:
    guide = _guide(case)
    return {
        f"{guide.spec.table}.leads": guide.lead_line.pieces,
        f"{guide.spec.table}.lead_weight": case.base.spec.tape.mass(times * guide.lead_line.mass),
    }


def _guide(case: Case) -> GuidePlan:
    return next(guide for guide in case.base.plan.guides if guide.part == case.finding.part)
