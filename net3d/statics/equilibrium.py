"""One equilibrium: state the program, solve it, and check the balance afresh."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Ints, Netting
from net3d.outline.pose import Pose
from net3d.statics.balance import bar_pulls, bar_spans, knot_forces, overstretch, unbalanced_force
from net3d.statics.give import MOST_ROUNDS, Guess, off_its_law, straight_at
from net3d.statics.motion import Motion, free_motion
from net3d.statics.nearby import solve_nearby
from net3d.statics.program import Program, cone_program, with_twine
from net3d.statics.reach import cap_stretch
from net3d.statics.repeats import reduce_motion
from net3d.statics.shape import EndState, Symmetry
from net3d.statics.solver import Answer, SolverLimits, solve
from net3d.statics.spacing import distance_rows, keep_apart, keep_near, least_distances
from net3d.statics.symmetry import MIRROR, bar_orbits, find_symmetry, mirror_image
from net3d.statics.walls import Walls, with_walls

SETTLED_WITHIN = 1e-6  # of the pull, and of a bar's length
LOOSELY_WITHIN = 1e-4
UNDECIDED = {EndState.SETTLED_LOOSELY, EndState.LIMIT_REACHED}
HELD = 1e-6  # of the pull: less holds nothing
DRAWN_TOGETHER = 1e-3  # of a bar: knots so near have no direction between them to speak of


@dataclass(frozen=True, eq=False)
class Equilibrium:
    """Where all knots come to rest, x from the anchor, and what pulls and pushes them there."""

    state: EndState
    positions: Floats  # (n, 3) [m]
    poses: tuple[Pose, ...]  # of the hoops, x from the anchor
    tensions: Floats  # (m,) [N]
    rest_lengths: Floats  # (m,) [m]: the netting's, found ones for fitted bars and spans of running lines
    pushes: Floats  # (n, 3) of the walls on knots [N]
    hoop_pushes: Floats  # (hoops - 1,) between hoops whose rods touch [N]
    held_near: bool  # hoops would go further than they were let
    residual: float  # largest unbalanced force, as a share of the pull
    misfit: float  # that, or the largest overstretch of a bar if it is larger
    symmetry: Symmetry
    answer: Answer

    @property
    def iterations(self) -> int:
        """Steps of the solver."""
        return self.answer.iterations

    @property
    def hoop_positions(self) -> Floats:
        """Where each hoop stands along the net (hoops,) [m]."""
        return np.array([pose.place for pose in self.poses])


def find_equilibrium(
    netting: Netting, loads: Floats, limits: SolverLimits, walls: Walls | None = None, capped: bool = False
) -> Equilibrium:
    """The equilibrium under ``loads`` (n, 3) [N], knots inside walls, twine ``capped`` at what breaks it.

    Solved again with every bar as stiff as it is at what it pulls, until that is how stiff it was taken.
    """
    return _by_its_law(netting, _state(netting, loads, walls, capped), limits)


def find_nearby(
    netting: Netting, loads: Floats, limits: SolverLimits, walls: Walls | None, near: Equilibrium
) -> Equilibrium:
    """The same, sooner, from the equilibrium of the same net under loads [N] that differ little."""
    return _by_its_law(netting, _state(netting, loads, walls, capped=False), limits, near)


def _by_its_law(
    netting: Netting, stated: tuple[_Stated, Program], limits: SolverLimits, near: Equilibrium | None = None
) -> Equilibrium:
    guess = Guess(netting.bar_expected)
    for _ in range(MOST_ROUNDS):
        straight = straight_at(netting, guess.pulls)
        program = with_twine(stated[1], straight, *stated[0].springs)
        found = _solved(straight, (stated[0], program), limits, near)
        rests = found.misfit <= max(limits.misfit, LOOSELY_WITHIN)
        if not rests or off_its_law(netting, straight, found.tensions) <= limits.give:
            return found
        guess, near = guess.after(found.tensions), found
    return replace(found, state=EndState.SETTLED_LOOSELY)


def _state(netting: Netting, loads: Floats, walls: Walls | None, capped: bool) -> tuple[_Stated, Program]:
    motion = free_motion(netting)
    symmetry = find_symmetry(netting, loads)
    if walls is not None:  # they are stated for the whole turn, and for one side where the sides are alike
        symmetry = Symmetry(1, symmetry.mirrored)
        walls = walls.of_one_side(mirror_image(netting)) if symmetry.mirrored else walls
    orbits, bars = bar_orbits(netting, symmetry)
    shares = np.bincount(orbits).astype(float)
    shared = reduce_motion(netting, motion, symmetry)
    program = cone_program(netting, shared, loads, (bars, shares))
    spacing = [program.rows]
    program = keep_apart(program, shared, least_distances(netting))
    if capped:
        program = cap_stretch(program, netting, bars)
    if walls is not None:
        if walls.near is not None:
            spacing.append(program.rows)
            program = keep_near(program, shared, *walls.near)
        program = with_walls(program, shared, walls)
    return _Stated(motion, shared, symmetry, orbits, bars, loads, walls, tuple(spacing)), program


def _solved(
    netting: Netting, stated: tuple[_Stated, Program], limits: SolverLimits, near: Equilibrium | None
) -> Equilibrium:
    def read(answer: Answer) -> Equilibrium:
        return _read(netting, stated[0], answer)

    def onward(start: Equilibrium | None, within: float) -> Equilibrium | None:
        answer = solve_nearby(stated[1], start.answer) if start and start.misfit <= within else None
        return read(answer) if answer else None

    found = onward(near, SETTLED_WITHIN)  # what was found loosely is no start
    if found is None or found.misfit > limits.misfit:
        found = read(solve(stated[1], limits))
    if found.misfit <= limits.misfit or found.state not in UNDECIDED:
        return found
    # One net in fifty stalls just short of balance one way, hardly any every way.
    settled = onward(found, LOOSELY_WITHIN)
    if settled is None or settled.misfit > limits.misfit:
        settled = read(solve(stated[1], replace(limits, careful=not limits.careful)))
    return min(found, settled, key=lambda found: found.misfit)


@dataclass(frozen=True, eq=False)
class _Stated:
    """What a program was stated of."""

    motion: Motion
    shared: Motion  # with one set of coordinates for what repeats
    symmetry: Symmetry
    orbits: Ints  # (m,)
    bars: Ints  # (orbits,)
    loads: Floats
    walls: Walls | None
    spacing: tuple[int, ...]  # the first rows on distances between hoops: least ones, and those of a round

    @property
    def springs(self) -> tuple[Motion, tuple[Ints, Floats]]:
        """What the program's stiffness is stated of: how hoops bend, and which bars stand for how many."""
        return self.shared, (self.bars, np.bincount(self.orbits).astype(float))

    def hoop_pushes(self, rows: Floats, hoops: int) -> tuple[Floats, Floats]:
        """What pushes neighbouring hoops apart (hoops - 1,) [N]: their rods, and that they are held near."""
        count = hoops - 1
        apart = rows[self.spacing[0] :][:count]
        if len(self.spacing) == 1:
            return apart, np.zeros(count)
        nearer, farther = rows[self.spacing[1] :][: 2 * count].reshape(2, count)
        return apart, nearer - farther


def _read(netting: Netting, stated: _Stated, answer: Answer) -> Equilibrium:
    orbits, bars = stated.orbits, stated.bars
    shares = np.bincount(orbits)
    lengths = _rest_lengths(netting, answer, bars)[orbits]
    tensions = (answer.tensions / shares)[orbits]
    positions = stated.shared.positions(answer.coordinates)
    pushes = _pushes(netting, stated, answer.wall_forces)
    pulls = _pulls(netting, stated, answer, (positions, tensions))
    forces = knot_forces(netting, stated.loads + pushes, pulls)
    coordinates = stated.shared.all_coordinates(answer.coordinates)
    touching, held = stated.hoop_pushes(answer.row_forces, netting.hoop_count)
    pushed_apart, _ = distance_rows(stated.motion, netting.hoop_count)
    held_by = stated.motion.stiffnesses * coordinates - pushed_apart.T @ (touching + held)
    residual = unbalanced_force(netting, stated.motion, forces, held_by)
    misfit = max(residual, overstretch(netting, positions, tensions, lengths))
    return Equilibrium(
        state=_end_state(answer, misfit),
        positions=positions,
        poses=stated.shared.poses(answer.coordinates, netting.hoop_count),
        tensions=tensions,
        rest_lengths=lengths,
        pushes=pushes,
        hoop_pushes=touching,
        held_near=bool(np.abs(held).max(initial=0.0) > HELD * netting.pull),
        residual=residual,
        misfit=misfit,
        symmetry=stated.symmetry,
        answer=answer,
    )


def _pulls(netting: Netting, stated: _Stated, answer: Answer, found: tuple[Floats, Floats]) -> Floats:
    """Pull of every bar on its upper knot (m, 3) [N].

    A bar pulls along its own line. Where a running line has drawn two knots together there is no line to
    follow; there it is the solver's own vector, no longer than the tension, and mirrored on the other side.
    """
    positions, tensions = found
    pulls = bar_pulls(netting, positions, tensions)
    _, distances = bar_spans(netting, positions)
    drawn = (netting.bar_runs != NONE) & (distances < DRAWN_TOGETHER * netting.bar_lengths.mean())
    if not drawn.any() or stated.symmetry.turns > 1:
        return pulls
    shares = np.bincount(stated.orbits)
    vectors = (answer.pulls / shares[:, None])[stated.orbits]
    if stated.symmetry.mirrored:
        vectors = _both_sides(netting, stated, vectors)
    pulls[drawn] = vectors[drawn]
    return pulls


def _both_sides(netting: Netting, stated: _Stated, vectors: Floats) -> Floats:
    """Vectors of bars (m, 3), those of one side taken over to the other, end for end.

    A bar that is its own image has none across its line of symmetry, whatever the program says of it.
    """
    chosen = stated.bars[stated.orbits]
    upper, lower = mirror_image(netting)[netting.bars].T
    other = np.arange(len(chosen)) != chosen
    swapped = upper == netting.bars[chosen, 1]
    mirrored = np.where(swapped[:, None], -(vectors @ MIRROR.T), vectors @ MIRROR.T)
    own = ~other & (np.sort(np.stack([upper, lower], axis=1)) == np.sort(netting.bars)).all(axis=1)
    vectors = np.where(other[:, None], mirrored, vectors)
    return np.asarray(np.where(own[:, None], (vectors + mirrored) / 2, vectors))


def _pushes(netting: Netting, stated: _Stated, forces: Floats) -> Floats:
    """Forces of the walls on all knots (n, 3) [N]; those of one side stand for both."""
    count = len(netting.knot_carriers)
    if stated.walls is None:
        return np.zeros((count, 3))
    if not stated.symmetry.mirrored:
        return stated.walls.pushes(count, forces)
    one_side = stated.walls.pushes(count, forces / 2)
    return np.asarray(one_side + one_side[mirror_image(netting)] @ MIRROR.T)


def _rest_lengths(netting: Netting, answer: Answer, bars: Ints) -> Floats:
    """Rest length of every bar that has a cone (k,) [m]."""
    lengths = netting.bar_lengths[bars].copy()
    fits = netting.bar_fits[bars]
    lengths[fits != NONE] = answer.fit_lengths[fits[fits != NONE]]
    spans = netting.bar_runs[bars] != NONE
    lengths[spans] = answer.reaches[spans]
    return lengths


def _end_state(answer: Answer, misfit: float) -> EndState:
    """Judged by the balance that was found, whatever the solver says of its own numbers."""
    if answer.is_out_of_reach:
        return EndState.OUT_OF_REACH
    if answer.is_adrift:
        return EndState.ADRIFT
    if misfit <= SETTLED_WITHIN:
        return EndState.SETTLED
    return EndState.SETTLED_LOOSELY if misfit <= LOOSELY_WITHIN else EndState.LIMIT_REACHED
