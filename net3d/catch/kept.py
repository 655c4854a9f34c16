"""Which fish an opening keeps, as shares over their length."""

from __future__ import annotations

from dataclasses import dataclass
from math import erfc, exp, sqrt
from statistics import NormalDist

import numpy as np

from net3d.catch.openings import Opening, body_meshes, stiff_hole, throat_meshes, throat_tip
from net3d.handbook.fish import Body
from net3d.netting.netting import Floats, Netting
from net3d.plan.plan import Plan, ThroatPlan
from net3d.spec.spec import FishSpec, NetSpec
from net3d.statics.shape import Shape

EVEN = 1e-6  # spread of fish that are all alike, so that nothing is divided by zero
PLACES = 61  # lengths along a curve
BEYOND = np.frompyfunc(erfc, 1, 1)  # quick to load, and a few hundred fish are all that is asked


@dataclass(frozen=True)
class Kept:
    """An opening and the fish that meet it."""

    opening: Opening
    body: Body

    def held(self, girth: float, lengths: Floats | float) -> Floats:
        """Part of the fish that are larger around than a girth.

        ``P(G > g) = Phi((ln G(L) - ln g) / s)``. Source: girth at a length is log-normal.

        Parameters
        ----------
        girth : g [m]
        lengths : L [m]
        """
        if girth <= 0.0:
            return np.ones_like(np.asarray(lengths, dtype=float))
        over = np.log(self.body.girth(lengths)) - np.log(girth)
        return np.asarray(BEYOND(-over / max(self.body.spread, EVEN) / sqrt(2)) / 2, dtype=float)

    def shares(self, lengths: Floats | float) -> tuple[Floats, Floats, Floats]:
        """Parts that do not pass, at lengths [m]: at least, likely and at most."""
        ways = self.opening.forced, self.opening.soft, self.opening.stiff
        least, likely, most = (self.held(girth, lengths) for girth in ways)
        return least, likely, most

    def wedged(self, lengths: Floats | float) -> Floats:
        """Part that sticks in it at lengths [m]: the head goes through, and the body does not."""
        soft = self.opening.soft
        return self.held(soft, lengths) - self.held(soft / self.body.head, lengths)

    def length_at(self, share: float, girth: float) -> float:
        """Length at which so many of the fish are larger around than a girth [m].

        Parameters
        ----------
        share : part of the fish [-]
        girth : around [m]
        """
        return self.body.length(girth * exp(NormalDist().inv_cdf(share) * max(self.body.spread, EVEN)))


def kept_by(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> tuple[Kept, ...]:
    """Every opening with the fish of the spec: meshes, throats' tips, ways out; none where none are named."""
    if spec.fish is None or not shape.at_rest:
        return ()
    body = spec.fish.body
    meshes = body_meshes(netting, plan, shape, body.flat), *throat_meshes(netting, plan, shape, body.flat)
    tips = [
        throat_tip(planned, throat, widest_girth(planned))
        for planned, throat in zip(plan.throats, shape.throats, strict=True)
    ]
    out = [stiff_hole(one.title, one.girth, one.frame_part) for one in plan.escapes if one.apertures]
    return tuple(Kept(one, body) for one in (*meshes, *tips, *out))


def widest_girth(planned: ThroatPlan) -> float:
    """The most that a tip opens: its meshes pulled flat, or the line through it [m]."""
    stretched = planned.tip * planned.stretched_mesh
    return stretched if planned.tip_line is None else min(stretched, planned.tip_line)


def curve_lengths(fish: FishSpec, kept: tuple[Kept, ...]) -> Floats:
    """Lengths for a curve [m]: all that matter to the ways out, and the fish that are wanted."""
    ends = [
        one.length_at(share, girth)
        for one in kept
        if not one.opening.inward
        for share, girth in (
            (0.01, max(one.opening.stiff, 0.3 * one.opening.soft)),
            (0.99, one.opening.forced),
        )
    ]
    least, most = min(*ends, fish.lengths[0]), max(*ends, fish.lengths[1])
    return np.linspace(0.9 * least, 1.05 * most, PLACES)
