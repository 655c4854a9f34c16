"""Walls of a body that is not round: at every place as flat or as curved as the frames on either side of it.

A knot stays on the inner side of a circle that lies against the body from within,

    |p - c| <= n . (p_j - c) + r' (x - x_j) - gap

with n the way out of the frames there, p_j the body's knot nearest to it, and c behind that by the frames'
radius of curvature, on a flat many times its width, in a corner that of a round hoop. On round hoops c is the
middle, and the wall that of ``contact``. Netting that hangs loose gives way as far as the lines from rim to
rim: there they are the wall.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from net3d.netting.netting import Bools, Floats, Ints, Netting
from net3d.outline.outline import Outline
from net3d.outline.spread import by_meshes
from net3d.plan.plan import Plan
from net3d.statics.profile import body_knots
from net3d.statics.walls import Walls

FINE = 720  # arcs at which an outline is read
FLAT = 5.0  # times the radius of a round hoop as long around: a flat is taken as curved so little
EVEN = 0.1  # of the way around, over which a curvature is read
LOOSE = 0.995  # of its length: a bar whose knots stand nearer to each other hangs loose


@dataclass(frozen=True, eq=False)
class Rim:
    """A hoop at the circle of its knots, by the angle seen from the middle."""

    angles: Floats  # (k,) from the first [rad]
    columns: Floats  # y and z of the rim, the way out of it, and how curved it is (k, 5)

    def at(self, angles: Floats) -> Floats:
        """The same columns (n, 5) at angles (n,) [rad]."""
        own = (angles - self.angles[0]) % (2 * np.pi) + self.angles[0]
        return np.stack([np.interp(own, self.angles, column) for column in self.columns.T], axis=1)


def rim_of(outline: Outline, inside: float) -> Rim:
    """What is read off an outline, so far inside it [m]."""
    arcs = 2 * np.pi * np.arange(FINE + 1) / FINE
    along = by_meshes(outline.curve.spread, arcs)  # even steps of the tape
    points, normals = outline.points(along, inside)[:, 1:], outline.normals(along)[:, 1:]
    angles, turned = (np.unwrap(np.arctan2(-ways[:, 0], ways[:, 1])) for ways in (points, normals))
    step = round(EVEN * FINE / 2)
    around = np.arange(-step, FINE + step + 1)
    unrolled = turned[around % FINE] + 2 * np.pi * (around // FINE)
    curvatures = (unrolled[2 * step :] - unrolled[: -2 * step]) / (
        2 * step / FINE * outline.inner_girth(inside)
    )
    most = 2 / outline.diameter  # about a sharper corner's own centre there would be no room for the tip
    return Rim(angles, np.column_stack([points, normals, np.clip(curvatures, most / FLAT, most)]))


def corner_walls(
    netting: Netting, plan: Plan, stands: tuple[Floats, Floats], inside: tuple[Ints, Floats], places: Floats
) -> Walls:
    """Walls at some places along the net for knots of throats.

    Parameters
    ----------
    netting, plan : the net
    stands : where knots (n, 3) and hoops (hoops,) stand [m]
    inside : numbers of the knots and their gaps (k,) [m]
    places : where along the net the body is read (k,) [m]
    """
    (positions, hoops), (knots, gaps) = stands, inside
    seen = _angles(positions[knots])
    after = np.clip(np.searchsorted(hoops, places), 1, len(hoops) - 1)
    shares = np.clip((places - hoops[after - 1]) / (hoops[after] - hoops[after - 1]), 0.0, 1.0)[:, None]
    before, behind = _rims(plan, after - 1, seen), _rims(plan, after, seen)
    between = (1 - shares) * before + shares * behind
    normals = between[:, 2:4] / np.linalg.norm(between[:, 2:4], axis=1)[:, None]
    tight = _on_netting(netting, plan, positions, (knots, gaps), (places, seen, normals))
    ruled = _on_rims(netting, stands, (knots, gaps), (after, seen, normals), (before, behind))
    loose = _loose(netting, positions)[tight.against] | (places < hoops[0]) | (tight.against < 0)
    against, slopes, own = (
        np.where(loose, one, other)
        for one, other in (
            (ruled.against, tight.against),
            (ruled.slopes, tight.slopes),
            (ruled.gaps, tight.gaps),
        )
    )
    touched = np.where(loose[:, None], between[:, :2], positions[tight.against, 1:])
    return Walls(knots, against, normals, slopes, own, touched - normals / between[:, 4:])


def _on_netting(
    netting: Netting,
    plan: Plan,
    positions: Floats,
    inside: tuple[Ints, Floats],
    there: tuple[Floats, Floats, Floats],
) -> Walls:
    """Walls against the body's knots nearest to places along it, at angles and with ways out (k, 2)."""
    (knots, gaps), (places, seen, normals) = inside, there
    body = body_knots(netting)
    size = float(np.linalg.norm(positions[body, 1:], axis=1).mean())
    tree = cKDTree(_rolled(positions[body, 0], _angles(positions[body]), size))
    against, before, behind = (
        body[tree.query(_rolled(places + off, seen, size))[1]] for off in (0.0, -plan.bar, plan.bar)
    )
    rise = np.sum(normals * (positions[behind, 1:] - positions[before, 1:]), axis=1)
    run = positions[behind, 0] - positions[before, 0]
    slopes = np.divide(rise, run, out=np.zeros_like(rise), where=run > plan.bar / 2)
    return Walls(knots, against, normals, slopes, gaps, np.zeros_like(normals))


def _on_rims(
    netting: Netting,
    stands: tuple[Floats, Floats],
    inside: tuple[Ints, Floats],
    there: tuple[Ints, Floats, Floats],
    rims: tuple[Floats, Floats],
) -> Walls:
    """Walls that are lines from rim to rim, moving with a knot on the one before."""
    (positions, hoops), (knots, gaps), (after, seen, normals) = stands, inside, there
    before, behind = rims
    rise = np.sum(normals * (behind - before)[:, :2], axis=1)
    slopes = rise / (hoops[after] - hoops[after - 1])
    against = np.zeros(len(knots), dtype=int)
    for number in np.unique(after - 1):
        own, riding = after - 1 == number, np.flatnonzero(netting.knot_carriers == number)
        ways = np.abs((seen[own][:, None] - _angles(positions[riding]) + np.pi) % (2 * np.pi) - np.pi)
        against[own] = riding[ways.argmin(axis=1)]
    nearer = np.sum(normals * (positions[against, 1:] - before[:, :2]), axis=1)
    return Walls(knots, against, normals, slopes, gaps + nearer, np.zeros_like(normals))


def _loose(netting: Netting, positions: Floats) -> Bools:
    """Knots (n,) of which half of the bars hang loose, or more."""
    ends = positions[netting.bars]
    short = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) < LOOSE * netting.bar_lengths
    count = len(positions)
    both, loose = netting.bars.ravel(), np.repeat(short, 2)
    return np.asarray(2 * np.bincount(both, loose, count) >= np.bincount(both, minlength=count))


def beyond_walls(positions: Floats, walls: Walls) -> Floats:
    """How far each knot stands out of its wall (k,) [m]; below 0 it is inside."""
    own, other = positions[walls.knots], positions[walls.against]
    room = np.sum(walls.directions * (other[:, 1:] - walls.centres), axis=1)
    room = room + walls.slopes * (own[:, 0] - other[:, 0]) - walls.gaps
    return np.asarray(np.linalg.norm(own[:, 1:] - walls.centres, axis=1) - room)


def _rims(plan: Plan, numbers: Ints, seen: Floats) -> Floats:
    """Columns of the rims (k, 5) of hoops, counted from 0, at angles seen from the middle (k,) [rad]."""
    found = np.zeros((len(numbers), 5))
    for number in np.unique(numbers):
        hoop, own = plan.hoops[number], numbers == number
        found[own] = rim_of(hoop.outline, hoop.rod_diameter).at(seen[own])
    return found


def _angles(points: Floats) -> Floats:
    return np.arctan2(-points[:, 1], points[:, 2])


def _rolled(places: Floats, angles: Floats, size: float) -> Floats:
    """Places along and around the net, as if it were a tube of one radius [m]."""
    return np.column_stack([places, size * np.cos(angles), size * np.sin(angles)])
