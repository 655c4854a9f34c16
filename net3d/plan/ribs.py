"""Rib lines: how many, where on the tape, and how long between hoops."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.outline.curves import even
from net3d.plan.plan import HoopPlan, RibPlan, SectionPlan
from net3d.spec.hoops import LineSpec
from net3d.spec.spec import NetSpec

SHORTER = 0.95  # of what netting hangs on its hoops: common practice, no source


def plan_ribs(
    spec: NetSpec, hoops: tuple[HoopPlan, ...], sections: tuple[SectionPlan, ...]
) -> tuple[RibPlan, ...]:
    """The lines of every section that has some, mouth first."""
    ribs = [rib for line in spec.lines for rib in _ribs(spec, line, hoops, sections)]
    return tuple(sorted(ribs, key=lambda rib: rib.from_hoop))


def _ribs(
    spec: NetSpec, line: LineSpec, hoops: tuple[HoopPlan, ...], sections: tuple[SectionPlan, ...]
) -> Iterator[RibPlan]:
    """A line runs on along the same meshes where a hoop has no corners of its own."""
    arcs = even(line.count) if line.count else hoops[line.from_hoop - 1].outline.corners
    for section in sections[line.from_hoop - 1 : line.to_hoop - 1]:
        after = hoops[section.to_hoop - 1]
        corners = after.outline.corners
        on = corners if after.is_frame and line.count is None and len(corners) == len(arcs) else arcs
        hanging = line.hanging or _just_shorter(hoops, section)
        length = hanging * section.meshes_deep * spec.netting.stretched
        yield RibPlan(section.from_hoop, section.to_hoop, arcs, on, hanging, length)
        arcs = on


def _just_shorter(hoops: tuple[HoopPlan, ...], section: SectionPlan) -> float:
    """A hanging ratio a little below what netting has by itself where it is hung widest, to a hundredth."""
    return round(
        SHORTER * min(hoops[place - 1].depth_ratio for place in (section.from_hoop, section.to_hoop)), 2
    )
