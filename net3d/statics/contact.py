"""A throat that sags lies on the body and never passes through it.

Each of its knots stays within the body's radius where it is, ``|(y, z)| <= r(x)``: one more cone a knot. r is
taken from the last solution, straight at the knot, and moves with the body's knot nearest to it, so that the
cone's dual is the force between the two. The program is solved again until every knot is inside and, where
that comes soon, none is pushed that does not touch. Where it stood out far, walls taken there say little of
where it comes to rest, and the next round is a loose one. Source: a cone's dual is its force, as in Lobo,
Vandenberghe, Boyd and Lebret, Applications of Second-Order Cone Programming, 1998.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from net3d.netting.netting import FREE, Floats, Ints, Netting
from net3d.plan.plan import Plan
from net3d.statics.equilibrium import Equilibrium, find_nearby
from net3d.statics.profile import body_knots, body_profile
from net3d.statics.shape import EndState
from net3d.statics.solver import SolverLimits
from net3d.statics.walls import Walls

INSIDE = 2e-4  # m: how far a knot may stand out of its place; a seventh of a common twine's thickness
TOUCHING = 1e-3  # m: how far off the body a knot may be that the body pushes; less than that thickness
PUSHED = 1e-9  # of the pull: a push that is more than a rounding error
MOST_ROUNDS = 8
MOST_STEPS = 16  # where hoops are let near only
FORGETFUL_ROUNDS = 3
SETTLED = {EndState.SETTLED, EndState.SETTLED_LOOSELY}
NEAR = 2.0  # bars from the body: knots further inside need no wall, until they come out
LATER = 0.5  # bars from the body, once there are walls: with as many again it is found from the last solve
BEYOND = 1e-4  # m from a hoop: on its far side
FAR = 2.0  # bars out of the body: from so far it takes a round more, however exact the first is
LOOSELY = SolverLimits(gap=1e-4, feasibility=1e-6, misfit=1e-2, give=3e-4)  # to a tenth of a bar or so
SAGS = 0.1  # bars below its line: a throat that would hang so comes to lie on the body more often than not
FULL_GAP = 4  # rows behind its hoop, two meshes, until a throat lies a twine's thickness inside the body


class Stands(Protocol):
    """A net as it stands: what its walls are read off."""

    @property
    def positions(self) -> Floats:
        """Of the knots (n, 3) [m]."""

    @property
    def hoop_positions(self) -> Floats:
        """Of the hoops along the net (hoops,) [m]."""


def rest_inside(
    netting: Netting, plan: Plan, loads: Floats, limits: SolverLimits, found: Equilibrium
) -> Equilibrium:
    """The equilibrium under loads [N] with every throat inside the body; the one found where it is so."""
    contact, far = no_contact(netting, plan), False
    while contact.rounds < MOST_ROUNDS and contact.steps.taken < MOST_STEPS:
        if not far and lies_inside(netting, plan, found, contact):
            return found
        far = farthest_out(netting, plan, found) > FAR * plan.bar
        contact = contact.restated(netting, plan, found)
        netting = replace(netting, bar_expected=found.tensions)
        found = find_nearby(netting, loads, LOOSELY if far else limits, contact.walls, found)
    return replace(found, state=EndState.LIMIT_REACHED) if found.state in SETTLED else found


def will_lie_on_body(netting: Netting, plan: Plan) -> bool:
    """Whether a throat is so heavy against what its strings take that it likely comes to lie on the body.

    Sag of a cord: W l / (8 H), as in any handbook of cables. Strings of a given length may pull anything.
    """
    for throat in plan.throats:
        own = netting.bars_of(throat.part)
        weight, pull = float(netting.bar_weights[own].sum()), throat.strings.share * netting.pull
        length = float(np.ptp(netting.knot_rows[netting.knots_of(throat.part)])) * throat.bar
        if throat.strings.length is None and weight * length > 8 * pull * SAGS * plan.bar:
            return True
    return False


def farthest_out(netting: Netting, plan: Plan, stands: Stands) -> float:
    """How far any knot of a throat stands out of the body, but for its gap [m]."""
    return float(protrusions(netting, plan, stands, throat_knots(netting, plan)).max(initial=-np.inf))


def no_contact(netting: Netting, plan: Plan, nearness: float = NEAR) -> Contact:
    """No walls yet; knots will have one that come nearer to the body than so many bars [-]."""
    near = np.zeros(len(throat_knots(netting, plan)[0]), dtype=bool)
    return Contact(near, Steps(plan.bar), nearness=nearness)


def lies_inside(
    netting: Netting, plan: Plan, found: Equilibrium, contact: Contact, within: float = INSIDE
) -> bool:
    """Whether every throat is inside the body but for so much [m], and none is pushed that does not touch."""
    knots, gaps = throat_knots(netting, plan)
    standing_out = protrusions(netting, plan, found, (knots, gaps))
    pushed = np.linalg.norm(found.pushes[knots], axis=1) > PUSHED * netting.pull
    off = standing_out[pushed].min(initial=0.0) < -max(TOUCHING, within)
    touching = contact.rounds > FORGETFUL_ROUNDS or not off
    return bool(touching and standing_out.max(initial=-np.inf) <= within and not found.held_near)


@dataclass(frozen=True, eq=False)
class Contact:
    """Which knots of the throats have a wall (k,), the walls as last stated, and how often they were."""

    near: NDArray[np.bool_]
    steps: Steps
    walls: Walls | None = None
    rounds: int = 0
    nearness: float = NEAR  # bars from the body, within which a knot gets a wall

    def restated(self, netting: Netting, plan: Plan, stands: Stands) -> Contact:
        """Walls as the body stands now, for the knots that have one and those that have come near it."""
        knots, gaps = throat_knots(netting, plan)
        within = self.nearness if self.walls is None else min(self.nearness, LATER)
        near = self.near | (protrusions(netting, plan, stands, (knots, gaps)) > -within * plan.bar)
        walls = body_walls(netting, plan, stands, (knots[near], gaps[near]))
        # A knot that goes to and fro between two lines comes to rest within both.
        if self.walls is not None and self.rounds >= FORGETFUL_ROUNDS and self.steps.reach is None:
            walls = self.walls.and_also(walls)
        distances = np.diff(stands.hoop_positions)
        steps = self.steps.after(distances, self.rounds >= FORGETFUL_ROUNDS)
        if steps.reach is not None:
            return replace(self, near=near, steps=steps, walls=replace(walls, near=(distances, steps.reach)))
        return replace(self, near=near, steps=steps, walls=walls, rounds=self.rounds + 1)

    def renewed(self) -> Contact:
        """The same walls, to begin again from: stated anew once, and then kept."""
        walls = None if self.walls is None else replace(self.walls, near=None)
        return replace(self, steps=Steps(self.steps.bar), walls=walls, rounds=FORGETFUL_ROUNDS - 1)


@dataclass(frozen=True)
class Steps:
    """How far hoops may go from one round to the next, where they have gone far.

    A wall taken straight at one shape says nothing true of another that is far away. So hoops that moved by
    more than a bar are let go a bar a round, and half as far each time that they turn back.
    """

    bar: float  # [m]
    reach: float | None = None  # [m]
    taken: int = 0
    distances: tuple[float, ...] = ()  # between hoops, in the last round [m]
    moved: tuple[float, ...] = ()  # since the round before [m]

    def after(self, distances: Floats, late: bool) -> Steps:
        """What holds for the next round, once hoops stand at these distances (hoops - 1,) [m].

        The first rounds may go far: most nets are found in one or two of them.
        """
        if not self.distances:
            return replace(self, distances=tuple(distances.tolist()))
        moved = distances - self.distances
        far = float(np.abs(moved).max(initial=0.0)) > self.bar
        reach = self.reach
        if reach is not None and float(np.dot(moved, self.moved)) < 0.0:
            reach = reach / 2
        elif reach is None and far and late:
            reach = self.bar
        return Steps(
            self.bar,
            reach,
            self.taken + (reach is not None),
            tuple(distances.tolist()),
            tuple(moved.tolist()),
        )


def throat_knots(netting: Netting, plan: Plan) -> tuple[Ints, Floats]:
    """Free knots of all throats (k,), and how far inside the body's knots each must stay (k,) [m]."""
    knots, gaps = [np.zeros(0, dtype=int)], [np.zeros(0)]
    for throat in plan.throats:
        own = netting.knots_of(throat.part)
        own = own[netting.knot_carriers[own] == FREE]
        touching = (plan.twine.diameter + throat.twine.diameter) / 2
        knots.append(own)
        gaps.append(touching * np.minimum(netting.knot_rows[own] / FULL_GAP, 1.0))
    return np.concatenate(knots), np.concatenate(gaps)


def protrusions(netting: Netting, plan: Plan, stands: Stands, inside: tuple[Ints, Floats]) -> Floats:
    """How far each knot stands out of the body, but for its gap (k,) [m]; below 0 it is inside.

    Parameters
    ----------
    netting : the net
    plan : of it
    stands : where its knots and hoops are
    inside : numbers of the knots, and their gaps (k,) [m]
    """
    (knots, gaps), positions = inside, stands.positions
    if plan.throats_in_frames:
        from net3d.statics.corners import beyond_walls, corner_walls  # loads slowly, as below

        standing = (positions, stands.hoop_positions)
        return beyond_walls(positions, corner_walls(netting, plan, standing, inside, positions[knots, 0]))
    room = body_profile(netting, positions).radius(positions[knots, 0]) - gaps
    return np.asarray(np.linalg.norm(positions[knots, 1:], axis=1) - room)


def body_walls(netting: Netting, plan: Plan, stands: Stands, inside: tuple[Ints, Floats]) -> Walls:
    """The body as a wall around knots (k,) with gaps (k,) [m], as it stands.

    Two lines for each knot: the body's radius straight at the knot, and straight on the far side of the hoop
    nearest to it. Between hoops the body necks in, so only at a hoop can one line alone reach outside it.
    """
    knots, gaps = inside
    places, hoops = stands.positions[knots, 0], stands.hoop_positions
    nearest = hoops[np.abs(places[:, None] - hoops).argmin(axis=1)]
    beyond = nearest + np.where(places <= nearest, BEYOND, -BEYOND)
    twice = (np.concatenate([knots, knots]), np.concatenate([gaps, gaps]))
    there = np.concatenate([places, beyond])
    if plan.throats_in_frames:
        from net3d.statics.corners import corner_walls

        return corner_walls(netting, plan, (stands.positions, hoops), twice, there)
    return _lines(netting, stands.positions, twice, there)


def _lines(netting: Netting, positions: Floats, inside: tuple[Ints, Floats], places: Floats) -> Walls:
    """Walls at some places along the net for knots (k,), each moving with the body's knot nearest there."""
    knots, gaps = inside
    profile, body = body_profile(netting, positions), body_knots(netting)
    from scipy.spatial import cKDTree  # loads slowly, and few nets need it

    slopes, radii = profile.slope(places), profile.radius(places)
    outward = positions[knots, 1:] / np.maximum(np.linalg.norm(positions[knots, 1:], axis=1), 1e-9)[:, None]
    there = np.column_stack([places, outward * radii[:, None]])
    against = body[cKDTree(positions[body]).query(there)[1]]
    across = positions[against, 1:]
    distances = np.linalg.norm(across, axis=1)
    nearer = distances - radii + slopes * (places - positions[against, 0])
    outward = across / np.maximum(distances, 1e-9)[:, None]
    return Walls(knots, against, outward, slopes, gaps + nearer, np.zeros_like(across))
