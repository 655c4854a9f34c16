"""Where the netting between frames hangs slack: a line of bars that crosses a corner has a shorter way."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from net3d.checks.bow import slack_runs
from net3d.checks.checks import Finding
from net3d.checks.grading import graded
from net3d.handbook.hoops import hoop_materials
from net3d.netting.netting import Bools, Netting
from net3d.outline.response import Bent
from net3d.parts import Part
from net3d.plan.plan import HoopPlan, Plan, SectionPlan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import Shape
from net3d.water.hoops import frame_bent

SLACK = 0.02  # of an even share of the pull: a bar that carries less
NAMED = 4  # places that a message names


def check_frames(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """A finding a section that a frame stands at, two a frame, none for nets of round hoops."""
    bent = [
        finding
        for hoop in plan.hoops
        if hoop.is_frame
        for finding in _bent(spec, hoop, frame_bent(hoop, netting, shape.knot_positions, shape.bar_tensions))
    ]
    return bent + [
        _slack_corners(spec, plan, section, (netting, shape))
        for section in plan.sections
        if plan.frame_of(section) is not None and section.part not in plan.ribbed
    ]


def _bent(spec: NetSpec, hoop: HoopPlan, bent: Bent) -> Iterator[Finding]:
    """How far what is tied to a frame bends it, and what that stresses it by."""
    part, share = Part.hoop(hoop.number), bent.stress / hoop_materials()[hoop.material].strength
    most = spec.tape.length(max(bent.bow, bent.oval))
    bends = f"Hoop {hoop.number}: netting and lines bend the frame by {most}"
    yield graded(
        "frame-bend",
        part,
        max(bent.bow, bent.oval) / hoop.widest,
        spec.limits.threshold("hoop_bow"),
        (f"{bends}.", f"{bends}, and over years that stays. Take a thicker rod."),
    )
    loads = f"Hoop {hoop.number}: netting and lines load the {hoop.material} to {share:.0%} of its strength"
    yield graded(
        "frame-stress",
        part,
        share,
        spec.limits.threshold("hoop_stress"),
        (f"{loads}.", f"{loads}. Take a thicker rod."),
    )


def _slack_corners(spec: NetSpec, plan: Plan, section: SectionPlan, solved: tuple[Netting, Shape]) -> Finding:
    netting, shape = solved
    bars = netting.bars_of(section.part)
    ends = shape.knot_positions[netting.bars[bars]]
    loose = netting.bar_lengths[bars] - np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    found = shape.sections[section.from_hoop - 1]
    slack = shape.bar_tensions[bars] < SLACK * found.full_share
    where = section.part.place
    hoop = plan.frame_of(section) or plan.hoops[section.from_hoop - 1]
    most = max(float(loose[slack].max(initial=0.0)), 0.0)
    return graded(
        "frame-slack",
        section.part,
        float(slack.mean()),
        spec.limits.threshold("frame_slack"),
        (
            f"{where.capitalize()}: the frame leaves no part of the netting slack.",
            f"{where.capitalize()}: {slack.mean():.0%} of the bars carry nothing and hang loose by up to "
            f"{spec.tape.length(most)} a bar, by the marks of hoop {hoop.number}: "
            f"{_places(hoop, _meshes(netting, hoop, bars[slack]))}. A line of bars that crosses a corner has "
            "a shorter way, so that is how netting hangs on a frame, and no mistake in the tying: rib "
            "lines at the corners ([[line]]) would bear the pull.",
        ),
    )


def _meshes(netting: Netting, hoop: HoopPlan, bars: np.ndarray) -> Bools:
    """In which meshes around, the first behind the first mark, slack bars stand (N,)."""
    around = netting.knot_angles[netting.bars[bars]]
    middles = np.angle(np.exp(1j * around).sum(axis=1)) - hoop.row.phase
    meshes = (middles / hoop.row.pitch % hoop.row.count).astype(int) % hoop.row.count
    counts = np.bincount(meshes, minlength=hoop.row.count)
    return np.asarray(counts > counts.max(initial=0) / 2)


def _places(hoop: HoopPlan, meshes: Bools) -> str:
    """Runs of meshes by the marks between which they hang, longest first."""
    if meshes.all():
        return "all around"
    runs = []
    for count, hour in slack_runs(meshes.tolist())[:NAMED]:
        first = round(hour / 12 * hoop.row.count - count / 2)
        runs.append((first % hoop.row.count + 1, (first + count) % hoop.row.count + 1))
    return ", ".join(f"marks {first} to {last}" for first, last in sorted(runs))
