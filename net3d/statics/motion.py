"""How knots may move: positions as a linear map of the free coordinates, x = A q + c."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.netting import FREE, Floats, Ints, Netting
from net3d.outline.pose import Pose
from net3d.statics.bending import Mode, Wave, bent_pose, wave_moves, waves_of
from net3d.statics.matrix import Matrix, side_by_side

AXES = "xyz"


@dataclass(frozen=True, eq=False)
class Motion:
    """``positions.ravel() = matrix @ coordinates + constant``. Source: definition.

    ``matrix`` is (3 n, coordinates), sparse; ``constant`` (3 n,) [m]. The coordinates of the free knots,
    three each, follow those of the carriers' shifts; then come tilts, and the waves of hoops that bend, which
    alone have ``stiffnesses`` K: an amplitude a costs ``K a^2 / 2``. Where some are shared since they repeat
    around, ``sharing`` gives all of them; columns are numbers of these.
    """

    matrix: Matrix
    constant: Floats
    carrier_columns: Ints  # (carriers, 3) coordinate of a carrier's shift along x, y, z, or -1
    carrier_offsets: Floats  # (carriers,) how far a rod keeps it along x from what moves it [m]
    tilt_columns: Ints  # (carriers, 3) coordinate of its turn about x, y, z, or -1
    tilt_arms: Floats  # (carriers,) to its rim, which such a coordinate moves by as much [m]
    stiffnesses: Floats  # (coordinates,) [N/m]
    waves: tuple[Wave | Mode, ...]  # of the last coordinates
    sharing: Matrix | None = None  # (all coordinates, coordinates)

    @property
    def carrier_coordinate_count(self) -> int:
        """How many coordinates the carriers have."""
        return int(self.carrier_columns.max(initial=-1)) + 1

    def positions(self, coordinates: Floats) -> Floats:
        """Knot positions (n, 3) [m]."""
        return (self.matrix @ coordinates + self.constant).reshape(-1, 3)

    def all_coordinates(self, coordinates: Floats) -> Floats:
        """The coordinates before any were shared [m, rad]."""
        return coordinates if self.sharing is None else self.sharing @ coordinates

    def poses(self, coordinates: Floats, count: int) -> tuple[Pose, ...]:
        """How the first ``count`` carriers, the hoops, stand by their coordinates [m, rad]."""
        grown = dict(zip(self.waves, coordinates[len(coordinates) - len(self.waves) :].tolist(), strict=True))
        every = np.append(self.all_coordinates(coordinates), 0.0)  # what does not move has the column -1
        places = every[self.carrier_columns[:count, 0]] + self.carrier_offsets[:count]
        turns = every[self.tilt_columns[:count]] / self.tilt_arms[:count, None]
        return tuple(
            bent_pose(Pose(place, about_y, -about_z, about_x), grown, number)
            for number, (place, (about_x, about_y, about_z)) in enumerate(
                zip(places.tolist(), turns.tolist(), strict=True)
            )
        )


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
    moving = knot_columns.ravel()[rows]
    shifts = Matrix(rows, moving, np.ones(len(rows)), (3 * count, used + 3 * len(free)))
    tilting, arms = _tilting(netting), _arms(netting)
    tilt_columns = np.full_like(columns, -1)
    tilt_columns[tilting] = shifts.shape[1] + np.arange(3 * len(tilting)).reshape(-1, 3)
    tilts = [_tilt(netting, number, arms[number]) for number in tilting]
    waves = waves_of(netting)
    matrix = side_by_side([shifts, *tilts, wave_moves(netting, waves)])
    stiffnesses = np.zeros(matrix.shape[1])
    stiffnesses[matrix.shape[1] - len(waves) :] = [wave.stiffness for wave in waves]
    return Motion(matrix, constant.ravel(), columns, offsets, tilt_columns, arms, stiffnesses, waves)


def _tilting(netting: Netting) -> list[int]:
    """Numbers of the carriers that tilt: those at the end of rods are held parallel by them."""
    return [
        number
        for number, carrier in enumerate(netting.carriers)
        if carrier.tilts
        and "x" in carrier.slides
        and carrier.follows is None
        and np.any(netting.knot_carriers == number)
    ]


def _arms(netting: Netting) -> Floats:
    """How far the farthest knot of every carrier is from its middle (carriers,), or 1 [m]."""
    riding = np.flatnonzero(netting.knot_carriers != FREE)
    arms = np.zeros(len(netting.carriers))
    np.maximum.at(arms, netting.knot_carriers[riding], np.linalg.norm(netting.knot_seats[riding], axis=1))
    return np.where(arms > 0, arms, 1.0)


def _tilt(netting: Netting, number: int, arm: float) -> Matrix:
    """Three columns (3 n, 3): how a carrier's knots move as its rim, an arm [m] away, does by a metre.

    A small turn w moves a seat s by ``w x s``; w is about x, y or z, of a metre over the largest seat. A hoop
    that is not true is pulled around by the netting too: held, it would be pulled far more unevenly.
    """
    knots = np.flatnonzero(netting.knot_carriers == number)
    moves = np.cross(np.eye(3)[:, None], netting.knot_seats[knots] / arm).reshape(3, -1)
    rows, columns = (3 * knots[:, None] + np.arange(3)).ravel(), np.arange(3)
    places = np.tile(rows, 3), np.repeat(columns, len(rows))
    return Matrix(*places, moves.ravel(), (3 * len(netting.knot_carriers), 3))


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
