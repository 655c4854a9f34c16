"""The palette: every colour of every output, once. Nobody else types one (``tests/parts/test_palette.py``).

Each has a shade for light grounds (paper, pictures, 3D files, the light page) and one for the dark page. What
is drawn stands out from its ground by 3:1 at least, and what is written by 4.5:1. The kinds of parts step in
lightness, each at least 9 of 100 in CIE L* from the next, so that they stay apart for every kind of colour
blindness and in grey print.

Source of the ratios: W3C, Web Content Accessibility Guidelines 2.1, criteria 1.4.3 and 1.4.11.
"""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[float, float, float]  # red, green, blue of the screen (sRGB), 0 to 1
WHITE = "#ffffff"


@dataclass(frozen=True)
class Shade:
    """A colour under the name by which the page's style sheet and 3D files know it.

    >>> Shade("rope", "#808000", "#ffffff").rgb[2], Shade("rope", "#808000", "#ffffff").paler(0.5)
    (0.0, '#c0c080')
    """

    name: str
    light: str  # on a light ground
    dark: str  # on a dark one

    @property
    def rgb(self) -> Colour:
        """What is drawn on a light ground, as numbers."""
        red, green, blue = (int(self.light[place : place + 2], 16) / 255 for place in (1, 3, 5))
        return red, green, blue

    def paler(self, share: float) -> str:
        """So much of the colour [-] on white paper."""
        return "#" + "".join(f"{round(255 * (1 - share + share * part)):02x}" for part in self.rgb)


HOOP = Shade("hoop", "#1b1f24", "#aab4ba")
TAIL = Shade("tail", "#12325a", "#7f9fd0")
STRINGS = Shade("strings", "#881a2c", "#f2788a")
BODY = Shade("body", "#1f6776", "#6fb3bd")
ROPE = Shade("rope", "#91703e", "#c5a673")
THROAT = Shade("throat", "#df6d0f", "#f59a45")

# What else the 3D view shows: its ground, dimension lines, and the scale of pulls.
SCENE = (
    Shade("paper", "#f3f5f1", "#0c1417"),
    Shade("size", "#75838a", "#8799a0"),
    Shade("low", "#bb790a", "#8078d0"),
    Shade("middling", "#217168", "#35a08f"),
    Shade("high", "#291965", "#ffe15e"),
    Shade("slack", "#d6158b", "#ff5fbd"),
    Shade("other", "#7a3fb5", "#c9a2f2"),  # a net that another is laid over
)
ACCENT = Shade("accent", "#14606b", "#7cc7cf")
# The page around it: words, their grounds, and the rules between them.
PAGE = (
    Shade("ink", "#1c2a30", "#e6ecea"),
    Shade("soft", "#5a6a70", "#9fb0b3"),
    Shade("faint", "#dfe5e2", "#2b3a3f"),
    Shade("page", "#fbfaf6", "#11191c"),
    Shade("card", WHITE, "#172226"),
    ACCENT,
    Shade("caution", "#8a5a00", "#f0c060"),
    Shade("caution-wash", "#fdf3dc", "#33290f"),
    Shade("fail", "#a3202c", "#ff9a9a"),
    Shade("fail-wash", "#fbe6e6", "#3b1a1d"),
)
# Words and rules of drawings on white paper, where the shade of their part is none to read by.
THROAT_WORDS, RULES = "#a84d08", "#dddddd"
GREY = "#b8b8b8"  # of cords in drawings of the work, each of which has a black edge
