"""What the equilibrium means for each throat: where its tip stands, its strings, its room and its share."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import FREE, Floats, Ints, Netting
from net3d.parts import Part
from net3d.plan.plan import Plan, ThroatPlan
from net3d.statics.contact import protrusions
from net3d.statics.equilibrium import Equilibrium
from net3d.statics.follows import string_follows, tip_follows
from net3d.statics.profile import body_profile
from net3d.statics.pulls import PartPulls, part_pulls
from net3d.statics.shape import Passage, StringLengths, ThroatShape

BEHIND_ITS_HOOP = 4  # rows of bars, two meshes, within which a throat cannot be clear of the body


def throat_shapes(
    netting: Netting, plan: Plan, found: Equilibrium, window: tuple[tuple[StringLengths, ...], Floats]
) -> tuple[ThroatShape, ...]:
    """One record a throat.

    Parameters
    ----------
    window : lengths between which their strings fit, and how much shorter than free the body hangs from hoop
        to hoop to the end (hoops,) [m]
    """
    lengths, bags = window
    if not plan.throats:
        return ()
    shapes = [
        _throat(netting, plan, throat, found, strings)
        for throat, strings in zip(plan.throats, lengths, strict=True)
    ]
    past = np.array([[_pulls_past(throat, place) for place in range(len(bags))] for throat in plan.throats])
    shares = past * np.maximum([[shape.pull_share] for shape in shapes], 0.0)
    parts = shares / np.maximum(shares.sum(axis=0), np.finfo(float).tiny) @ bags
    return tuple(replace(shape, bag=bag) for shape, bag in zip(shapes, parts.tolist(), strict=True))


def _pulls_past(throat: ThroatPlan, place: int) -> bool:
    """Whether a throat's pull goes past the netting behind a hoop, counted from 0."""
    tied = throat.strings.to_hoop
    return throat.hoop <= place + 1 and (tied is None or place + 1 < tied)


def _throat(
    netting: Netting, plan: Plan, throat: ThroatPlan, found: Equilibrium, lengths: StringLengths
) -> ThroatShape:
    pulls = part_pulls(netting, throat.part, found)
    strings = _held_back(part_pulls(netting, throat.strings_part, found))
    tip = tip_knots(netting, throat)
    places = found.hoop_positions
    place, across, up = found.positions[tip].mean(axis=0).tolist()
    girth, clear = opening(found.positions[tip])
    own, tips = tip_follows(netting, plan, throat, found)
    return ThroatShape(
        number=throat.number,
        hoop=throat.hoop,
        tip_position=place - float(places[0]),
        tip_middle=(across, up),
        length=place - float(places[throat.hoop - 1]),
        string_length=float(found.rest_lengths[strings.bars].max()),
        strings=lengths,
        string_follows=string_follows(netting, plan, throat, found),
        follows=own,
        tip_follows=tips,
        string_tension=float(strings.tensions.sum()),
        string_tension_max=float(strings.tensions.max()),
        opening_girth=girth,
        opening_clear=clear,
        pull_share=pulls.axial() / netting.pull,
        slack_share=pulls.slack_share(throat.strings.share * netting.pull),
        looseness_max=float(max(pulls.looseness.max(), 0.0)),
        clearance=_body_clearance(netting, plan, throat, found),
        lying_share=_lying_share(netting, throat, found),
        passages=_passages(netting, plan, throat, found),
    )


def tip_knots(netting: Netting, throat: ThroatPlan) -> Ints:
    """The knots around a throat's tip, in order around."""
    knots = netting.knots_of(throat.part)
    return np.asarray(knots[netting.knot_rows[knots] == len(throat.piece.changes)])


def opening(tip: Floats) -> tuple[float, float]:
    """Girth through the tip knots (k, 3) and the clear width of the hole, seen along the net [m].

    The clear width is twice the distance from the middle to the nearest side.
    """
    ahead = np.roll(tip, -1, axis=0)
    girth = float(np.linalg.norm(ahead - tip, axis=1).sum())
    sides = (ahead - tip)[:, 1:]
    from_middle = tip[:, 1:] - tip[:, 1:].mean(axis=0)
    along = -np.sum(from_middle * sides, axis=1) / np.maximum(np.sum(sides**2, axis=1), 1e-18)
    nearest = from_middle + np.clip(along, 0.0, 1.0)[:, None] * sides
    return girth, 2.0 * float(np.linalg.norm(nearest, axis=1).min())


def _held_back(pulls: PartPulls) -> PartPulls:
    """The strings alone, without a line through the tip, which is the second row of their part."""
    strings = pulls.rows == 0
    return PartPulls(
        pulls.bars[strings],
        pulls.rows[strings],
        pulls.tensions[strings],
        pulls.cosines[strings],
        pulls.looseness[strings],
    )


def _body_clearance(netting: Netting, plan: Plan, throat: ThroatPlan, found: Equilibrium) -> float:
    """Least distance from a throat's knots, two meshes behind its hoop and on, to the body around it [m]."""
    knots = netting.knots_of(throat.part)
    knots = knots[netting.knot_rows[knots] > BEHIND_ITS_HOOP]
    if knots.size == 0:
        return float("inf")
    return -float(protrusions(netting, plan, found, (knots, np.zeros(len(knots)))).max())


def _lying_share(netting: Netting, throat: ThroatPlan, found: Equilibrium) -> float:
    """Part of the throat's knots that the body carries, by a twentieth of a bar's weight or more."""
    knots = netting.knots_of(throat.part)
    knots = knots[netting.knot_carriers[knots] == FREE]
    pushes = np.linalg.norm(found.pushes[knots], axis=1)
    least = max(
        0.05 * float(np.abs(netting.bar_weights[netting.bars_of(throat.part)]).mean()), 1e-9 * netting.pull
    )
    return float(np.mean(pushes > least))


def _passages(netting: Netting, plan: Plan, throat: ThroatPlan, found: Equilibrium) -> tuple[Passage, ...]:
    """Where the throat and its strings pass hoops and waists, and how much room is left there."""
    passed = []
    for part in (throat.part, throat.strings_part):
        ends = found.positions[netting.bars[netting.bars_of(part)]]
        for past, place, room in _narrows(netting, plan, throat, found):
            radius = _radius_at(ends, place)
            if radius is not None:
                passed.append(Passage(part, past, radius, room - radius))
    return tuple(passed)


def _narrows(
    netting: Netting, plan: Plan, throat: ThroatPlan, found: Equilibrium
) -> list[tuple[Part, float, float]]:
    """Hoops and waists that a throat may have to pass, their place along the net and radius there [m]."""
    places = found.hoop_positions
    profile = body_profile(netting, found.positions)
    ties = {throat.hoop, throat.strings.to_hoop}
    narrows = [
        (Part.hoop(hoop.number), float(places[hoop.number - 1]), hoop.narrowest / 2 - hoop.rod_diameter)
        for hoop in plan.hoops
        if hoop.number not in ties
    ]
    for section in plan.sections:
        if plan.frame_of(section) is not None:
            continue  # no one radius is its waist; how far the throat is off its body is told anyway
        between = (profile.places >= places[section.from_hoop - 1]) & (
            profile.places <= places[section.to_hoop - 1]
        )
        if between.any():
            waist = int(np.flatnonzero(between)[profile.radii[between].argmin()])
            narrows.append((section.part, float(profile.places[waist]), float(profile.radii[waist])))
    return narrows


def _radius_at(ends: Floats, place: float) -> float | None:
    """Largest distance from the axis at which bars (k, 2, 3) cross a plane there [m]; None if none do."""
    upper, lower = ends[:, 0], ends[:, 1]
    crossing = (upper[:, 0] - place) * (lower[:, 0] - place) < 0.0
    if not crossing.any():
        return None
    upper, lower = upper[crossing], lower[crossing]
    share = (place - upper[:, 0]) / (lower[:, 0] - upper[:, 0])
    at = upper + share[:, None] * (lower - upper)
    return float(np.linalg.norm(at[:, 1:], axis=1).max())
