"""Hoops that bend: their waves, and modes of frames, as unknowns of the equilibrium."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import Bending, Netting
from net3d.outline.elastic import across_stiffness, within_stiffness
from net3d.outline.modes import Modes
from net3d.outline.pose import Pose
from net3d.outline.waves import FLAT, Waves
from net3d.statics.matrix import Matrix
from net3d.statics.shape import Symmetry


@dataclass(frozen=True)
class Wave:
    """One coordinate of a hoop that bends: an amplitude [m]."""

    carrier: int
    number: int
    across: bool  # out of the hoop's plane, else in it
    sine: bool
    stiffness: float  # K [N/m]

    def pose(self) -> Pose:
        """A hoop bent by a metre of it."""
        waves = Waves((self.number,), (float(not self.sine),), (float(self.sine),))
        return Pose(0.0, bow=waves) if self.across else Pose(0.0, oval=waves)

    def repeats(self, symmetry: Symmetry) -> bool:
        """Only waves that repeat in a turn, and look the same from either side, are drawn by what does."""
        return self.number % symmetry.turns == 0 and not (symmetry.mirrored and self.sine)


@dataclass(frozen=True, eq=False)
class Mode:
    """One coordinate of a frame that bends: an amplitude [m]."""

    carrier: int
    modes: Modes  # as they are under what pulls the frame inward
    number: int

    @property
    def stiffness(self) -> float:
        """K [N/m]."""
        return float(self.modes.stiffnesses[self.number])

    def pose(self) -> Pose:
        """A frame bent by a metre of it."""
        return Pose(0.0, bend=self.modes.grown({self.number: 1.0}))

    def repeats(self, symmetry: Symmetry) -> bool:
        """As of a wave."""
        alike = self.modes.mirrored[self.number] or not symmetry.mirrored
        return alike and self.modes.repeats(self.number, symmetry.turns)


def waves_of(netting: Netting) -> tuple[Wave | Mode, ...]:
    """The waves of every hoop that bends, cosine before sine, and the modes of every frame."""
    return tuple(
        wave
        for number, carrier in enumerate(netting.carriers)
        if carrier.bends is not None
        for wave in _waves(number, carrier.bends)
    )


def _waves(carrier: int, bends: Bending) -> Iterator[Wave | Mode]:
    if bends.modes is not None:
        modes = bends.modes.under(bends.inward * bends.rod.ring_radius)
        yield from (Mode(carrier, modes, number) for number in range(len(modes.stiffnesses)))
    for number in bends.numbers:
        for sine in (False, True):
            yield Wave(carrier, number, True, sine, across_stiffness(bends.rod, number, bends.inward))
            yield Wave(carrier, number, False, sine, within_stiffness(bends.rod, number, bends.inward))


def wave_moves(netting: Netting, waves: tuple[Wave | Mode, ...]) -> Matrix:
    """How the knots on the hoops move as each wave grows by a metre (3 n, waves)."""
    riding = [np.flatnonzero(netting.knot_carriers == wave.carrier) for wave in waves]
    moves = [
        wave.pose().moves(netting.knot_seats[knots], netting.knot_angles[knots])
        for wave, knots in zip(waves, riding, strict=True)
    ]
    knots = np.concatenate([np.zeros(0, dtype=int), *riding])
    columns = np.repeat(np.arange(len(waves)), 3 * np.array([len(some) for some in riding], dtype=int))
    rows = (3 * knots[:, None] + np.arange(3)).ravel()
    values = np.concatenate([np.zeros((0, 3)), *moves]).ravel()
    return Matrix(rows, columns, values, (3 * len(netting.knot_carriers), len(waves)))


def bent_pose(pose: Pose, grown: Mapping[Wave | Mode, float], carrier: int) -> Pose:
    """A hoop that stands so, bent by what its waves or modes have grown to [m]."""
    modes = {wave: size for wave, size in grown.items() if wave.carrier == carrier and isinstance(wave, Mode)}
    if modes:
        bend = next(iter(modes)).modes.grown({mode.number: size for mode, size in modes.items()})
        return replace(pose, bend=bend)
    waves = {wave: size for wave, size in grown.items() if isinstance(wave, Wave)}
    bow, oval = grown_waves(waves, carrier)
    return replace(pose, bow=bow, oval=oval)


def grown_waves(grown: Mapping[Wave, float], carrier: int) -> tuple[Waves, Waves]:
    """Bow and oval of a hoop from the amplitudes of its waves [m]; those that are not there are none."""
    found = []
    for across in (True, False):
        own = {w: size for w, size in grown.items() if w.carrier == carrier and w.across is across}
        numbers = tuple(dict.fromkeys(wave.number for wave in own))
        parts = {(wave.number, wave.sine): size for wave, size in own.items()}
        cosines, sines = (tuple(parts.get((n, sine), 0.0) for n in numbers) for sine in (False, True))
        found.append(Waves(numbers, cosines, sines) if numbers else FLAT)
    return found[0], found[1]
