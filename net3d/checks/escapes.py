"""Ways out: how each is cut and laced, what it does to the pull, who gets through, what trials found."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.handbook.escapes import trials
from net3d.netting.cords import netting_cord
from net3d.netting.netting import Netting
from net3d.parts import Part
from net3d.plan.escapes import EscapePlan
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.statics.shape import Shape

GEOMETRY = "knots within the frame, and the bars that end there: geometry"
CODE = "Whether it is allowed, and will do, your local code says."


def check_escapes(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """Findings of every way out, in their order."""
    found: list[Finding] = []
    for escape in plan.escapes:
        if escape.apertures:
            found += [_cut(spec, escape), _pull(spec, netting, shape, escape)]
        if escape.lines is not None:
            found += _between(spec, escape)
        if escape.girth:
            found += _through(spec, escape)
        if escape.seam:
            found.append(_seam(spec, netting, shape, escape))
        if escape.spec.kind == "floats":
            found.append(_lift(spec, plan, netting, escape))
        found.append(_trial(escape))
    return found


def _cut(spec: NetSpec, escape: EscapePlan) -> Finding:
    one, each = escape.apertures[0], "each: " if len(escape.apertures) > 1 else ""
    message = (
        f"{escape.title.capitalize()}, {each}{len(one.cut)} knots and {one.bars} bars are cut out, and the "
        f"{len(one.rim)} knots around laced to the frame, {spec.tape.length(escape.frame)} around inside, "
        f"with {spec.tape.length(escape.lacing)} of twine from knot to frame."
    )
    return Finding("escape-cut", Level.OK, escape.title, message, float(one.bars), 0.0, GEOMETRY)


def _pull(spec: NetSpec, netting: Netting, shape: Shape, escape: EscapePlan) -> Finding:
    """What its lacing bears, over what a bar of the netting around does in the mean."""
    behind, told = escape.spec.behind, spec.tape.force
    assert behind is not None
    pulls = shape.bar_tensions[netting.bars_of(Part.section(behind, behind + 1))]
    mean, tightest = float(pulls.mean()), float(pulls.max())
    laced = float(shape.bar_tensions[netting.bars_of(escape.lacing_part)].max())
    around = f"the netting around it has its tightest bar at {told(tightest)}, {told(mean)} in the mean"
    return graded(
        "escape-tight",
        escape.lacing_part,
        laced / mean if mean else 0.0,
        spec.limits.threshold("escape_lacing"),
        (
            f"{escape.title.capitalize()} leaves the pull to the netting: {around}.",
            f"{escape.title.capitalize()} is laced so tight that its frame takes the pull, {told(laced)} in "
            f"one lacing; {around}. Lace it longer, or make the frame higher.",
        ),
    )


def _seam(spec: NetSpec, netting: Netting, shape: Shape, escape: EscapePlan) -> Finding:
    """Whether the thread around a panel carries what the bars carried whose place it takes."""
    told, limit = spec.tape.force, spec.limits.threshold("twine_load")
    most = float(shape.bar_tensions[netting.bar_seams == escape.spec.place].max())
    name, holds = f"The seam of {escape.title}", escape.spec.thread_holds
    need = f"thread that holds {told(most / limit.caution)} or more, wet and knotted"
    if holds is None:
        message = (
            f"{name} pulls with at most {told(most)} at one of the {len(escape.seam)} bars that its thread "
            f"takes the place of. Sew it with {need}, and write what yours holds in thread_holds."
        )
        return Finding("escape-seam", Level.OK, escape.seam_part.place, message, most, 0.0, limit.source)
    pulls = f"{name} pulls with at most {told(most)} at one bar, and its thread holds {told(holds)}"
    return graded(
        "escape-seam",
        escape.seam_part,
        most / holds,
        limit,
        (
            f"{pulls}, new: it carries the netting until it has rotted.",
            f"{pulls}, new: it opens before it has rotted. Sew it with {need}, or sew it double.",
        ),
    )


def _between(spec: NetSpec, escape: EscapePlan) -> Iterator[Finding]:
    """Which of the fish get in between bars: those no broader than the gap, a body being about round."""
    tape, fish, gap = spec.tape, spec.fish, escape.apart
    name, assumed = escape.title.capitalize(), "a body as broad as its girth over pi: geometry"
    many = f"{len(escape.line_lengths)} lines, {tape.length(gap)} apart"
    if fish is None:
        message = f"{name}: {many}. Give [fish], and it is told which of them get in."
        yield Finding("escape-apart", Level.OK, escape.title, message, gap, 0.0, assumed)
        return
    narrow, broad = fish.girth_min / np.pi, fish.girth_max / np.pi
    if broad <= gap:
        message = f"{name}: {many}; your largest fish, about {tape.length(broad)} broad, get in between."
        level = Level.OK
    else:
        who = "none of your fish get" if narrow > gap else "your largest fish do not get"
        message = (
            f"{name}: {many}, and {who} in between: they are about {tape.length(broad)} broad. Set them "
            "wider apart, as far as what you want to keep out lets you."
        )
        level = Level.FAIL if narrow > gap else Level.CAUTION
    yield Finding("escape-apart", level, escape.title, message, gap, broad, assumed, part=escape.frame_part)


def _through(spec: NetSpec, escape: EscapePlan) -> Iterator[Finding]:
    """Which of the fish get out by an opening; of a panel, once its thread has rotted."""
    if spec.fish is None:
        return
    tape, girth, kind = spec.tape, escape.girth, escape.spec.kind
    when = " once its thread has rotted" if kind == "panel" else ""
    opening = f"{escape.title.capitalize()}: an opening {tape.length(girth)} around{when}"
    if girth < spec.fish.girth_min:
        message = f"{opening} lets out smaller fish than you are after, and not yours."
        level = Level.OK
    else:
        message = f"{opening} lets out fish that you are after, too."
        level = Level.OK if kind == "panel" else Level.CAUTION
    yield Finding(
        "escape-girth", level, escape.title, message, girth, spec.fish.girth_min, "girths: geometry"
    )


def _lift(spec: NetSpec, plan: Plan, netting: Netting, escape: EscapePlan) -> Finding:
    """What floats lift over what the netting of the tail, or of the last section, weighs in water."""
    said, told = escape.spec, spec.tape.force
    assert said.lift is not None
    last = [part for part in netting.parts if part.kind.body][-1]
    length = float(netting.bar_lengths[netting.bars_of(last)].sum())
    weight = abs(length * netting_cord(plan.twine, plan.stretched_mesh).weight)
    lift = said.pieces * said.lift
    lifted = (
        f"{escape.title.capitalize()}: {said.pieces} floats lift {told(lift)}, and the netting of "
        f"{last.place} weighs {told(weight)} in water."
    )
    limit = spec.limits.threshold("escape_lift")
    air = "Air is kept only where it reaches the surface, at every level of the water."
    more = f"Take floats that lift {told(limit.caution * weight)} in all. {air}"
    return graded(
        "escape-floats", escape.title, lift / weight, limit, (f"{lifted} {air}", f"{lifted} {more}")
    )


def _trial(escape: EscapePlan) -> Finding:
    """What was found of its kind, which is worth knowing however the net is made."""
    trial, kind = trials()[escape.spec.kind], escape.spec.kind
    message = f"{escape.title.capitalize()}, {kind}. Trials: {trial.found}. But {trial.but}. {CODE}"
    return Finding("escape-trial", Level.CAUTION, escape.title, message, 0.0, 0.0, trial.source)
