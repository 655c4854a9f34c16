"""Twine: the handbook table, and what a maker's own spool says instead."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Twine:
    """A twine in SI units; every figure of one spool."""

    name: str
    diameter: float  # m
    tex: float  # Rtex, g/km, as laid
    strength: float  # straight, dry breaking strength [N]
    wet_knotted_strength: float  # wet, tied with the single sheet bend [N]
    stiffness: float  # EA, secant at working load, knotted and wet [N]
    density: float  # of the fibre [kg/m^3]
    material: str
    source: str

    @property
    def mass_per_length(self) -> float:
        """kg/m."""
        return self.tex * 1e-6
