"""A net under construction: rings of knots and runs of bars, gathered into one Netting at the end."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np

from net3d.netting.netting import FREE, NONE, Carrier, Floats, Ints, Netting
from net3d.outline.outline import Outline
from net3d.parts import Part

Number = TypeVar("Number", int, float)


@dataclass(frozen=True)
class Cord:
    """What a bar is made of: one kind of twine or rope. SI units."""

    diameter: float
    stiffness: float  # EA as it begins to pull [N]
    strength: float
    weight: float = 0.0  # in water, per metre of bar, its share of the knots included [N/m]
    stiffening: float = 0.0  # what every newton adds to the stiffness [-]


@dataclass(frozen=True)
class Seat:
    """What knots ride on: nothing, a point, or a hoop, ``inside`` its outline by so much [m]."""

    carrier: int = FREE
    outline: Outline | None = None
    inside: float = 0.0

    def places(self, arcs: Floats) -> Floats:
        """Places on the carrier (k, 3) [m] at some arcs from the top: that is how a tape finds them."""
        if self.outline is None:
            return np.zeros((len(arcs), 3))
        return self.outline.points(arcs, self.inside)


UNSEATED = Seat()


@dataclass(frozen=True, eq=False)
class Ring:
    """Knots around the axis: a row of netting, or a single knot on the axis.

    Rings that are ``one`` of something together, such as two ends of frames, are the same ring.
    """

    part: Part
    row: int
    angles: Floats
    seat: Seat = UNSEATED
    one: tuple[object, ...] = ()


@dataclass(frozen=True, eq=False)
class Bars:
    """A row of bars of a part. ``length`` is the rest length [m], only about it where it is fitted."""

    part: Part
    row: int
    ends: Ints  # (k, 2) knot numbers
    length: float
    cord: Cord
    fit: int = NONE
    run: int = NONE


@dataclass
class Fabric:
    """Collects rings and bars; the only mutable thing of this stage, gone when the Netting is made."""

    carriers: list[Carrier] = field(default_factory=list)
    weighed: bool = False  # bars have their own weight, of the kinds of parts that are weighed
    fits: list[tuple[float, float]] = field(default_factory=list)  # tension [N] and least length [m]
    runs: list[tuple[float, Cord]] = field(default_factory=list)  # length [m] and what it is
    _rings: list[Ring] = field(default_factory=list)
    _bars: list[Bars] = field(default_factory=list)
    _loads: list[tuple[Ints, Floats]] = field(default_factory=list)
    _knot_count: int = 0

    def add_carrier(self, carrier: Carrier) -> int:
        """Number of the new carrier."""
        self.carriers.append(carrier)
        return len(self.carriers) - 1

    def add_ring(self, ring: Ring) -> Ints:
        """Numbers of the ring's knots."""
        knots = np.arange(self._knot_count, self._knot_count + len(ring.angles))
        self._knot_count += len(knots)
        self._rings.append(ring)
        return knots

    def body_row(self, row: int) -> tuple[Ints, Floats]:
        """Knots (k,) of a row of the body, counted from the mouth, and their angles (k,) [rad]."""
        start = 0
        for ring in self._rings:
            if ring.row == row and ring.part.kind.body:
                return start + np.arange(len(ring.angles)), ring.angles
            start += len(ring.angles)
        raise IndexError(f"the body has no row {row}")

    def add_bars(self, bars: Bars) -> None:
        """One row of bars of a part."""
        self._bars.append(bars)

    def add_fit(self, tension: float, least: float) -> int:
        """Number of a length to be fitted.

        Parameters
        ----------
        tension : of all its bars together [N]
        least : that it is not shorter than [m]
        """
        self.fits.append((tension, least))
        return len(self.fits) - 1

    def add_run(self, length: float, cord: Cord) -> int:
        """Number of a running line.

        Parameters
        ----------
        length : of all its spans, at rest [m]
        cord : what it is made of
        """
        self.runs.append((length, cord))
        return len(self.runs) - 1

    def add_load(self, knots: Ints, force: Floats) -> None:
        """Spread a force (3,) [N] evenly over some knots."""
        self._loads.append((knots, force / len(knots)))

    def finish(self, hoop_count: int, pull: float) -> Netting:
        """The whole net as arrays, under a pull along it [N]."""
        tied = [*(bars.part for bars in self._bars), *(ring.part for ring in self._rings)]
        parts = tuple(dict.fromkeys(tied))
        return Netting(
            parts=parts,
            carriers=tuple(self.carriers),
            hoop_count=hoop_count,
            fit_tensions=np.array([tension for tension, _ in self.fits], dtype=float),
            fit_least=np.array([least for _, least in self.fits], dtype=float),
            run_lengths=np.array([length for length, _ in self.runs], dtype=float),
            run_stiffnesses=np.array([cord.stiffness for _, cord in self.runs], dtype=float),
            run_stiffening=np.array([cord.stiffening for _, cord in self.runs], dtype=float),
            pull=pull,
            **self._knot_arrays(parts),
            **self._bar_arrays(parts, pull),
        )

    def _knot_arrays(self, parts: tuple[Part, ...]) -> dict[str, np.ndarray]:
        rings = self._rings
        counts = [len(ring.angles) for ring in rings]
        angles = np.concatenate([ring.angles for ring in rings])
        loads = np.zeros((len(angles), 3))
        for knots, force in self._loads:
            loads[knots] += force
        return {
            "knot_carriers": np.repeat([ring.seat.carrier for ring in rings], counts),
            "knot_seats": np.concatenate([ring.seat.places(ring.angles) for ring in rings]),
            "knot_parts": np.repeat([parts.index(ring.part) for ring in rings], counts),
            "knot_rows": np.repeat([ring.row for ring in rings], counts),
            "knot_rings": np.repeat(_ring_numbers(rings), counts),
            "knot_angles": angles,
            "knot_loads": loads,
        }

    def _weight(self, bars: Bars) -> float:
        return bars.cord.weight if self.weighed and bars.part.kind.weighed else 0.0

    def _bar_arrays(self, parts: tuple[Part, ...], pull: float) -> dict[str, np.ndarray]:
        rows = self._bars
        counts = [len(bars.ends) for bars in rows]

        def spread(values: list[Number]) -> np.ndarray:
            return np.repeat(np.asarray(values), counts)

        return {
            "bars": np.concatenate([bars.ends for bars in rows]),
            "bar_lengths": spread([bars.length for bars in rows]),
            "bar_stiffnesses": spread([bars.cord.stiffness for bars in rows]),
            "bar_stiffening": spread([bars.cord.stiffening for bars in rows]),
            "bar_expected": spread([pull / len(b.ends) if b.part.kind.body else 0.0 for b in rows]),
            "bar_strengths": spread([bars.cord.strength for bars in rows]),
            "bar_diameters": spread([bars.cord.diameter for bars in rows]),
            "bar_weights": spread([bars.length * self._weight(bars) for bars in rows]),
            "bar_parts": spread([parts.index(bars.part) for bars in rows]),
            "bar_rows": spread([bars.row for bars in rows]),
            "bar_fits": spread([bars.fit for bars in rows]),
            "bar_runs": spread([bars.run for bars in rows]),
            "bar_seams": np.full(sum(counts), NONE),
        }


def _ring_numbers(rings: list[Ring]) -> Ints:
    """The number of every ring, which those that are one share."""
    names = [ring.one or (number,) for number, ring in enumerate(rings)]
    numbers = {name: number for number, name in enumerate(dict.fromkeys(names))}
    return np.array([numbers[name] for name in names], dtype=int)
