"""What to change about netting on frames: lines at their corners that carry the pull past it."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.advice.trying import Case, Way
from net3d.checks.checks import Level

LINES = 4  # from a round hoop, which has no corners
LESS = (0.95, 0.9, 0.8)  # times a hanging ratio


def rib_lines(case: Case) -> Iterator[Way]:
    """Lines at the corners, through all sections in a row that hang slack."""
    slack = {
        finding.part.numbers[0]
        for finding in case.base.findings
        if finding.code == "frame-slack" and finding.level is not Level.OK and finding.part
    }
    first = last = case.numbers[0]
    while first - 1 in slack:
        first -= 1
    while last + 1 in slack:
        last += 1
    number = len(case.base.spec.lines) + 1
    count = {} if case.base.plan.hoops[first - 1].is_frame else {"count": LINES}
    yield [{f"line.{number}": {"from_hoop": first, "to_hoop": last + 1, **count}}]


def shorter_lines(case: Case) -> Iterator[Way]:
    """More netting hung on the lines."""
    section = case.numbers[0]
    rib = next(rib for rib in case.base.plan.ribs if rib.from_hoop == section)
    spec = case.base.spec
    number = next(n for n, line in enumerate(spec.lines, 1) if line.from_hoop <= section < line.to_hoop)
    yield [{f"line.{number}.hanging": round(times * rib.hanging, 2)} for times in LESS]
