"""A hoop that is not flat or not round: waves around it, found from what a maker can measure on the floor.

Heights off the floor at equally spaced stations are a rigid tilt, which the net does not feel, and a bow;
diameters at stations are a mean and an ovality. Both are kept as waves around the hoop,

    w(t) = sum over m >= 2 of  a_m cos(m t) + b_m sin(m t)

as many as the stations can tell apart. Angles t run clockwise from the hoop's own reference mark.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Waves:
    """Waves around a hoop [m]: numbers of waves and their cosine and sine parts; empty for none."""

    numbers: tuple[int, ...] = ()
    cosines: tuple[float, ...] = ()
    sines: tuple[float, ...] = ()
    residual: float = 0.0  # root mean square of what the waves do not explain [m]

    def at(self, angles: Floats) -> Floats:
        """Height of the waves at some angles (k,) [m].

        >>> Waves((2,), (0.01,), (0.0,)).at(np.array([0.0, np.pi / 2])).round(6).tolist()
        [0.01, -0.01]
        """
        total = np.zeros_like(angles, dtype=float)
        for number, cosine, sine in self._parts():
            total += cosine * np.cos(number * angles) + sine * np.sin(number * angles)
        return total

    def phasors(self, most: int) -> NDArray[np.complex128]:
        """Complex heights of the waves 0 to ``most`` (most + 1,) [m]: w = Re sum W_m exp(i m t)."""
        phasors = np.zeros(most + 1, dtype=complex)
        for number, cosine, sine in self._parts():
            phasors[number] = complex(cosine, -sine)
        return phasors

    @property
    def height(self) -> float:
        """From the lowest to the highest point [m]."""
        if not self.numbers:
            return 0.0
        heights = self.at(np.linspace(0.0, 2 * np.pi, 721))
        return float(heights.max() - heights.min())

    def slope(self) -> Waves:
        """How fast the waves rise, dw/dt, as waves."""
        rises = [(number * sine, -number * cosine) for number, cosine, sine in self._parts()]
        return Waves(self.numbers, tuple(rise[0] for rise in rises), tuple(rise[1] for rise in rises))

    def integral(self) -> Waves:
        """What rises as fast as they are high, its mean 0, as waves."""
        sums = [(-sine / number, cosine / number) for number, cosine, sine in self._parts()]
        return Waves(self.numbers, tuple(one[0] for one in sums), tuple(one[1] for one in sums))

    def _parts(self) -> Iterator[tuple[int, float, float]]:
        return zip(self.numbers, self.cosines, self.sines, strict=True)

    def mirrored(self) -> Waves:
        """The waves seen from the other side: w(t) becomes w(-t)."""
        return Waves(self.numbers, self.cosines, tuple(-s for s in self.sines), self.residual)

    def flipped(self) -> Waves:
        """The hoop turned over, its reference mark staying at the top: w(t) becomes -w(-t)."""
        return Waves(self.numbers, tuple(-c for c in self.cosines), self.sines, self.residual)


FLAT = Waves()


def fit_bow(gaps: Floats) -> Waves:
    """The bow of a hoop from its heights off a flat floor at equally spaced stations (k,) [m], k >= 4.

    Least squares of a rigid tilt (a height and one wave) and the waves from 2 to k / 2 - 1, but at least 2;
    the tilt is dropped. One wave fewer than the stations could tell leaves a residual that shows measuring
    errors; four stations show one part of the second wave only.

    >>> stations = 2 * np.pi * np.arange(8) / 8
    >>> bow = fit_bow(0.02 + 0.01 * np.cos(stations) + 0.005 * np.cos(2 * stations))
    >>> bow.numbers, round(bow.cosines[0], 6), round(bow.height, 6)
    ((2, 3), 0.005, 0.01)
    """
    return _fit(gaps, first=2)


def fit_ovality(across: Floats) -> tuple[float, Waves]:
    """Mean diameter [m] and ovality, the waves of the radius, from diameters at stations over half a turn.

    Diameters are measured at k equally spaced stations from the reference mark to half-way round (k >= 2);
    only even waves show in a diameter: ``D(t) / 2 = D_0 / 2 + sum a_m cos(m t) + b_m sin(m t)``, m = 2, 4 ...
    Source: a Fourier series, fitted by least squares.

    >>> stations = np.pi * np.arange(4) / 4
    >>> mean, oval = fit_ovality(1.0 + 0.02 * np.cos(2 * stations))
    >>> round(mean, 6), oval.numbers, round(oval.cosines[0], 6)
    (1.0, (2,), 0.01)
    """
    mean = float(np.mean(across))
    waves = _fit((np.asarray(across) - mean) / 2, first=1)
    doubled = tuple(2 * number for number in waves.numbers)
    return mean, Waves(doubled, waves.cosines, waves.sines, waves.residual)


def _fit(heights: Floats, first: int) -> Waves:
    """Waves ``first`` to k / 2 - 1, by least squares together with all lower ones."""
    count = len(heights)
    angles = 2 * np.pi * np.arange(count) / count
    numbers = np.arange(1, max(first, count // 2 - 1) + 1)
    columns = [np.ones(count)]
    for number in numbers:
        columns += [np.cos(number * angles), np.sin(number * angles)]
    basis = np.stack(columns, axis=1)
    parts, *_ = np.linalg.lstsq(basis, np.asarray(heights, dtype=float), rcond=1e-9)
    residual = float(np.sqrt(np.mean((basis @ parts - heights) ** 2)))
    kept = numbers[numbers >= first]
    cosines = tuple(float(parts[2 * number - 1]) for number in kept)
    sines = tuple(float(parts[2 * number]) for number in kept)
    return Waves(tuple(int(number) for number in kept), cosines, sines, residual)
