"""The kinds of parts: one row a kind, and in it all that follows from the kind.

A new kind is a row here, and whatever ties it. The colours of 3D files step in lightness, each at least 9 of
100 in CIE L* from the next, so that they stay apart for every kind of colour blindness and in grey print; the
picture's differ in lightness as well as in hue.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from net3d.errors import PartError
from net3d.parts.looks import BODY_PEN, ROPE, ROPE_INK, ROPE_PAINT, ROPE_PEN, TWINE, Ink, Material, Paint, Pen


class Made(Enum):
    """What a part is made of."""

    NETTING = "netting"
    STRING = "string"
    ROPE = "rope"
    ROD = "rod"


@dataclass(frozen=True)
class Kind:
    """One kind of part."""

    word: str  # what the names of its parts begin with, in every output
    title: str  # what the maker calls it
    made: Made
    material: Material  # in 3D files
    ink: Ink  # in the picture
    paint: Paint  # on the page
    pen: Pen  # on paper
    body: bool = False  # it closes the net around: what throats lie on, and what is cut away to see inside
    throat: bool = False  # it hangs inside the body
    shelters: bool = False  # its rows are rings around the net, and slow the water that runs through them
    weighed: bool = False  # its own weight pulls on it
    rigging: bool = False  # it holds the net from outside, and a scale model does without it
    far_off: bool = False  # it reaches so far that pictures show a piece of it only
    together: str = ""  # what the page's switch of all its parts says; "": every part has its own

    @property
    def netting(self) -> bool:
        """Whether it is netting, and not a line."""
        return self.made is Made.NETTING

    @property
    def rope(self) -> bool:
        """Whether it is rope, which is spliced."""
        return self.made is Made.ROPE

    @property
    def twine(self) -> bool:
        """Whether it is of twine, which is knotted: netting or strings."""
        return self.made in {Made.NETTING, Made.STRING}


_ROWS = (
    Kind(
        "hoop",
        "hoop",
        Made.ROD,
        Material("hoop", (0.20, 0.22, 0.26), 0.0, 0.5),
        Ink((0.26, 0.29, 0.33), 2.5, 0.55),
        Paint("hoop", "#2c3238", "#aab4ba", 0.3),
        Pen("#1b1f24", "#1b1f24", 0.66, to_scale=True),
        together="Hoops",
    ),
    Kind(
        "section",
        "section",
        Made.NETTING,
        TWINE,
        Ink((0.10, 0.40, 0.47)),
        Paint("body", "#1f5f6e", "#6fb3bd"),
        BODY_PEN,
        body=True,
        shelters=True,
        weighed=True,
        together="Body",
    ),
    Kind(
        "tail",
        "tail",
        Made.NETTING,
        Material("tail", (0.13, 0.36, 0.62), 0.0, 0.9),
        Ink((0.07, 0.32, 0.42)),
        Paint("tail", "#2b4f78", "#7f9fd0"),
        BODY_PEN,
        body=True,
        shelters=True,
        weighed=True,
    ),
    Kind(
        "throat",
        "throat",
        Made.NETTING,
        Material("throat", (0.84, 0.55, 0.15), 0.0, 0.9),
        Ink((0.93, 0.42, 0.02), 1.5),
        Paint("throat", "#d0620e", "#f59a45"),
        Pen("#c2570c", "", 0.22),
        throat=True,
        shelters=True,
        weighed=True,
    ),
    Kind(
        "strings",
        "strings",
        Made.STRING,
        Material("strings", (0.97, 0.93, 0.78), 0.0, 0.9),
        Ink((0.52, 0.04, 0.10), 1.9),
        Paint("strings", "#8e1b2d", "#f2788a"),
        Pen("#7d1822", "#7d1822", 0.22),
        throat=True,
    ),
    Kind("bridle", "bridle", Made.ROPE, ROPE, ROPE_INK, ROPE_PAINT, ROPE_PEN, rigging=True),
    Kind(
        "anchor-line",
        "anchor line",
        Made.ROPE,
        ROPE,
        ROPE_INK,
        ROPE_PAINT,
        ROPE_PEN,
        rigging=True,
        far_off=True,
    ),
)

KINDS = {kind.word: kind for kind in _ROWS}


def kind_of(word: str) -> Kind:
    """The kind whose parts' names begin with a word. Raises PartError for a word that is not in the table.

    >>> kind_of("strings").twine, kind_of("anchor-line").twine
    (True, False)
    """
    try:
        return KINDS[word]
    except KeyError:
        known = ", ".join(KINDS)
        raise PartError(
            f"There is no kind of part called {word!r}: parts are of the kinds {known}. "
            "Give it a row in net3d.parts.kinds."
        ) from None
