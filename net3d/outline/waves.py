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
STEPS_AROUND = 1440  # of a hoop's outline, in which lengths along it are summed
ANGLES = np.linspace(0.0, 2 * np.pi, STEPS_AROUND + 1)
ROUNDS = 12  # each leaves a share of the error that is the square of the oval's


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

    >>> stations = np.pi * np.arange(4) / 4
    >>> mean, oval = fit_ovality(1.0 + 0.02 * np.cos(2 * stations))
    >>> round(mean, 6), oval.numbers, round(oval.cosines[0], 6)
    (1.0, (2,), 0.01)
    """
    mean = float(np.mean(across))
    waves = _fit((np.asarray(across) - mean) / 2, first=1)
    doubled = tuple(2 * number for number in waves.numbers)
    return mean, Waves(doubled, waves.cosines, waves.sines, waves.residual)


def oval_radius(radius: float, oval: Waves) -> float:
    """Mean radius of an oval hoop that is as long around as a round one of ``radius`` [m].

    A rod keeps its length when its hoop goes out of round: ``integral of sqrt((R + w)^2 + w'^2) dt`` stays
    ``2 pi radius``. A wave of m crests and a height a takes about ``m^2 a^2 / (4 radius)`` off the mean.

    >>> round(oval_radius(0.5, Waves((2,), (0.02,), (0.0,))), 5)
    0.4992
    """
    mean = radius
    if oval.numbers:
        for _ in range(ROUNDS):
            mean += radius - _ways_around(mean, oval)[-1] / (2 * np.pi)
    return float(mean)


def angles_by_tape(radius: float, oval: Waves, arcs: Floats) -> Floats:
    """Angles at which distances along an oval hoop end (k,) [rad]; ``arcs`` are parts of the way [rad].

    The way along ``r(t) = R + w(t)`` is ``s(t) = integral of sqrt(r^2 + r'^2) dt``; an arc of 2 pi is all the
    way around. On a round hoop angle and arc are the same. Where the oval bulges, a piece of tape spans less
    of an angle.

    >>> angles_by_tape(0.5, Waves((2,), (0.02,), (0.0,)), np.array([0.0, np.pi / 4, np.pi])).round(3).tolist()
    [0.0, 0.765, 3.142]
    """
    if not oval.numbers:
        return arcs
    ways = _ways_around(radius, oval)
    turns, parts = np.divmod(np.asarray(arcs) / (2 * np.pi), 1.0)
    return np.asarray(2 * np.pi * turns + np.interp(parts, ways / ways[-1], ANGLES))


def _ways_around(radius: float, oval: Waves) -> Floats:
    """Lengths along an oval from 0 to every one of ``ANGLES`` [m]."""
    steps = np.hypot(radius + oval.at(ANGLES), oval.slope().at(ANGLES))
    means = (steps[1:] + steps[:-1]) / 2
    return np.asarray(np.concatenate([[0.0], np.cumsum(means)]) * (ANGLES[1] - ANGLES[0]))


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
