"""Netting row by row: outline, solidity and how it stands to the flow."""

from __future__ import annotations

import numpy as np

from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats, Ints, Netting
from net3d.netting.sorting import distinct
from net3d.water.outlines import row_shapes, square_to
from net3d.water.water import Bands

KNOTS_PER_BAR = 0.5  # four bars meet in a knot, each shared by two
SMALL = 1e-12


def netting_bands(netting: Netting, positions: Floats) -> Bands:
    """Every row of netting as a ring cut from a cone, knots at some positions (n, 3) [m].

    ``outline = pi (r_0 + r_1) sqrt((x_1 - x_0)^2 + (r_1 - r_0)^2)``, times by how much rims are longer
    than round ones of the same mean radius: a square's by 11 %. On frames the cone is shaped as these are.
    Knots count as balls of three twine diameters, less the bars that run through them,
    ``(pi k^2 / 4 - 2 k + 1) d^2`` each, k = 3. Source: geometry.
    """
    bar_bands, parts = _number_rows(netting)
    own = np.flatnonzero(bar_bands >= 0)
    rows = bar_bands[own]
    counts = np.bincount(rows)
    ends = positions[netting.bars[own]]
    middles = np.stack([_mean(rows, counts, ends[:, :, axis].mean(axis=1)) for axis in (1, 2)], axis=1)
    across = np.linalg.norm(ends[:, :, 1:] - middles[rows][:, None], axis=2)
    places = np.stack([_mean(rows, counts, ends[:, end, 0]) for end in (0, 1)], axis=1)
    radii = np.stack([_mean(rows, counts, across[:, end]) for end in (0, 1)], axis=1)
    longer = np.stack([_longer(rows, netting.bars[own, end], positions, radii[:, end]) for end in (0, 1)], 1)
    slants = np.hypot(np.diff(places)[:, 0], np.diff(radii)[:, 0])
    shaped, shapes = row_shapes(netting, bar_bands, parts)
    diameters = netting.bar_diameters[own]
    spans = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    return Bands(
        bar_bands=bar_bands,
        parts=parts,
        places=places,
        radii=radii,
        middles=middles,
        areas=np.maximum(np.pi * (longer * radii).sum(axis=1) * slants, SMALL),
        counts=counts,
        twine_areas=np.asarray(np.bincount(rows, diameters * spans), dtype=float),
        knot_areas=np.asarray(np.bincount(rows, KNOTS_PER_BAR * knot_area(diameters)), dtype=float),
        diameters=_mean(rows, counts, diameters),
        bar_lengths=_mean(rows, counts, netting.bar_lengths[own]),
        shaped=shaped,
        outlines=shapes * radii[..., None] if len(shaped) else shapes,
    )


def _longer(rows: Ints, knots: Ints, positions: Floats, radii: Floats) -> Floats:
    """The way around each row's rim over that of a round one of the same mean radius, knot to knot (k,) [-].

    Source: n knots on a circle are ``2 r sin(pi / n)`` apart.

    Parameters
    ----------
    rows, knots : of every bar, its row and its knot on the rim (m,)
    positions : of all knots (n, 3) [m]
    radii : mean of each rim (k,) [m]
    """
    rim, on_rim = np.divmod(distinct(rows * len(positions) + knots), len(positions))  # in order around
    count = np.bincount(rim)
    firsts = np.cumsum(count) - count
    ahead = np.arange(1, len(rim) + 1)
    ahead[firsts + count - 1] = firsts
    places = positions[on_rim, 1:]
    around = np.bincount(rim, np.linalg.norm(places[ahead] - places, axis=1))
    return np.asarray(around / np.maximum(2 * count * np.sin(np.pi / count) * radii, SMALL))


def knot_area(diameters: Floats) -> Floats:
    """What a knot covers besides the bars through it, by the diameter of its twine [m^2]."""
    across = water_constant("knot_across")
    return np.asarray((np.pi * across**2 / 4 - 2 * across + 1) * diameters**2)


def bar_normals(netting: Netting, positions: Floats, bands: Bands) -> Floats:
    """Unit normals of the netting at its bars, outward (m, 3) [-]; 0 for strings and lines."""
    normals = np.zeros((len(netting.bars), 3))
    own = np.flatnonzero(bands.bar_bands >= 0)
    rows = bands.bar_bands[own]
    outward = positions[netting.bars[own]].mean(axis=1)[:, 1:] - bands.middles[rows]
    outward /= np.maximum(np.linalg.norm(outward, axis=1), SMALL)[:, None]
    along, widening = np.diff(bands.places)[rows, 0], np.diff(bands.radii)[rows, 0]
    slants = np.maximum(np.hypot(along, widening), SMALL)
    normals[own] = np.column_stack([-widening, along[:, None] * outward]) / slants[:, None]
    bent = own[np.isin(rows, bands.shaped)]
    if len(bent):
        bent_rows = bands.bar_bands[bent]
        middles = positions[netting.bars[bent]].mean(axis=1)[:, 1:] - bands.middles[bent_rows]
        lengths = np.diff(bands.places)[bent_rows, 0]
        halfway = np.column_stack([lengths, np.full(len(bent), 0.5)])
        outward = square_to(bands.outlines, bent_rows, middles, halfway)
        normals[bent] = outward / np.linalg.norm(outward, axis=1)[:, None]
    return normals


def _number_rows(netting: Netting) -> tuple[Ints, Ints]:
    """The number of its row for every bar (m,), -1 where it is in none, and the part of every row (k,)."""
    netted = netting.bars_that(lambda kind: kind.shelters)
    longest = int(netting.bar_rows.max(initial=0)) + 1
    keys = netting.bar_parts[netted] * longest + netting.bar_rows[netted]
    rows, numbers = np.unique(keys, return_inverse=True)
    bar_bands = np.full(len(netting.bars), -1)
    bar_bands[netted] = numbers
    return bar_bands, rows // longest


def _mean(rows: Ints, counts: Ints, values: Floats) -> Floats:
    return np.asarray(np.bincount(rows, values) / counts)
