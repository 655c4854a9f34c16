"""Water runs slower behind netting: every layer between a place and the open river takes its share."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from net3d.handbook.drag import drag_models
from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats, Ints
from net3d.water.models import caught_solidity, outline_drag
from net3d.water.outlines import rims_at, square_to
from net3d.water.water import Bands, Stream

SAMPLES = 9  # places along a line between which it is looked for whether it meets a row
ROUNDS = 6  # of false position, each of which leaves a small part of the error
AT_ONCE = 60_000  # places times rows, which stay in the processor's cache


def speed_behind(drag_coefficient: Floats) -> Floats:
    """Speed behind netting over that ahead of it, ``1 - 0.46 Cd``, 0 at the least [-].

    Source: Loland 1991, as given in ``handbook/water.csv``.

    >>> speed_behind(np.array([0.2886])).round(4).tolist()
    [0.8672]
    """
    return np.maximum(1.0 - water_constant("speed_loss") * np.asarray(drag_coefficient), 0.0)


def speed_shares(places: Floats, clearances: Floats, bands: Bands, stream: Stream) -> Floats:
    """Speed of the water at some places over that of the open river (k,).

    Looking from each place up the stream, every row of netting that the line of sight crosses at an angle th
    to its normal takes ``0.46 Cd(Sn) cos th``; the shares of several rows multiply.

    Parameters
    ----------
    places : (k, 3) [m]
    clearances : nearer than this a row is the place's own and does not count (k,) [m]
    """
    losses = 1.0 - speed_behind(outline_drag(drag_models()["Loland"], caught_solidity(bands, stream)))
    step = max(1, AT_ONCE // max(len(bands.areas), 1))
    shares = [
        _shares(places[start : start + step], clearances[start : start + step], bands, (stream, losses))
        for start in range(0, len(places), step)
    ]
    return np.concatenate(shares) if shares else np.ones(0)


def _shares(places: Floats, clearances: Floats, bands: Bands, slowed: tuple[Stream, Floats]) -> Floats:
    stream, losses = slowed
    crossings = _crossings if stream.direction[1:].any() else _crossings_along
    shares = np.ones(len(places))
    with np.errstate(divide="ignore", invalid="ignore"):
        for found in (crossings, *([_crossings_shaped] if len(bands.shaped) else [])):
            for place, row, cosines in found(places, clearances, bands, -stream.direction):
                np.multiply.at(shares, place, 1.0 - losses[row] * np.nan_to_num(cosines, nan=0.0))
    return shares


def _crossings_along(
    places: Floats, clearances: Floats, bands: Bands, upstream: Floats
) -> Iterator[tuple[Ints, Ints, Floats]]:
    """As ``_crossings`` for a line along the net, which meets a row where that is as far from its middle.

    A quarter of the arithmetic, for the flow that nearly every spec means, and only with rows up the stream
    that are about as wide: a large net has many rows.
    """
    met = _may_be_met(places, bands, upstream[0])
    lengths, widenings = np.diff(bands.places[met])[:, 0], np.diff(bands.radii[met])[:, 0]
    right, up = (places[:, [axis]] - bands.middles[met, axis - 1] for axis in (1, 2))
    down = (np.sqrt(right * right + up * up) - bands.radii[met, 0]) / widenings
    distances = (lengths * down + bands.places[met, 0] - places[:, :1]) * upstream[0]
    place, row = np.nonzero((down >= 0) & (down < 1) & (distances > clearances[:, None]))
    yield place, met[row], (np.abs(widenings) / np.hypot(lengths, widenings))[row]


def _may_be_met(places: Floats, bands: Bands, toward: float) -> Ints:
    """Round rows that lines along the net from some places may meet: about as wide, and up the stream."""
    axis = bands.middles.mean(axis=0)
    beside = np.linalg.norm(places[:, 1:] - axis, axis=1)
    off = np.linalg.norm(bands.middles - axis, axis=1)
    wide = (bands.radii.max(axis=1) + off >= beside.min()) & (bands.radii.min(axis=1) - off <= beside.max())
    ahead = (bands.places * toward).max(axis=1) > (places[:, 0] * toward).min()
    met = wide & ahead
    met[bands.shaped] = False
    return np.flatnonzero(met)


def _crossings(
    places: Floats, clearances: Floats, bands: Bands, upstream: Floats
) -> Iterator[tuple[Ints, Ints, Floats]]:
    """Which places (c,) see which rows (c,) up the stream, and the cosine of the angle there (c,), twice.

    Roots of ``a^2 |p + s v|^2 = (r_0 a + b (x + s v_x - x_0))^2`` with 0 < (x - x_0) / a < 1.

    Source: a straight line cut with a cone.
    """
    round_rows = np.delete(np.arange(len(bands.areas)), bands.shaped)
    rims, radii, middles = bands.places[round_rows], bands.radii[round_rows], bands.middles[round_rows]
    lengths, widenings = np.diff(rims)[:, 0], np.diff(radii)[:, 0]
    right, up = (places[:, [axis]] - middles[:, axis - 1] for axis in (1, 2))
    ahead = places[:, :1] - rims[:, 0]
    cone = radii[:, 0] * lengths + widenings * ahead
    square = lengths**2 * (upstream[1:] @ upstream[1:]) - (widenings * upstream[0]) ** 2
    half = lengths**2 * (upstream[1] * right + upstream[2] * up) - cone * (widenings * upstream[0])
    rest = lengths**2 * (right * right + up * up) - cone * cone
    depth = np.sqrt(half * half - square * rest)
    for sign in (-1.0, 1.0):
        distances = (-half + sign * depth) / square
        down = (ahead + distances * upstream[0]) / lengths
        there = radii[:, 0] + widenings * down
        crossed = (distances > clearances[:, None]) & (down >= 0) & (down < 1) & (there >= 0)
        place, row = np.nonzero(crossed)
        far = distances[place, row]
        to_right, to_up = right[place, row] + far * upstream[1], up[place, row] + far * upstream[2]
        outward = (to_right * upstream[1] + to_up * upstream[2]) / np.hypot(to_right, to_up)
        facing = np.abs(lengths[row] * outward - widenings[row] * upstream[0])
        yield place, round_rows[row], facing / np.hypot(lengths, widenings)[row]


def _crossings_shaped(
    places: Floats, clearances: Floats, bands: Bands, upstream: Floats
) -> Iterator[tuple[Ints, Ints, Floats]]:
    """As ``_crossings``, with rows that are not round: where a line changes from inside one to outside.

    It is looked for between a few places along the line, and then by false position; along the net what a
    line is off a row grows evenly, and two places do.
    """
    samples, rounds = (SAMPLES, ROUNDS) if upstream[1:].any() else (2, 1)
    place, row, reach = _stretches(places, clearances, bands, upstream)
    ways = np.linspace(*reach, samples)
    found = [_off(_seen(places[place], row, way, bands, upstream), row, bands) for way in ways]
    for (start, end), (before, after) in zip(pairwise(ways), pairwise(found), strict=True):
        met = np.flatnonzero((before < 0) != (after < 0))
        seen, rows = places[place[met]], row[met]
        ends = np.stack([start[met], end[met], before[met], after[met]])
        for _ in range(rounds):
            ends, there = _nearer(ends, seen, rows, bands, upstream)
        normals = square_to(bands.outlines, rows, *there)
        yield place[met], rows, np.abs(normals @ upstream) / np.linalg.norm(normals, axis=1)


def _nearer(
    ends: Floats, places: Floats, rows: Ints, bands: Bands, upstream: Floats
) -> tuple[Floats, tuple[Floats, Floats]]:
    """Two ways that a row is between, and how far they are off it (4, c) [m], a round on; what is there.

    Source: false position, an end that stays counting half (Illinois).
    """
    low, high, below, above = ends
    way = low - below * (high - low) / (above - below)
    there = _seen(places, rows, way, bands, upstream)
    off = _off(there, rows, bands)
    past = (off < 0) == (above < 0)
    upper = np.stack([low, way, below / 2, off])
    return np.where(past, upper, np.stack([way, high, off, above / 2])), there


def _stretches(
    places: Floats, clearances: Floats, bands: Bands, upstream: Floats
) -> tuple[Ints, Ints, tuple[Floats, Floats]]:
    """Which places (c,) may see which rows that are not round (c,), and from how far to how far (c,) twice.

    That is where the line is between the row's rims, and within what is as wide as the row is anywhere.
    """
    rows = bands.shaped
    least, most = (of(bands.outlines[rows], axis=(1, 2)) for of in (np.min, np.max))
    one, other = ((bands.places[rows, end] - places[:, :1]) / upstream[0] for end in (0, 1))
    near, far = np.maximum(np.minimum(one, other), clearances[:, None]), np.maximum(one, other)
    right, up = (places[:, [axis]] - bands.middles[rows, axis - 1] for axis in (1, 2))
    square, rest = float(upstream[1:] @ upstream[1:]), right * right + up * up
    if square:
        half = right * upstream[1] + up * upstream[2]
        depth = np.sqrt(half**2 - square * (rest - most**2))
        near, far = np.maximum(near, (-half - depth) / square), np.minimum(far, (depth - half) / square)
        kept = near < far
    else:
        kept = (near < far) & (rest >= least**2) & (rest <= most**2)
    place, number = np.nonzero(kept)
    return place, rows[number], (near[kept], far[kept])


def _seen(places: Floats, rows: Ints, ways: Floats, bands: Bands, upstream: Floats) -> tuple[Floats, Floats]:
    """Places so far up the stream (c,) [m], from the rows' middles, and how far along them."""
    at = places + ways[:, None] * upstream
    lengths = np.diff(bands.places)[rows, 0]
    along = np.column_stack([lengths, (at[:, 0] - bands.places[rows, 0]) / lengths])
    return at[:, 1:] - bands.middles[rows], along


def _off(seen: tuple[Floats, Floats], rows: Ints, bands: Bands) -> Floats:
    """How far outside a row each of some places is (c,) [m]."""
    across, along = seen
    rims, _ = rims_at(bands.outlines, rows, across)
    return np.asarray(np.linalg.norm(across, axis=1) - rims[:, 0] - along[:, 1] * np.diff(rims)[:, 0])
