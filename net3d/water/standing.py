"""Bring a net to rest in a stream: loads from the shape, the shape from the loads, until it stays put."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import Floats, Netting
from net3d.outline.pose import Pose
from net3d.plan.plan import Plan
from net3d.statics.contact import Contact, lies_inside, no_contact
from net3d.statics.equilibrium import Equilibrium, find_equilibrium, find_nearby
from net3d.statics.loads import total_loads
from net3d.statics.settle import GOOD, with_lengths
from net3d.statics.shape import Shape
from net3d.statics.softening import softened
from net3d.statics.solver import SolverLimits
from net3d.statics.symmetry import MIRROR, find_symmetry, mirror_image
from net3d.water.bands import netting_bands
from net3d.water.drag import drag_on
from net3d.water.water import Bands, Drag, Standing, Stream

ENOUGH = SolverLimits(gap=1e-8, feasibility=1e-8)  # what is not at rest with it goes on by Newton's steps
MATCHED = 0.03  # of the drag, bar by bar: the drag of the whole net is then right within two thousandths
STANDS_OUT = 0.25  # bars: so far a throat may stand out of the body in a current, as no load tells of it
NEARBY = 0.5  # bars from the body: few walls solve thrice as fast, and what comes near later has one later
ENOUGH_WALLS = 3  # rounds after which it may stand out further: what it lies on gives way in the current
MOST_ROUNDS = 8


@dataclass(frozen=True, eq=False)
class Placed:
    """Where knots and hoops are."""

    positions: Floats  # (n, 3) [m]
    poses: tuple[Pose, ...]

    @property
    def hoop_positions(self) -> Floats:
        """Of the hoops along the net (hoops,) [m]."""
        return np.array([pose.place for pose in self.poses])

    def towards(self, other: Placed, far: float) -> Placed:
        """So far [-] on the way to another, which is reached at 1; hoops lean and bend as they do there."""
        positions = self.positions + far * (other.positions - self.positions)
        places = self.hoop_positions + far * (other.hoop_positions - self.hoop_positions)
        poses = (replace(pose, place=place) for pose, place in zip(other.poses, places.tolist(), strict=True))
        return Placed(positions, tuple(poses))


def stand_in(
    netting: Netting, plan: Plan, shape: Shape, stream: Stream, weaker: tuple[Standing, ...] = ()
) -> Standing:
    """The net in a stream: solve, work the loads out anew, until the loads are those that the shape has.

    A throat that comes to lie on the body gets its walls in the same rounds. Strings are as long as they were
    tied in still water. Hoops slide along the net and stay upright: the bottom holds them sideways.

    Parameters
    ----------
    shape : the net in still water
    weaker : the net in weaker currents from the same side, weakest first: the drag is guessed from them
    """
    tied = softened(tied_fast(netting, shape), shape.knot_positions, shape.bar_tensions)
    tied = replace(tied, bar_expected=weaker[-1].tensions if weaker else shape.bar_tensions)
    guess = guessed(tied, shape, stream.speed, weaker)
    drag, _ = _drag(tied, plan, guess, stream)
    contact = (weaker[-1].contact if weaker else no_contact(tied, plan, NEARBY)).renewed()
    if contact.walls is not None:
        contact = contact.restated(tied, plan, guess)
    near = weaker[-1].rest if weaker else None
    rounds, resting = 0, False
    while not resting and rounds < MOST_ROUNDS:
        rounds += 1
        loads = _loads(tied, drag, along=stream.angle == 0.0)
        near = found = _rest(_pulled(tied, drag), loads, contact, near)
        tied = replace(tied, bar_expected=found.tensions)
        before = drag
        drag, bands = _drag(tied, plan, Placed(found.positions, found.poses), stream)
        mismatch = before.mismatch(drag)
        if found.state not in GOOD:
            break
        inside = lies_inside(tied, plan, found, contact, STANDS_OUT * plan.bar)
        if contact.walls is not None or not inside:
            contact = contact.restated(tied, plan, found)
        gone = not found.held_near and (inside or rounds >= ENOUGH_WALLS)
        resting = gone and mismatch < MATCHED
    first = found.poses[0].place
    return Standing(
        stream=stream,
        state=found.state,
        positions=found.positions - [first, 0.0, 0.0],
        tensions=found.tensions,
        poses=tuple(pose.shifted(-first) for pose in found.poses),
        bands=replace(bands, places=bands.places - first),
        drag=drag,
        contact=contact,
        tied=_pulled(tied, drag),
        rest=found,
        rounds=rounds,
        mismatch=mismatch,
        still=resting,
    )


def guessed(netting: Netting, shape: Shape, speed: float, weaker: tuple[Standing, ...]) -> Placed:
    """How a net may stand in a current [m/s]: as in still water, or further along the way it went.

    Its shape goes with the share of the drag in all that pulls on the net, ``D / (D + pull)``: straight
    through the last two, still water being none.
    """
    still = Placed(shape.knot_positions, shape.poses)
    if not weaker:
        return still
    last = weaker[-1]
    known = [(_share(netting, s.drag), Placed(s.positions, s.poses)) for s in weaker[-2:]]
    (share_before, before), (share_last, there) = [(0.0, still), *known][-2:]
    share = _share(netting, last.drag.scaled((speed / last.stream.speed) ** 2))
    return before.towards(there, (share - share_before) / max(share_last - share_before, 1e-9))


def tied_fast(netting: Netting, shape: Shape) -> Netting:
    """The net with every length that was fitted in still water cut to what was found there."""
    return with_lengths(netting, shape.bar_rest_lengths)


def knot_loads(netting: Netting, drag: Drag) -> Floats:
    """Drag on the knots (n, 3) [N]: half of each bar's at either end, a hoop's evenly on its knots."""
    loads = np.zeros((len(netting.knot_carriers), 3))
    for end in (0, 1):
        np.add.at(loads, netting.bars[:, end], drag.bar_forces / 2)
    for hoop, force in enumerate(drag.hoop_forces):
        riding = np.flatnonzero(netting.knot_carriers == hoop)
        loads[riding] += force / len(riding)
    return loads


def _share(netting: Netting, drag: Drag) -> float:
    """Drag in all that pulls on the net."""
    pulls = float(np.linalg.norm(drag.total))
    return pulls / (netting.pull + pulls)


def _drag(netting: Netting, plan: Plan, placed: Placed, stream: Stream) -> tuple[Drag, Bands]:
    bands = netting_bands(netting, placed.positions)
    return drag_on(netting, plan, (placed.positions, placed.poses, bands), stream), bands


def _rest(netting: Netting, loads: Floats, contact: Contact, near: Equilibrium | None) -> Equilibrium:
    capped = any(carrier.follows is not None for carrier in netting.carriers)
    if capped or near is None:
        return find_equilibrium(netting, loads, ENOUGH, contact.walls, capped=capped)
    return find_nearby(netting, loads, ENOUGH, contact.walls, near)


def _loads(netting: Netting, drag: Drag, along: bool) -> Floats:
    still, pushed = total_loads(netting), knot_loads(netting, drag)
    return still + (_evened(netting, pushed, still) if along else pushed)


def _pulled(netting: Netting, drag: Drag) -> Netting:
    """The net, pulled by its drag too."""
    return replace(netting, pull=netting.pull + float(np.linalg.norm(drag.total)))


def _evened(netting: Netting, drag: Floats, still: Floats) -> Floats:
    """Loads of a flow along the net made exactly alike left and right: the program is then half."""
    if not find_symmetry(netting, still).mirrored:
        return drag
    return np.asarray((drag + drag[mirror_image(netting)] @ MIRROR) / 2)
