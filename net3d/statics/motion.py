"""How knots may move: positions as a linear map of the free coordinates, x = A q + c."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from net3d.netting.netting import FREE, Floats, Ints, Netting

AXES = "xyz"


@dataclass(frozen=True, eq=False)
class Motion:
    """``positions.ravel() = matrix @ coordinates + constant``.

    ``matrix`` is (3 n, coordinates), sparse; ``constant`` (3 n,) [m]. ``carrier_columns`` (carriers, 3)
    holds the coordinate of each carrier's shift along x, y, z, or -1. The coordinates of the free
    knots, three each, follow those of the carriers; those of tilts come last.
    """

    matrix: sparse.csr_matrix
    constant: Floats
    carrier_columns: Ints

    @property
    def carrier_coordinate_count(self) -> int:
        """How many coordinates the carriers have."""
        return int(self.carrier_columns.max(initial=-1)) + 1

    def positions(self, coordinates: Floats) -> Floats:
        """Knot positions (n, 3) [m]."""
        return np.asarray(self.matrix @ coordinates + self.constant).reshape(-1, 3)


def free_motion(netting: Netting) -> Motion:
    """The motion of every knot of a net, free or riding on a carrier."""
    columns, offsets = _carrier_coordinates(netting)
    used = int(columns.max(initial=-1)) + 1
    count = len(netting.knot_carriers)
    free = np.flatnonzero(netting.knot_carriers == FREE)
    riding = np.flatnonzero(netting.knot_carriers != FREE)
    knot_columns = np.full((count, 3), -1)
    knot_columns[free] = used + np.arange(3 * len(free)).reshape(-1, 3)
    knot_columns[riding] = columns[netting.knot_carriers[riding]]
    constant = netting.knot_seats.copy()
    constant[riding, 0] += offsets[netting.knot_carriers[riding]]
    rows = np.flatnonzero(knot_columns.ravel() >= 0)
    shifts = sparse.csr_matrix(
        (np.ones(len(rows)), (rows, knot_columns.ravel()[rows])),
        shape=(3 * count, used + 3 * len(free)),
    )
    matrix = sparse.csr_matrix(sparse.hstack([shifts, *_tilts(netting)]))
    return Motion(matrix, constant.ravel(), columns)


def _tilts(netting: Netting) -> list[sparse.csr_matrix]:
    """Three columns (3 n, 3) for every carrier that tilts: how its knots move as its rim does by a metre.

    A small turn w moves a seat s by ``w x s``; w is about x, y or z, of a metre over the largest seat. A hoop
    that is not true is pulled around by the netting too: held, it would be pulled far more unevenly. Carriers
    at the end of rods are held parallel by them.
    """
    matrices = []
    for number, carrier in enumerate(netting.carriers):
        knots = np.flatnonzero(netting.knot_carriers == number)
        if not (carrier.tilts and "x" in carrier.slides and carrier.follows is None and knots.size):
            continue
        seats = netting.knot_seats[knots] / np.linalg.norm(netting.knot_seats[knots], axis=1).max()
        for axis in range(3):
            moves = np.cross(np.eye(3)[axis], seats)
            rows = (3 * knots[:, None] + np.arange(3)).ravel()
            column = (moves.ravel(), (rows, np.zeros(len(rows), dtype=int)))
            matrices.append(sparse.csr_matrix(column, shape=(3 * len(netting.knot_carriers), 1)))
    return matrices


def _carrier_coordinates(netting: Netting) -> tuple[Ints, Floats]:
    """Coordinate numbers (carriers, 3) of the carriers' shifts and their offsets along x (carriers,) [m].

    Carriers that rods join move as one, and only where every one of them can.
    """
    leaders = _leaders(netting)
    columns = np.full((len(netting.carriers), 3), -1)
    offsets = np.zeros(len(netting.carriers))
    used = 0
    for number, carrier in enumerate(netting.carriers):
        if carrier.follows is not None:
            columns[number] = columns[carrier.follows]
            offsets[number] = offsets[carrier.follows] + carrier.offset
            continue
        joined = [netting.carriers[other].slides for other in np.flatnonzero(leaders == number)]
        for axis in carrier.slides:
            if all(axis in slides for slides in joined):
                columns[number, AXES.index(axis)] = used
                used += 1
    return columns, offsets


def _leaders(netting: Netting) -> Ints:
    """The first carrier (carriers,) of those that rods join to each."""
    leaders = np.arange(len(netting.carriers))
    for number, carrier in enumerate(netting.carriers):
        if carrier.follows is not None:
            leaders[number] = leaders[carrier.follows]
    return leaders
