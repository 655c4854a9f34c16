"""Rows of netting that hang on frames: how far their rims are from the row's middle, by the angle.

A rim between two hoops is as much like each as it is near it, and a tail's or a throat's less and less
like its own hoop, as large as its knots stand in the mean. Were each knot taken where it stands, rows
that hang loose would shelter each other now this way, now that, and no shape would have the drag that it was
found with.
"""

from __future__ import annotations

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.netting.sorting import distinct
from net3d.outline.curves import TURN, even

ANGLES = 192  # at which it is told
STEP = TURN / ANGLES
UNEVEN = 0.05  # of the mean: what is off it by less everywhere is round


def row_shapes(netting: Netting, bar_bands: Ints, parts: Ints) -> tuple[Ints, Floats]:
    """Rows that are not round, and both rims of all rows over their mean radius (k, 2, 193) [-].

    Of a net of round hoops neither.

    Parameters
    ----------
    netting : the net
    bar_bands : row of every bar, or -1 (m,)
    parts : number of the part of every row (k,)
    """
    hoops = [_shape(netting, number) for number in range(netting.hoop_count)]
    if all(np.abs(hoop - 1).max() < UNEVEN for hoop in hoops):
        return np.zeros(0, dtype=int), np.zeros(0)
    own = np.flatnonzero(bar_bands >= 0)
    ends = np.zeros((len(parts), 2), dtype=int)
    ends[bar_bands[own]] = netting.bars[own]  # any one bar of a row tells its two rims
    weights = np.stack([_weights(netting, knots) for knots in ends.T], axis=1)
    shapes = weights @ np.array([*hoops, np.ones(ANGLES + 1)])
    return np.flatnonzero(np.abs(shapes - 1).max(axis=(1, 2)) > UNEVEN), shapes


def _shape(netting: Netting, hoop: int) -> Floats:
    """The rim of the body's knots on a hoop over its mean radius (193,) [-]."""
    knots = (netting.knot_carriers == hoop) & netting.knots_that(lambda kind: kind.body)
    seats = netting.knot_seats[knots, 1:] - netting.knot_seats[knots, 1:].mean(axis=0)
    return np.asarray(rim_outline(seats) / np.linalg.norm(seats, axis=1).mean())


def _weights(netting: Netting, knots: Ints) -> Floats:
    """How much of every hoop, and of a round one, is in the rims of some knots (k, hoops + 1) [-]."""
    body = netting.knots_that(lambda kind: kind.body)
    kinds = np.eye(netting.hoop_count + 1)
    places = [
        netting.knot_rows[body & (netting.knot_carriers == hoop)][0] for hoop in range(netting.hoop_count)
    ]
    places.append(max(int(netting.knot_rows[body].max()), places[-1] + 1))
    found = np.stack([np.interp(netting.knot_rows[knots], places, peak) for peak in kinds], axis=1)
    for part in distinct(netting.knot_parts[knots[~body[knots]]]):
        of, row = netting.knot_parts == part, netting.knot_rows
        laced = netting.knot_carriers[netting.bars[netting.bar_parts == part, 0]]
        on_hoops = laced[(laced >= 0) & (laced < netting.hoop_count)]
        hoop = int(on_hoops[0]) if len(on_hoops) else -1
        share = (row[knots] / max(int(row[of].max()), 1))[:, None]
        fading = (1 - share) * kinds[hoop] + share * kinds[-1] if hoop >= 0 else kinds[-1:]
        found = np.where((netting.knot_parts[knots] == part)[:, None], fading, found)
    return found


def rim_outline(points: Floats) -> Floats:
    """Distances of a rim from its middle at even angles, the first once more at the end (193,) [m].

        r(t) = r_1 r_2 sin(t_2 - t_1) / (r_1 sin(t - t_1) + r_2 sin(t_2 - t))

    between two knots that stand next to each other. Source: a straight line in polar coordinates.

    Parameters
    ----------
    points : knots of it, the middle within them (k, 2) [m]

    Examples
    --------
    >>> square = rim_outline(np.array([[0.5, 0.5], [-0.5, 0.5], [-0.5, -0.5], [0.5, -0.5]]))
    >>> square[[0, 24, 48]].round(4).tolist()
    [0.5, 0.7071, 0.5]
    """
    angles = _angles(points)
    order = np.argsort(angles)
    starts, radii = angles[order], np.linalg.norm(points[order], axis=1)
    wanted = even(ANGLES)
    after = np.searchsorted(starts, wanted, side="right") % len(starts)
    before = (after - 1) % len(starts)
    apart = (starts[after] - starts[before]) % TURN
    on = (wanted - starts[before]) % TURN
    one, other = radii[before], radii[after]
    distances = one * other * np.sin(apart) / (one * np.sin(on) + other * np.sin(apart - on))
    return np.append(distances, distances[0])


def rims_at(outlines: Floats, rows: Ints, places: Floats) -> tuple[Floats, Floats]:
    """How far both rims of rows are from the middle where some places are seen from it, and their slopes.

    Straight from one angle told to the next, as in ``rim_outline``; with D what stands below the line there
    they grow with the angle by ``r' = - r D' / D``. Source: derivative of that.

    Parameters
    ----------
    outlines : of all rows, both rims of each (k, 2, 193) [m]
    rows : of the places (c,)
    places : from the row's middle (c, 2) [m]

    Returns
    -------
    distances and slopes (c, 2) each [m]
    """
    steps = _angles(places) / STEP
    number = np.minimum(steps.astype(int), ANGLES - 1)
    before, after = ((steps - number) * STEP)[:, None], ((number + 1 - steps) * STEP)[:, None]
    one, other = (outlines[rows, :, at] for at in (number, number + 1))
    below = one * np.sin(before) + other * np.sin(after)
    distances = one * other * np.sin(STEP) / below
    return distances, -distances * (one * np.cos(before) - other * np.cos(after)) / below


def square_to(outlines: Floats, rows: Ints, places: Floats, along: Floats) -> Floats:
    """Vectors square to netting, outward, along the net and across it (c, 3), their outward part 1 [-].

    Of a surface ``r = R(x, t)``: ``-dR/dx`` along the net, 1 outward, and ``- dR/dt / r`` around. Source: its
    gradient in cylindrical coordinates.

    Parameters
    ----------
    outlines : of all rows, both rims of each (k, 2, 193) [m]
    rows : of the places (c,)
    places : on the netting, from the row's middle (c, 2) [m]
    along : how far the row's rims are apart along the net, and a place's part of that way (c, 2) [m, -]
    """
    distances, slopes = rims_at(outlines, rows, places)
    length, part = along.T
    away = np.maximum(np.linalg.norm(places, axis=1), np.finfo(float).tiny)
    outward = places / away[:, None]
    around = outward[:, ::-1] * (-1.0, 1.0)  # the way in which angles grow
    turning = (slopes[:, 0] + part * np.diff(slopes)[:, 0]) / away
    return np.column_stack([-np.diff(distances)[:, 0] / length, outward - turning[:, None] * around])


def _angles(places: Floats) -> Floats:
    return np.arctan2(places[:, 1], places[:, 0]) % TURN
