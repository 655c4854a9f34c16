"""Colours of what is written and ruled on a drawing: dark enough to read on white, apart in grey print."""

from __future__ import annotations

from net3d.parts import palette

THROATS = palette.THROAT_WORDS
STRINGS = palette.STRINGS.light
ROPE = palette.ROPE.light
HOOPS = INK = palette.HOOP.light
WAISTS = LINE = palette.BODY.light
BAND, GRID = palette.BODY.paler(0.3), palette.RULES
