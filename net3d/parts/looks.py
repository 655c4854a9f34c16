"""How a part looks in each output: in 3D files, in the picture, on the page, and on paper."""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[float, float, float]  # red, green, blue, 0 to 1


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
    width: float = 1.25  # at least [pixels]
    shine: float = 0.0  # of what is mirrored of the light


@dataclass(frozen=True)
class Paint:
    """A colour of the page, under a name that its style sheet and its script know it by."""

    name: str
    light: str  # on a light page
    dark: str  # on a dark one
    shine: float = 0.0


@dataclass(frozen=True)
class Pen:
    """A stroke of the side view on paper. What is behind the net is drawn paler, alike or not at all."""

    colour: str
    far: str  # "" leaves the far side out; the same colour draws both sides alike
    width: float  # [mm]
    to_scale: bool = False  # as wide as it is thick, and ``width`` at least


TWINE = Material("twine", (0.66, 0.79, 0.66), 0.0, 0.9)
ROPE = Material("rope", (0.75, 0.31, 0.17), 0.0, 0.9)
BODY_PEN = Pen("#5f7f86", "#d5dee0", 0.13)
ROPE_PEN = Pen("#6b5637", "#6b5637", 0.44, to_scale=True)
ROPE_INK = Ink((0.62, 0.49, 0.28), 2.2, 0.12)
ROPE_PAINT = Paint("rope", "#80633a", "#c5a673")
