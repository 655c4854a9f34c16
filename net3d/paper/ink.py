"""Drawings for printers without colours: what would come out as dots of a screen is ink or a plain grey."""

from __future__ import annotations

import re
from functools import cache

from net3d.parts.looks import Material
from net3d.parts.palette import HOOP, Shade

WRITTEN = 4.5  # what stands out so from white is dark enough to write with: WCAG 2.1, criterion 1.4.3


def in_ink(svg: str) -> str:
    """An SVG whose colours are ink where they are dark enough to write with, else greys as light as they.

    >>> from net3d.parts.palette import BODY
    >>> in_ink(f'<path stroke="{BODY.light}"/>') == f'<path stroke="{HOOP.light}"/>'
    True
    """
    return re.sub("<[^>]+>", lambda tag: re.sub("#[0-9a-f]{6}", _ink, tag[0]), svg)


def _ink(found: re.Match[str]) -> str:
    return _printed(found[0])


@cache
def _printed(colour: str) -> str:
    """Ink, or the grey of the same luminance: that of WCAG 2.1, through the sRGB curve of IEC 61966-2-1."""
    linear = Material(colour, Shade(colour, colour, colour).rgb, 0.0, 1.0).linear_colour
    light = sum(part * share for part, share in zip(linear, (0.2126, 0.7152, 0.0722), strict=True))
    if 1.05 / (light + 0.05) >= WRITTEN:
        return HOOP.light
    screen = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return "#" + 3 * f"{round(255 * screen):02x}"
