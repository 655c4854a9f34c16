"""Colours of what is written on a drawing: dark enough to read on white, apart in grey print."""

from __future__ import annotations

from net3d.parts import KINDS

THROATS = KINDS["throat"].pen.colour
STRINGS = KINDS["strings"].pen.colour
ROPE = KINDS["bridle"].pen.colour
HOOPS = KINDS["hoop"].pen.colour
WAISTS = "#2f5d68"
