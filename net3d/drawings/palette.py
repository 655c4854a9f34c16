"""Colours of the drawings: dark enough to read on white, and apart in lightness for grey print."""

from __future__ import annotations

BODY, BODY_FAR = "#5f7f86", "#d5dee0"
TAIL = "#5f7f86"
THROATS = "#c2570c"
STRINGS = "#7d1822"
ROPE = "#6b5637"
HOOPS = "#1b1f24"
WAISTS = "#2f5d68"
