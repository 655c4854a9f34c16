"""Openings that fish meet in a net, and how large around what passes them may be.

How large, hangs on the fish. A stiff body needs a hole of its own shape: in a mesh as it hangs the largest
ellipse in the rhomb. A soft one shapes the mesh to itself and passes until it is as large around as the
inside of the mesh; from there on it is held, and by the head where that alone goes in. What struggles goes
through still where it is a tenth larger. Source: nets catch best where girth over the inside of the mesh is
1.0 to 1.1 (Lucena et al., ICES CM 2000/J:11, abstract); the ellipse is geometry.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, pi, sqrt

import numpy as np

from net3d.handbook.knots import ACROSS
from net3d.netting.netting import Floats, Ints, Netting
from net3d.parts import Part
from net3d.plan.plan import Plan, ThroatPlan
from net3d.statics.profile import body_knots
from net3d.statics.shape import Shape, ThroatShape

CUT_OUT = 1.1  # stretched meshes: farther apart are only knots between which others were cut out
LARGER = 1.001  # meshes as large as the body's but for rounding are its like
FORCED = 1.1  # girth over the inside of a hole: larger bodies are held, see above


@dataclass(frozen=True)
class Opening:
    """A hole that fish meet. Girths are of the largest fish that pass [m]."""

    name: str
    part: Part | None  # None: the body's meshes, or whatever has no part of its own
    inward: bool  # whether fish get into the net by it; else out of it
    stiff: float  # of fish that neither press nor are pressed
    soft: float  # of fish that shape the hole to themselves
    forced: float  # of fish that struggle


def body_meshes(netting: Netting, plan: Plan, shape: Shape, flat: float) -> Opening:
    """The meshes of the body: as they hang in the row that lets most through, and pulled to the fish.

    Parameters
    ----------
    netting, plan, shape : the net as it hangs
    flat : width of the fish over its height [-]
    """
    ratios = hanging_ratios(netting, shape, body_knots(netting), plan.stretched_mesh)
    return _meshes("meshes of the body", None, (ratios, plan.stretched_mesh, plan.twine.diameter), flat)


def throat_meshes(netting: Netting, plan: Plan, shape: Shape, flat: float) -> Iterator[Opening]:
    """The meshes of throats that are larger than the body's: by them fish slip out past the tip.

    Parameters
    ----------
    netting, plan, shape : the net as it hangs
    flat : width of the fish over its height [-]
    """
    least = inside_of_mesh(plan.stretched_mesh, plan.twine.diameter)
    for throat in plan.throats:
        stretched, twine = throat.stretched_mesh, throat.twine.diameter
        if inside_of_mesh(stretched, twine) > least * LARGER:
            ratios = hanging_ratios(netting, shape, netting.knots_of(throat.part), stretched)
            yield _meshes(f"meshes of throat {throat.number}", throat.part, (ratios, stretched, twine), flat)


def _meshes(name: str, part: Part | None, tied: tuple[Floats, float, float], flat: float) -> Opening:
    """Meshes of hanging ratios (rows,) [-], of so much stretched [m] and twine so thick [m]."""
    ratios, stretched, twine = tied
    stiff = max(girth_in_rhomb(stretched / 2, ratio, twine, flat) for ratio in ratios)
    soft = inside_of_mesh(stretched, twine)
    return Opening(name, part, False, min(stiff, soft), soft, FORCED * soft)


def hanging_ratios(netting: Netting, shape: Shape, knots: Ints, stretched: float) -> Floats:
    """The hanging ratio E1 of every row of some knots as it hangs [-], the mean of its meshes.

    A mesh is as wide as the way from a knot to the next of its row. Source: ISO 1107's definition.

    Parameters
    ----------
    netting, shape : the net as it hangs
    knots : of one piece of netting (k,)
    stretched : its mesh [m]
    """
    rings, ring = np.unique(netting.knot_rings[knots], return_inverse=True)
    places = [shape.knot_positions[knots[ring == number]] for number in range(len(rings))]
    around = [np.linalg.norm(np.roll(row, -1, axis=0) - row, axis=1) / stretched for row in places]
    whole = [row[row < CUT_OUT] for row in around]
    return np.array([min(row.mean(), 1.0) if len(row) else 1.0 for row in whole])


def inside_of_mesh(stretched: float, twine: float) -> float:
    """Around the inside of a mesh: twice its opening, which its knots take from, ``2 (m - k d)`` [m].

    Source: the opening of a mesh is measured between its knots (ISO 1107); knots: ``handbook/knots.py``.

    Parameters
    ----------
    stretched : mesh, knot centre to knot centre [m]
    twine : its diameter [m]
    """
    return 2.0 * max(stretched - ACROSS * twine, 0.1 * stretched)


def girth_in_rhomb(bar: float, ratio: float, twine: float, flat: float) -> float:
    """Around the largest ellipse in a mesh that hangs as a rhomb [m], whichever way it lies in it.

    An ellipse of half axes s and k s touches the sides of a rhomb of half diagonals p and q where
    ``(s / q)^2 + (k s / p)^2 = 1``. Twine takes half its thickness from every side. Source: geometry.

    Parameters
    ----------
    bar : side of the mesh [m]
    ratio : hanging ratio E1 [-]
    twine : its diameter [m]
    flat : k, shorter over longer axis of the ellipse [-]
    """
    across, along = bar * ratio, bar * sqrt(max(1.0 - ratio**2, 0.0))
    clear = across * along / bar - twine / 2.0  # from the middle to the sides
    if clear <= 0.0:
        return 0.0
    p, q = (half * clear * bar / (across * along) for half in (across, along))
    long = max(1.0 / hypot(1.0 / q, flat / p), 1.0 / hypot(1.0 / p, flat / q))
    return around_ellipse(long, flat * long)


def around_ellipse(long: float, short: float) -> float:
    """Around an ellipse. Source: Ramanujan 1914, within a thousandth however flat it is.

    Parameters
    ----------
    long, short : half axes [m]

    >>> around_ellipse(1.0, 1.0) == 2 * pi
    True
    """
    apart = ((long - short) / (long + short)) ** 2
    return pi * (long + short) * (1.0 + 3.0 * apart / (10.0 + sqrt(4.0 - 3.0 * apart)))


def stiff_hole(name: str, around: float, part: Part | None = None) -> Opening:
    """A hole in a rigid ring or frame, by which fish get out.

    Parameters
    ----------
    name : what the maker calls it
    around : its inside [m]
    part : which part of the net it is, if it is one
    """
    return Opening(name, part, False, around, around, FORCED * around)


def throat_tip(planned: ThroatPlan, throat: ThroatShape, widest: float) -> Opening:
    """A throat's tip, by which fish get in: the clear width as it hangs, its girth, and pushed open.

    Parameters
    ----------
    planned, throat : as planned, and as it hangs
    widest : the most that it opens [m]
    """
    clear = pi * throat.opening_clear
    hangs = max(throat.opening_girth, clear)
    return Opening(f"tip of throat {throat.number}", planned.part, True, clear, hangs, max(widest, hangs))
