"""Openings in a section: which knots are cut out for a frame, and where what is left is sewn to it."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from net3d.spec.escapes import EscapeSpec

if TYPE_CHECKING:
    from net3d.plan.plan import HoopPlan, SectionPlan

Floats = NDArray[np.float64]
Knot = tuple[int, int]  # row of the body, from the mouth hoop's, and place around, both from 0
TURN = 2 * pi
DENSE = 721  # points of a ring, or of half a mouth hoop


@dataclass(frozen=True, eq=False)
class Aperture:
    """One opening: what is cut out, and where the knots around it are sewn to its frame."""

    angle: float  # of its middle, from the top, clockwise [rad]
    out: float  # from the net's axis to its frame [m]
    cut: tuple[Knot, ...]
    bars: int  # that end there
    rim: tuple[Knot, ...]  # that lose a bar, in order around
    seats: Floats  # (k, 2) on the frame, where the rim is laced, and corners, in order: along, around [m]
    sewn: tuple[int, ...]  # which of the seats are for the rim

    def places(self) -> Floats:
        """The seats from the net's axis (k, 3) [m]."""
        out = np.array([0.0, -sin(self.angle), cos(self.angle)])
        around = np.array([0.0, -cos(self.angle), -sin(self.angle)])
        along = np.array([1.0, 0.0, 0.0])
        return np.asarray(self.out * out + self.seats[:, :1] * along + self.seats[:, 1:] * around)

    @property
    def outward(self) -> Floats:
        """From the net's axis through its middle (3,) [-]."""
        return np.array([0.0, -sin(self.angle), cos(self.angle)])


def aperture_of(
    said: EscapeSpec,
    angle: float,
    hoops: tuple[HoopPlan, HoopPlan],
    section: SectionPlan,
    stretched: float,
) -> Aperture:
    """Knots well within the frame are cut out; those that lose a bar, about where it is, are laced to it.

    Parameters
    ----------
    said : which opening
    angle : of its middle from the top [rad]
    hoops, section : between which it stands, and the netting there
    stretched : mesh [m]
    """
    first = hoops[0].knot_row
    stand, inside = _inside(said, angle, hoops, section, stretched)
    cut, rim, bars = set[Knot](), set[Knot](), 0
    for number, join in enumerate(section.piece.joins):
        upper, lower = join.bars()
        gone = inside[number][upper], inside[number + 1][lower]
        bars += int((gone[0] | gone[1]).sum())
        cut |= {(number, int(knot)) for knot in upper[gone[0]]}
        cut |= {(number + 1, int(knot)) for knot in lower[gone[1]]}
        rim |= {(number, int(knot)) for knot in upper[gone[1] & ~gone[0]]}
        rim |= {(number + 1, int(knot)) for knot in lower[gone[0] & ~gone[1]]}
    ordered = sorted(rim, key=lambda knot: _bearing(stand[knot[0]][knot[1]]))
    seats, sewn = _sewn(said, np.array([stand[row][place] for row, place in ordered]))
    return Aperture(
        angle,
        mean_radius(hoops),
        tuple(sorted((first + row, place) for row, place in cut)),
        bars,
        tuple((first + row, place) for row, place in ordered),
        seats,
        sewn,
    )


def row_step(hoops: tuple[HoopPlan, ...], stretched: float) -> float:
    """From a row of knots to the next along the net, as it hangs between hoops [m]: ``m E2 / 2``."""
    return stretched / 2 * sum(hoop.depth_ratio for hoop in hoops) / len(hoops)


def mean_radius(hoops: tuple[HoopPlan, ...]) -> float:
    """Of the knots on some hoops [m]."""
    return sum(hoop.knot_circle_diameter for hoop in hoops) / len(hoops) / 2


def _stand(
    angle: float, hoops: tuple[HoopPlan, HoopPlan], section: SectionPlan, stretched: float
) -> list[Floats]:
    """Where a section's knots stand, row by row, along the net and around from an opening's middle [m]."""
    step, radius, rows = row_step(hoops, stretched), mean_radius(hoops), section.piece.rows
    return [
        np.column_stack(
            [np.full(row.count, (number - (len(rows) - 1) / 2) * step), radius * _near(row.angles() - angle)]
        )
        for number, row in enumerate(rows)
    ]


def seam_of(
    said: EscapeSpec, hoops: tuple[HoopPlan, HoopPlan], section: SectionPlan, stretched: float
) -> tuple[tuple[Knot, Knot], ...]:
    """Bars from a panel to the netting around it, but for those toward the mouth, by which it hangs.

    Parameters
    ----------
    said : which panel
    hoops, section : between which it stands, and the netting there
    stretched : mesh [m]
    """
    _, inside = _inside(said, TURN * said.turn, hoops, section, stretched)
    first = hoops[0].knot_row
    hinge = next(number for number, own in enumerate(inside) if own.any())
    seam = list[tuple[Knot, Knot]]()
    for number, join in enumerate(section.piece.joins[hinge:], start=hinge):
        upper, lower = join.bars()
        edge = inside[number][upper] != inside[number + 1][lower]
        ends = zip(upper[edge].tolist(), lower[edge].tolist(), strict=True)
        seam += [((first + number, above), (first + number + 1, below)) for above, below in ends]
    return tuple(seam)


def _inside(
    said: EscapeSpec,
    angle: float,
    hoops: tuple[HoopPlan, HoopPlan],
    section: SectionPlan,
    stretched: float,
) -> tuple[list[Floats], list[NDArray[np.bool_]]]:
    """Where a section's knots stand about an opening, row by row, and which are well within it."""
    pitch = mean_radius(hoops) * section.piece.rows[0].pitch
    stand = _stand(angle, hoops, section, stretched)
    inside = [_within(said, at, (row_step(hoops, stretched) / 2, pitch / 4)) for at in stand]
    if any(own.any() for own in inside):
        return stand, inside
    row = len(stand) // 2  # little more than a mesh: about the knot that is nearest
    nearest = stand[row][np.abs(stand[row][:, 1]).argmin()]
    stand = [at - nearest for at in stand]
    return stand, [np.hypot(*at.T) < pitch / 4 for at in stand]


def _near(angles: Floats) -> Floats:
    """Angles from -pi to pi [rad]."""
    return np.asarray((angles + pi) % TURN - pi)


def _within(said: EscapeSpec, at: Floats, nearer: tuple[float, float]) -> NDArray[np.bool_]:
    """Which places (k, 2) [m] lie inside a frame by so much along the net and around [m]."""
    shares = np.abs(at) / np.maximum(np.array(said.size) / 2 - nearer, 1e-9)
    return np.asarray(np.hypot(*shares.T) < 1.0 if said.round else (shares < 1.0).all(axis=1))


def _bearing(at: Floats) -> float:
    """Around the frame's middle, from straight toward the tail [rad]."""
    return float(np.arctan2(at[1], at[0]) % TURN)


def _edge(said: EscapeSpec) -> Floats:
    """A frame as a closed line of points (k, 2) [m], from the middle of its side toward the tail."""
    along, around = (whole / 2 for whole in said.size)
    if said.round:
        arcs = np.linspace(0.0, TURN, DENSE)
        return np.column_stack([along * np.cos(arcs), around * np.sin(arcs)])
    corners = [(1, 0), (1, 1), (-1, 1), (-1, -1), (1, -1), (1, 0)]
    return np.array(corners) * (along, around)


def _sewn(said: EscapeSpec, stand: Floats) -> tuple[Floats, tuple[int, ...]]:
    """Places on a frame, nearest to where each knot stands, and of its corners, in order around."""
    edge = _edge(said)
    reached = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(edge, axis=0), axis=1))])
    girth, starts, ways = reached[-1], edge[:-1], np.diff(edge, axis=0)
    shares = ((stand[:, None] - starts) * ways).sum(axis=2) / (ways**2).sum(axis=1)
    nearest = starts + shares.clip(0.0, 1.0)[:, :, None] * ways
    side = np.linalg.norm(stand[:, None] - nearest, axis=2).argmin(axis=1)
    own = np.arange(len(stand))
    at = reached[side] + shares.clip(0.0, 1.0)[own, side] * np.diff(reached)[side]
    corners = reached[1:-1] if not said.round else np.arange(12) * girth / 12
    every = np.concatenate([at, [one for one in corners if np.abs(at - one).min() > 1e-6 * girth]])
    order = np.argsort(every, kind="stable")
    places = np.column_stack([np.interp(every[order], reached, edge[:, axis]) for axis in (0, 1)])
    where = np.empty(len(every), dtype=int)
    where[order] = np.arange(len(every))
    return places, tuple(where[: len(stand)].tolist())
