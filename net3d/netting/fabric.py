"""A net under construction: rings of knots and runs of bars, gathered into one Netting at the end."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from net3d.netting.netting import FREE, Carrier, Floats, Ints, Netting


@dataclass(frozen=True)
class Line:
    """What a bar is made of: one kind of twine or rope. SI units."""

    diameter: float
    stiffness: float
    strength: float
    weight: float = 0.0  # in water, per metre of bar, its share of the knots included [N/m]


@dataclass(frozen=True, eq=False)
class Ring:
    """Knots spread evenly around the axis: a row of netting, or a single knot on the axis."""

    part: str
    row: int
    angles: Floats
    carrier: int = FREE
    radius: float = 0.0  # of the circle on the carrier on which they sit


@dataclass
class Fabric:
    """Collects rings and bars; the only mutable thing of this stage, gone when the Netting is made."""

    carriers: list[Carrier] = field(default_factory=list)
    _rings: list[Ring] = field(default_factory=list)
    _knots: list[Ints] = field(default_factory=list)
    _bars: list[tuple[str, int, Ints, float, Line]] = field(default_factory=list)
    _loads: list[tuple[Ints, Floats]] = field(default_factory=list)

    def add_carrier(self, carrier: Carrier) -> int:
        """Number of the new carrier."""
        self.carriers.append(carrier)
        return len(self.carriers) - 1

    def add_ring(self, ring: Ring) -> Ints:
        """Numbers of the ring's knots."""
        first = sum(len(knots) for knots in self._knots)
        knots = np.arange(first, first + len(ring.angles))
        self._rings.append(ring)
        self._knots.append(knots)
        return knots

    def add_bars(self, place: tuple[str, int], ends: Ints, length: float, line: Line) -> None:
        """One row of bars of a part; ``place`` is (part, row), ``ends`` (k, 2) knot numbers."""
        self._bars.append((*place, ends, length, line))

    def add_load(self, knots: Ints, force: Floats) -> None:
        """Spread a force (3,) [N] evenly over some knots."""
        self._loads.append((knots, force / len(knots)))

    def finish(self, hoop_count: int, pull: float) -> Netting:
        """The whole net as arrays."""
        parts = tuple(
            dict.fromkeys([*(bars[0] for bars in self._bars), *(ring.part for ring in self._rings)])
        )
        return Netting(
            parts=parts,
            carriers=tuple(self.carriers),
            hoop_count=hoop_count,
            pull=pull,
            **self._knot_arrays(parts),
            **self._bar_arrays(parts),
        )

    def _knot_arrays(self, parts: tuple[str, ...]) -> dict[str, np.ndarray]:
        counts = [len(knots) for knots in self._knots]
        angles = np.concatenate([ring.angles for ring in self._rings])
        radii = np.repeat([ring.radius for ring in self._rings], counts)
        seats = np.stack([np.zeros_like(radii), -radii * np.sin(angles), radii * np.cos(angles)], axis=1)
        loads = np.zeros((len(angles), 3))
        for knots, force in self._loads:
            loads[knots] += force
        return {
            "knot_carriers": np.repeat([ring.carrier for ring in self._rings], counts),
            "knot_seats": seats,
            "knot_parts": np.repeat([parts.index(ring.part) for ring in self._rings], counts),
            "knot_rows": np.repeat([ring.row for ring in self._rings], counts),
            "knot_rings": np.repeat(np.arange(len(counts)), counts),
            "knot_angles": angles,
            "knot_loads": loads,
        }

    def _bar_arrays(self, parts: tuple[str, ...]) -> dict[str, np.ndarray]:
        counts = [len(ends) for _, _, ends, _, _ in self._bars]

        def spread(values: list[float]) -> Floats:
            return np.repeat(np.asarray(values, dtype=float), counts)

        lines = [line for *_, line in self._bars]
        lengths = [length for *_, length, _ in self._bars]
        return {
            "bars": np.concatenate([ends for _, _, ends, _, _ in self._bars]),
            "bar_lengths": spread(lengths),
            "bar_stiffnesses": spread([line.stiffness for line in lines]),
            "bar_strengths": spread([line.strength for line in lines]),
            "bar_diameters": spread([line.diameter for line in lines]),
            "bar_weights": spread(
                [length * line.weight for length, line in zip(lengths, lines, strict=True)]
            ),
            "bar_parts": np.repeat([parts.index(part) for part, *_ in self._bars], counts),
            "bar_rows": np.repeat([row for _, row, *_ in self._bars], counts),
            "bar_places": np.concatenate([np.arange(count) // 2 for count in counts]),
        }
