"""The equilibrium near one that is known, by Newton's steps: sooner than by the cone program.

    [H + s  J'] [dy]   [-r]    y what moves, F forces; H = P + sum of k w w' + F / d (1 - n n')
    [J      0 ] [F ] = [-g]    g how far spans, walls and rows that are met lie beyond their bounds

The sum is over bars that pull: k is what one stretches by, w how that goes with y, n its direction, d its
length. The stretches themselves are taken out. What pulls keeps pulling while its F is above 0, and what is
slack begins to where it is longer than it is tied. s keeps steps of what hangs slack short, and goes to 0.
What comes out is believed by its balance only, as any other answer is. Source: primal-dual active sets as
Newton's steps, Hintermueller, Ito, Kunisch, SIAM J. Optim. 13 (2002), from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import clarabel
import numpy as np
from numpy.typing import NDArray

from net3d.netting.netting import Floats, Ints
from net3d.netting.sorting import numbered
from net3d.statics.matrix import Compressed
from net3d.statics.program import CONE, WALL, Program
from net3d.statics.solver import FARTHEST, Answer, answer_of, bounded

MOST_STEPS = 12
MOST_PAIRS = 4_000_000  # of columns that meet in a cone: 100 bytes each; larger nets are seldom reached
HOPELESS_AFTER, HOPELESS = 4, 0.5  # steps, and what is left over then: it would not come near
EXACT = 1e-7  # what may be left over: of a bar, and of what one pulls
PART, SHORTEST, LONGEST = 1e-2, 1e-7, 1e-2  # s as a part of what is left over, and its bounds
LEAST_LENGTH = 1e-3  # of a bar: spans that a line has drawn shut have no direction


def solve_nearby(program: Program, start: Answer) -> Answer | None:
    """The answer of a program from that of one stated alike; None where a few steps do not reach it."""
    net = _tied(program) if start.sizes == program.sizes else None
    if net is None:
        return None
    state, steps = net.begun(start), _Steps(net)
    for step in range(MOST_STEPS + 1):
        left = net.left_over(state)
        if step and left <= EXACT:
            return net.answer(state, step)
        if not left < (HOPELESS if step >= HOPELESS_AFTER else FARTHEST):
            return None
        state = steps.after(state, float(np.clip(PART * left, SHORTEST, LONGEST)))
    return None


@dataclass(frozen=True, eq=False)
class _State:
    """What moves, what cones push with, which of them are met, and by how much each lies beyond its bound."""

    moves: Floats  # (columns,)
    forces: Floats  # (cones,)
    met: NDArray[np.bool_]  # (cones,)
    beyond: Floats  # (cones,) g
    slopes: Floats  # (cones, 4) of g by its rows: 1 for the first, -n for the others
    lengths: Floats  # (cones,) d
    rising: Floats  # (entries,) how g of its cone rises with its column


@dataclass(frozen=True, eq=False)
class _Tied:
    """A program without its stretches: bars, rows and walls as cones of up to four rows."""

    program: Program
    kept: Ints  # (columns,) of the program's
    rows: tuple[Ints, Ints]  # of the program's rows, the cone and the place in it
    bounds: Floats  # (cones, 4)
    stiffnesses: Floats  # (cones,) k; 0 of what does not stretch
    cones: Ints  # (entries,) of all columns that a cone has, cone by cone
    columns: Ints  # (entries,)
    values: Floats  # (entries, 4) of the cone's rows

    @property
    def hard(self) -> Ints:
        """Numbers of the cones that do not stretch."""
        return np.flatnonzero(self.stiffnesses == 0.0)

    @property
    def quadratic(self) -> Floats:
        """P (columns,)."""
        return self.program.quadratic.values[self.kept]

    def begun(self, start: Answer) -> _State:
        """What the answer of another program is of this one: met is what pushes more than it stands off."""
        forces = np.maximum((start.forces / self.program.force_scale)[self.rows[1] == 0], 0.0)
        moves = start.lengths[self.kept] / self.program.length_scale
        begun = self.state(moves, forces, forces > 0.0)
        met = forces > self.stretches(forces) - begun.beyond
        return replace(begun, met=met, forces=np.where(met, forces, 0.0))

    def state(self, moves: Floats, forces: Floats, met: NDArray[np.bool_]) -> _State:
        """How far all lies beyond its bound where it is moved so."""
        moved = self.values * moves[self.columns, None]
        count = len(self.bounds)
        left = self.bounds - np.stack([np.bincount(self.cones, row, count) for row in moved.T], axis=1)
        lengths = np.linalg.norm(left[:, 1:], axis=1)
        slopes = -left / np.maximum(lengths, LEAST_LENGTH)[:, None]
        slopes[:, 0] = 1.0
        rising = np.einsum("ij,ij->i", self.values, slopes[self.cones])
        return _State(moves, forces, met, lengths - left[:, 0], slopes, lengths, rising)

    def pushed(self, state: _State, forces: Floats) -> Floats:
        """What is left over along every column where cones push with these forces."""
        pushes = np.bincount(self.columns, state.rising * forces[self.cones], len(self.kept))
        return np.asarray(self.program.linear[self.kept] + self.quadratic * state.moves + pushes)

    def stretches(self, forces: Floats) -> Floats:
        """What cones stretch by under forces (cones,)."""
        soft = self.stiffnesses > 0.0
        return np.asarray(np.divide(forces, self.stiffnesses, out=np.zeros_like(forces), where=soft))

    def left_over(self, state: _State) -> float:
        """The largest force without balance, or by which anything lies off where it should."""
        off = np.where(state.met, np.abs(state.beyond - self.stretches(state.forces)), state.beyond)
        forces = np.abs(self.pushed(state, state.forces))
        return float(max(off.max(initial=0.0), forces.max(initial=0.0)))

    def answer(self, state: _State, steps: int) -> Answer:
        """A state as the cone solver would tell it."""
        program = self.program
        lengths = np.zeros(program.matrix.shape[1])
        lengths[program.coordinates :][: program.bars] = self.stretches(state.forces)[: program.bars]
        lengths[self.kept] = state.moves
        forces = state.forces[self.rows[0]] * state.slopes[self.rows]
        return answer_of(program, (lengths, forces), "Solved", steps)


def _tied(program: Program) -> _Tied | None:
    """None of a program too large; where stretches are bounded they stay, and bars are as hard as rows."""
    rows, columns, values = program.matrix.rows, program.matrix.columns, program.matrix.values
    stretches = program.quadratic.values[program.coordinates :][: program.bars]
    bounded = columns[rows >= CONE * program.bars] - program.coordinates
    bounded = bounded[(bounded >= 0) & (bounded < program.bars)]
    if (stretches[bounded] > 0.0).any():
        stretches = np.zeros_like(stretches)
    kept = np.ones(program.matrix.shape[1], dtype=bool)
    kept[program.coordinates :][: program.bars] = stretches == 0.0
    own, width = kept[columns], np.count_nonzero(kept)
    rows, columns = rows[own], (np.cumsum(kept) - 1)[columns[own]]
    sizes = np.repeat([CONE, 1, WALL], [program.bars, program.rows, program.walls])
    cones = np.repeat(np.arange(len(sizes)), sizes)
    places = np.arange(len(cones)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    met, entries = numbered(cones[rows] * width + columns)
    if (np.bincount(met // width) ** 2).sum() > MOST_PAIRS:
        return None
    bounds = np.zeros((len(sizes), CONE))
    bounds[cones, places] = program.bounds
    summed = np.bincount(CONE * entries + places[rows], values[own], CONE * len(met))
    return _Tied(
        program=program,
        kept=np.flatnonzero(kept),
        rows=(cones, places),
        bounds=bounds,
        stiffnesses=np.concatenate([stretches, np.zeros(program.rows + program.walls)]),
        cones=met // width,
        columns=met % width,
        values=np.asarray(summed, dtype=float).reshape(-1, CONE),
    )


class _Steps:
    """Newton's steps of a net; what is the same for all of them is worked out once."""

    def __init__(self, net: _Tied) -> None:
        self._net, width = net, len(net.kept)
        self._solver: clarabel.DefaultSolver | None = None
        ends = np.cumsum(np.bincount(net.cones))[net.cones]
        many = ends - np.arange(len(ends))  # entries of the same cone from each on
        one = np.repeat(np.arange(len(ends)), many)
        other = one + np.arange(len(one)) - np.repeat(np.cumsum(many) - many, many)
        self._pairs, along = (one, other), np.arange(width)
        self._alike = np.einsum("ij,ij->i", net.values[one, 1:], net.values[other, 1:])
        places = np.concatenate([net.columns[one], along]), np.concatenate([net.columns[other], along])
        self._stiff = _pattern(*places, (width, width))
        self._bound = np.flatnonzero(net.stiffnesses[net.cones] == 0.0)
        hard = np.searchsorted(net.hard, net.cones[self._bound])
        self._rows = _pattern(hard, net.columns[self._bound], (len(net.hard), width))

    def after(self, state: _State, short: float) -> _State:
        """One step on, its parts that nothing holds shortened by s."""
        net, hard, rising = self._net, self._net.hard, state.rising
        stiffnesses = np.where(state.met, net.stiffnesses, 0.0)
        step, bearing = self._solved(
            self._stiff.filled(np.concatenate([self._stiffening(state), net.quadratic + short])),
            net.pushed(state, stiffnesses * state.beyond),
            self._rows.filled((rising * state.met[net.cones])[self._bound]),
            -(state.beyond * state.met)[hard],
        )
        rises = np.bincount(net.cones, rising * step[net.columns], len(state.forces))
        forces = stiffnesses * (state.beyond + rises)
        forces[hard] = bearing * state.met[hard]
        after = net.state(state.moves + step, forces, state.met)
        met = np.where(state.met, forces > 0.0, after.beyond > EXACT)
        return replace(after, met=met, forces=np.where(met, forces, 0.0))

    def _stiffening(self, state: _State) -> Floats:
        """What every pair of entries adds to H."""
        net, (one, other) = self._net, self._pairs
        rising, cones = state.rising, net.cones[one]
        across = rising - net.values[:, 0]
        stiffnesses = np.where(state.met, net.stiffnesses, 0.0)
        curved = state.forces / np.maximum(state.lengths, LEAST_LENGTH)
        turned = self._alike - across[one] * across[other]
        return np.asarray(rising[one] * rising[other] * stiffnesses[cones] + turned * curved[cones])

    def _solved(
        self, stiff: Compressed, linear: Floats, matrix: Compressed, bounds: Floats
    ) -> tuple[Floats, Floats]:
        """By Clarabel's factors: without inequalities it takes no steps of its own."""
        if self._solver is None:
            cones = [clarabel.ZeroConeT(len(bounds))] if len(bounds) else []
            self._solver = clarabel.DefaultSolver(stiff, linear, matrix, bounds, cones, _settings())
        else:
            self._solver.update(P=stiff.data, q=linear, A=matrix.data, b=bounds)
        solution = self._solver.solve()
        return bounded(solution.x), bounded(solution.z)


@dataclass(frozen=True, eq=False)
class _Pattern:
    """Where entries go in a matrix by columns, in which those of one place add up."""

    goes: Ints  # (entries,)
    rows: Ints  # (places,)
    starts: Ints  # (columns + 1,)
    shape: tuple[int, int]

    def filled(self, values: Floats) -> Compressed:
        """The matrix with these values of the entries."""
        summed = np.bincount(self.goes, values, len(self.rows))
        return Compressed(summed.astype(float), self.rows, self.starts, self.shape)  # sums of none are whole


def _pattern(rows: Ints, columns: Ints, shape: tuple[int, int]) -> _Pattern:
    height = max(shape[0], 1)
    places, goes = numbered(columns * height + rows)
    starts = np.searchsorted(places, height * np.arange(shape[1] + 1))
    return _Pattern(goes, places % height, starts, shape)


def _settings() -> clarabel.DefaultSettings:
    settings = clarabel.DefaultSettings()
    settings.verbose = settings.presolve_enable = settings.equilibrate_enable = False
    settings.iterative_refinement_enable = False  # the next step sets right what one leaves
    return settings
