"""How uneven a net of bowed and oval hoops will pull, line by line, and the turns that make it least.

Diamond netting is two families of helical lines, and in a round net at rest each line is straight: at every
knot the two families' pulls sideways cancel. A line that leaves one hoop at the angle t reaches the next, n
rows of bars on, at t + n pi / N or at t - n pi / N. With u the way that a hoop which is not true moves its
knots, and d the direction of the line, its ends are moved apart by

    s = u'(t +- n pi / N) . d' - u(t) . d

where u has three parts: along the net the bow w(t); outward the oval o(t); and around the hoop, since marks
are measured along it, minus the integral of o(t). A hoop gives way along the net and around its axis, so that
either family bears half of the pull, and where a line would have to be pushed it is slack. With e the stretch
of a line that pulls an even share, a line pulls

    T / T_mean = max(0, s + c) / e,     c such that their mean over the family is 1.

The estimate is the largest T / T_mean of all sections, which is what the checks judge a net of bowed hoops
by, told by the root of a sum of high powers: a term for each pair of neighbours, so that the best of all
turns is found hoop by hoop. Hoops give way to the lines as elastic rings (``yielded``). Lines that hold one
another at their knots, and hoops that lean, are left out; for small bows the rest is exact but for a factor.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.align.lines import FAMILIES, Direction, Lines
from net3d.outline.waves import Waves
from net3d.plan.plan import HoopPlan

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


STEPS_DOWN = 60
POWER = 8  # of a pull: the tightest section then outweighs all others


@dataclass(frozen=True)
class Turn:
    """How a hoop is sewn in: turned clockwise by so many meshes, and whether it is flipped over first."""

    meshes: int = 0
    flipped: bool = False


@dataclass(frozen=True)
class TurnedWaves:
    """A hoop sewn in in several ways: its waves in the net's own angles, (ways, most + 1) each [m]."""

    bow: Complexes
    oval: Complexes

    def along(self, direction: Direction, family: float) -> Complexes:
        """How far the knots move along the lines that point so (ways, waves) [m]."""
        numbers = np.arange(self.oval.shape[1])
        around = np.divide(1j * self.oval, numbers, out=np.zeros_like(self.oval), where=numbers > 0)
        return direction.along * self.bow + direction.outward * self.oval + family * direction.around * around


def turned_waves(hoop: HoopPlan, turns: tuple[Turn, ...], most: int) -> TurnedWaves:
    """A hoop, laid out with its mark at the top and not flipped, sewn in in several ways."""
    numbers = np.arange(most + 1)
    angles = np.array([turn.meshes for turn in turns]) * hoop.row.pitch
    rolled = np.exp(-1j * numbers * angles[:, None])

    def phasors(kept: Waves, flipped: Waves) -> Complexes:
        sides = (kept.phasors(most), flipped.phasors(most))
        return np.asarray([sides[turn.flipped] for turn in turns] * rolled)

    kept, over = hoop.outline, hoop.outline.turned_over()
    return TurnedWaves(phasors(kept.bow, over.bow), phasors(kept.oval, over.oval))


def pair_costs(ahead: TurnedWaves, behind: TurnedWaves, lines: Lines) -> Floats:
    """What every way of a hoop against every way of the next adds to the estimate (ahead, behind) [-]."""
    numbers = np.arange(ahead.bow.shape[1])
    stretches = []
    for family in FAMILIES:
        ends = np.exp(1j * numbers[:, None] * (lines.starts + family * lines.turn))
        starts = np.exp(1j * numbers[:, None] * lines.starts)
        left = np.real(ahead.along(lines.leaving, family) @ starts)
        reached = np.real(behind.along(lines.reaching, family) @ ends)
        stretches.append(reached[None] - left[:, None])
    pulls = even_share(yielded(np.stack(stretches, axis=2), lines), lines.give)
    return np.asarray(np.max(pulls, axis=(2, 3)) ** POWER)


def yielded(stretches: Floats, lines: Lines) -> Floats:
    """How far the ends of lines are moved apart (..., families, lines) [m] once the hoops have given way.

    The amplitudes a of the hoops' waves make ``sum K a^2 / 2`` and the energy of the lines least together: a
    convex sum, whose slope is ``K a + G p`` with p what the lines pull and G how the waves let them out.
    Steps down the slope, each carried on by the last (Nesterov 1983), short enough where no line is slack.
    """
    moves = lines.yielding
    steep = np.einsum("flw,flw->w", moves, moves) / lines.give
    steps = 1.0 / (lines.holding + steep * len(steep) / 2)
    grown = ahead = np.zeros((*stretches.shape[:-2], len(steps)))
    momentum = 1.0
    for _ in range(STEPS_DOWN):
        pulls = even_share(stretches + np.einsum("flw,...w->...fl", moves, ahead), lines.give)
        slope = lines.holding * ahead + np.einsum("flw,...fl->...w", moves, pulls)
        last, grown = grown, ahead - steps * slope
        momentum, before = (1.0 + np.sqrt(1.0 + 4.0 * momentum**2)) / 2.0, momentum
        ahead = grown + (before - 1.0) / momentum * (grown - last)
    return np.asarray(stretches + np.einsum("flw,...w->...fl", moves, grown))


def even_share(stretches: Floats, give: float) -> Floats:
    """Pull over its mean of every line of a family (..., lines) [-].

    Lines are taken in from the tightest on until the next would be slack: ``c = (k e - sum s) / m`` for the
    m tightest of k. Source: balance of lines that give alike and cannot push.

    Parameters
    ----------
    stretches : s, by how far each line's ends are moved apart (..., lines) [m]
    give : e, by how far all lines give on average [m]

    >>> even_share(np.array([0.0, 0.0, 0.0, -9.0]), 1.0).round(3).tolist()
    [1.333, 1.333, 1.333, 0.0]
    """
    count = stretches.shape[-1]
    tight = -np.sort(-stretches, axis=-1)
    shifts = (count * give - np.cumsum(tight, axis=-1)) / np.arange(1, count + 1)
    taut = np.sum(tight + shifts > 0, axis=-1, keepdims=True)
    shift = np.take_along_axis(shifts, taut - 1, axis=-1)
    return np.asarray(np.maximum(stretches + shift, 0.0) / give)


def most_waves(hoops: tuple[HoopPlan, ...]) -> int:
    """The highest number of waves of any hoop."""
    return max({2}.union(*(hoop.outline.wave_numbers for hoop in hoops)))


def section_costs(
    hoops: tuple[HoopPlan, ...], lines: tuple[Lines, ...], choices: tuple[Turn, ...]
) -> list[Floats]:
    """Pair costs of every section over the choices of turn, (choices, choices) each [-]."""
    most = most_waves(hoops)
    sides = tuple(dict.fromkeys(Turn(flipped=choice.flipped) for choice in choices))
    rows = np.array([sides.index(Turn(flipped=choice.flipped)) for choice in choices])
    costs = []
    for ahead, behind, line in zip(hoops[:-1], hoops[1:], lines, strict=True):
        turns = tuple(Turn(mesh, side.flipped) for side in sides for mesh in range(behind.meshes_around))
        table = pair_costs(turned_waves(ahead, sides, most), turned_waves(behind, turns, most), line)
        costs.append(table[rows[:, None], rows * behind.meshes_around + _between(ahead, behind, choices)])
    return costs


def _between(ahead: HoopPlan, behind: HoopPlan, choices: tuple[Turn, ...]) -> NDArray[np.int64]:
    """Meshes by which the second hoop is turned further than the first, every choice against every other.

    What one is turned against the other is all that counts; hoops of unequal counts agree to half a mesh.
    """
    meshes = np.array([choice.meshes for choice in choices])
    apart = meshes * behind.row.pitch - meshes[:, None] * ahead.row.pitch
    return np.rint(apart / behind.row.pitch).astype(int) % behind.meshes_around


def estimate(costs: list[Floats], picks: tuple[int, ...]) -> float:
    """The estimate for one choice (by number) a hoop: about the tightest pull over its section's mean [-]."""
    pairs = zip(costs, picks[:-1], picks[1:], strict=True)
    return float(np.sum([cost[here, there] for cost, here, there in pairs]) ** (1 / POWER))


def best_picks(costs: list[Floats], first: int, worst: bool = False) -> tuple[int, ...]:
    """The choice a hoop that makes the estimate [-] least (or, ``worst``, greatest), the first hoop's given.

    Exact, hoop by hoop from the last: with each hoop's choice the best of what follows is known.
    """
    sign = -1.0 if worst else 1.0
    ahead = np.zeros(costs[-1].shape[1])
    ways = []
    for cost in reversed(costs):
        totals = sign * cost + ahead
        ways.append(totals.argmin(axis=1))
        ahead = totals.min(axis=1)
    picks = [first]
    for way in reversed(ways):
        picks.append(int(way[picks[-1]]))
    return tuple(picks)
