"""Where around the net the netting between hoops that are not flat or not round carries nothing."""

from __future__ import annotations

import numpy as np

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.netting.netting import Floats, Netting
from net3d.outline.pose import Pose, bow_left
from net3d.outline.waves import Waves
from net3d.parts import Part
from net3d.plan.plan import HoopPlan, Plan, SectionPlan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import SectionShape, Shape

NOTHING = 0.1  # of an even share: less than this is next to nothing
RINGS = "elastic rings: Love, Mathematical Theory of Elasticity, article 293 (from memory)"
NAMED = 3  # runs of slack meshes that a message names


def check_bow(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """A finding a section and one for the net where any hoop is bowed or oval, none where all are true."""
    if not any(not hoop.is_true for hoop in plan.hoops):
        return []
    findings = [
        _slack_side(spec, section, tensions_around(plan, section, netting, shape))
        for section in plan.sections
    ]
    measured = [
        _measured(spec, number, kind, waves)
        for number, hoop in enumerate(plan.hoops, start=1)
        for kind, waves in (("gaps", hoop.outline.bow), ("across", hoop.outline.oval))
        if waves.numbers
    ]
    left = [
        _left(spec, hoop, pose)
        for hoop, pose in zip(plan.hoops, shape.poses, strict=True)
        if hoop.outline.bow.numbers
    ]
    return [*measured, *left, *findings, _turning(spec, plan, shape)]


def tensions_around(plan: Plan, section: SectionPlan, netting: Netting, shape: Shape) -> Floats:
    """Mean tension of a section's bars in each mesh around (N,) over the section's mean [-].

    A bar counts to the mesh in which its middle stands; the first mesh begins at the top, and they run
    clockwise as seen from the mouth.
    """
    around = plan.hoops[section.from_hoop - 1].meshes_around
    bars = netting.bars_of(section.part)
    middles = shape.knot_positions[netting.bars[bars]].mean(axis=1)
    turns = np.arctan2(-middles[:, 1], middles[:, 2]) / (2 * np.pi) % 1.0
    meshes = np.minimum((turns * around).astype(int), around - 1)
    tensions = shape.bar_tensions[bars]
    sums = np.bincount(meshes, tensions, around)
    counts = np.maximum(np.bincount(meshes, minlength=around), 1)
    return np.asarray(sums / counts / tensions.mean())


def slack_runs(slack: list[bool]) -> list[tuple[int, float]]:
    """Runs of slack meshes around, longest first: how many, and the clock position of their middle [hours].

    >>> slack_runs([True, False, False, False, False, False, False, False, False, True, True, True])
    [(4, 11.0)]
    """
    around = len(slack)
    if all(slack):
        return [(around, 12.0)]
    start = slack.index(False)
    runs: list[list[int]] = [[]]
    for mesh in range(start, start + around):
        if slack[mesh % around]:
            runs[-1].append(mesh)
        elif runs[-1]:
            runs.append([])
    found = [(len(run), (sum(run) / len(run) + 0.5) / around * 12 % 12) for run in runs if run]
    return sorted(found, key=lambda run: -run[0])


def clock(hour: float) -> str:
    """A clock position [hours] to the half hour.

    >>> clock(0.1), clock(3.6), clock(12.0)
    ("12 o'clock", 'half past 3', "12 o'clock")
    """
    halves = round(2 * hour) % 24
    name = halves // 2 or 12
    return f"half past {name}" if halves % 2 else f"{name} o'clock"


def _measured(spec: NetSpec, number: int, kind: str, waves: Waves) -> Finding:
    """Whether the waves that so many places can show are what was measured at them."""
    step = spec.marking.round
    part, missed = Part.hoop(number), spec.tape.length(waves.residual)
    level = Level.CAUTION if waves.residual > step else Level.OK
    message = (
        f"Hoop {number}: the waves that its {kind} can show miss them by {missed} (root mean square). "
        "Measure again, or at more places."
        if level is Level.CAUTION
        else f"Hoop {number}: the waves found in its {kind} meet them within a step of the tape."
    )
    source = "least squares; a tape's step"
    return Finding("bow-measured", level, part.place, message, waves.residual, step, source, part=part)


def _left(spec: NetSpec, hoop: HoopPlan, pose: Pose) -> Finding:
    """What the netting leaves of a bow: a thin rod is drawn nearly flat, a stiff one keeps its bow."""
    lies, keeps = hoop.outline.bow.height, bow_left(hoop.outline, pose)
    message = (
        f"Hoop {hoop.number}: it lies bowed by {spec.tape.length(lies)}, lowest to highest, and stands in "
        f"the net bowed by {spec.tape.length(keeps)}."
    )
    part = Part.hoop(hoop.number)
    return Finding("bow-left", Level.OK, part.place, message, keeps, lies, RINGS, part=part)


def _slack_side(spec: NetSpec, section: SectionPlan, tensions: Floats) -> Finding:
    where = section.part.place
    slack = [bool(tension < NOTHING) for tension in tensions]
    runs = slack_runs(slack)
    named = ", ".join(f"{count} around {clock(hour)}" for count, hour in runs[:NAMED])
    more = f" and others in {len(runs) - NAMED} places" if len(runs) > NAMED else ""
    return graded(
        "bow-slack",
        section.part,
        sum(slack) / len(slack),
        spec.limits.threshold("bow_slack"),
        (
            f"{where.capitalize()}: the bow of the hoops leaves no side slack.",
            f"{where.capitalize()}: of {len(slack)} meshes around, {named}{more} carry next to nothing "
            "(clock as seen from the mouth): the hoops bow apart on one side and together on the other.",
        ),
    )


def _turning(spec: NetSpec, plan: Plan, shape: Shape) -> Finding:
    """Points to the command that finds better turns, which takes too long here, and to the hoop to blame."""
    worst = max(shape.sections, key=_ratio)
    where = f"hoops {worst.from_hoop} to {worst.to_hoop}"
    standing = zip(plan.hoops, shape.poses, strict=True)
    near = list(standing)[worst.from_hoop - 1 : worst.to_hoop]
    blamed, pose = max(near, key=lambda one: bow_left(one[0].outline, one[1]))
    keeps = spec.tape.length(bow_left(blamed.outline, pose))
    return graded(
        "bow-uneven",
        "hoops",
        _ratio(worst),
        spec.limits.threshold("section_uneven"),
        (
            "The hoops are not all true, but the pull is even enough.",
            f"The hoops are not true, and in {where} the tightest bar carries {_ratio(worst):.1f} times the "
            f"mean. Hoop {blamed.number} does most to it: it stands bowed by {keeps}. Turned otherwise they "
            "may pull more evenly: net3d align finds how, which takes a while and so is not worked out here. "
            f"Where that does not help, straighten hoop {blamed.number}.",
        ),
    )


def _ratio(section: SectionShape) -> float:
    return section.tension_max / section.tension_mean if section.tension_mean > 0 else 1.0
