"""What the bars of a net are made of: netting, strings and rope."""

from __future__ import annotations

from net3d.handbook.rope import rope_stiffness, rope_strength
from net3d.handbook.twine import Twine
from net3d.handbook.water import submerged_weight
from net3d.netting.fabric import Cord
from net3d.plan.twine import twine_length


def netting_cord(twine: Twine, stretched: float, weighed: bool) -> Cord:
    """Netting of a twine; if ``weighed``, with its weight in water, the knots' share in every bar."""
    cord = string_cord(twine)
    if not weighed:
        return cord
    twine_to_bar = twine_length(1, 1, stretched, twine.diameter) / (2 * stretched)
    weight = submerged_weight(twine.mass_per_length, twine.density) * twine_to_bar
    return Cord(cord.diameter, cord.stiffness, cord.strength, weight)


def string_cord(twine: Twine) -> Cord:
    """A string of a twine, knotted at its ends; its own weight in water is left out."""
    return Cord(twine.diameter, twine.stiffness, twine.wet_knotted_strength)


def rope_cord(diameter: float) -> Cord:
    """Rope for the bridle and the lines; its own weight in water is left out."""
    return Cord(diameter, rope_stiffness(diameter), rope_strength(diameter))
