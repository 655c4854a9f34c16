"""How a part looks in each output, in its one colour."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from net3d.parts.palette import Colour


@dataclass(frozen=True)
class Material:
    """How a surface looks, in the terms of glTF's metallic-roughness model."""

    name: str
    colour: Colour  # of the screen (sRGB)
    metallic: float
    roughness: float

    @property
    def linear_colour(self) -> tuple[float, ...]:
        """The colour in proportion to light [-], as 3D files want it: the sRGB curve of IEC 61966-2-1 undone.

        >>> Material("grey", (0.5, 0.04, 1.0), 0.0, 1.0).linear_colour[2]
        1.0
        """
        return tuple(
            shade / 12.92 if shade <= 0.04045 else ((shade + 0.055) / 1.055) ** 2.4 for shade in self.colour
        )


@dataclass(frozen=True)
class Ink:
    """A stroke of the picture in perspective."""

    colour: Colour
    width: float  # at least [pixels]
    shine: float  # of what is mirrored of the light


@dataclass(frozen=True)
class Paint:
    """A colour of the page, under a name that its style sheet and its script know it by."""

    name: str
    light: str  # on a light page
    dark: str  # on a dark one
    shine: float


@dataclass(frozen=True)
class Nib:
    """How a part is drawn on paper, and what becomes of its far side."""

    width: float = 0.13  # [mm]
    far: Literal["paler", "alike", "left out"] = "paler"
    to_scale: bool = False  # as wide as it is thick, and ``width`` at least


@dataclass(frozen=True)
class Pen:
    """A stroke of the side view on paper. What is behind the net is drawn paler, alike or not at all."""

    colour: str
    far: str  # "" leaves the far side out; the same colour draws both sides alike
    width: float  # [mm]
    to_scale: bool = False
