"""What the bars of a net are made of: netting, strings and rope."""

from __future__ import annotations

from dataclasses import replace

from net3d.handbook.rope import Rope
from net3d.handbook.twine import Twine
from net3d.handbook.water import submerged_weight
from net3d.netting.fabric import Cord
from net3d.plan.twine import twine_length


def netting_cord(twine: Twine, stretched: float) -> Cord:
    """Netting of a twine, the knots' share of its weight in every bar; ``stretched`` mesh [m]."""
    cord = string_cord(twine)
    twine_to_bar = twine_length(1, 1, stretched, twine.diameter) / (2 * stretched)
    return replace(cord, weight=cord.weight * twine_to_bar)


def string_cord(twine: Twine) -> Cord:
    """A string of a twine, knotted at its ends."""
    weight = submerged_weight(twine.mass_per_length, twine.density)
    return Cord(twine.diameter, twine.stiffness, twine.wet_knotted_strength, weight, twine.stiffening)


def rope_cord(rope: Rope) -> Cord:
    """Rope for the bridle and the lines, EA a secant; its own weight in water is not known."""
    return Cord(rope.diameter, rope.stiffness, rope.strength)
