"""The kinds of parts: one row a kind, and in it all that follows from the kind.

A new kind is a row here, with a colour of the palette, and whatever ties it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Any

from net3d.errors import PartError
from net3d.parts import palette
from net3d.parts.looks import Ink, Material, Nib, Paint, Pen

FINE = Nib()
FAR_SHARE = 0.2  # of a part's colour, on paper, where it is behind the net


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
    shade: palette.Shade  # in every output
    nib: Nib = FINE  # on paper
    width: float = 1.25  # of its strokes in the picture at least [pixels]
    shine: float = 0.0  # of what it mirrors of the light
    body: bool = False  # it closes the net around: what throats lie on, and what is cut away to see inside
    throat: bool = False  # it hangs inside the body
    shelters: bool = False  # its rows are rings around the net, and slow the water that runs through them
    weighed: bool = False  # its own weight pulls on it
    rigging: bool = False  # it holds the net from outside, and a scale model does without it
    guide: bool = False  # it guides fish to the mouth, and is solved by itself
    far_off: bool = False  # it reaches so far that pictures show a piece of it only
    table: str = "rigging"  # of the spec, in which its parts are typed
    in_rows: bool = False  # that table is a row of tables, counted as its parts are by their first number
    together: str = ""  # what the page's switch of all its parts says; "": every part has its own

    @property
    def material(self) -> Material:
        """How it looks in 3D files."""
        return Material(self.shade.name, self.shade.rgb, 0.0, 0.5 if self.shine else 0.9)

    @property
    def ink(self) -> Ink:
        """How it looks in the picture."""
        return Ink(self.shade.rgb, self.width, self.shine)

    @property
    def paint(self) -> Paint:
        """How it looks on the page."""
        return Paint(self.shade.name, self.shade.light, self.shade.dark, self.shine)

    @property
    def pen(self) -> Pen:
        """How it looks on paper."""
        own, nib = self.shade, self.nib
        far = {"paler": own.paler(FAR_SHARE), "alike": own.light, "left out": ""}[nib.far]
        return Pen(own.light, far, nib.width, nib.to_scale)

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


ROPE_NIB = Nib(0.44, "alike", to_scale=True)


def _rope(word: str, title: str, **more: Any) -> Kind:  # noqa: ANN401 - fields of Kind
    """A kind of line, which looks as all lines do."""
    return Kind(word, title, Made.ROPE, palette.ROPE, ROPE_NIB, 2.2, 0.12, **more)


def _guide(word: str, title: str, many: str, **more: Any) -> tuple[Kind, ...]:  # noqa: ANN401 - fields of Kind
    """The kinds of a wing or leader: netting, lines, floats, leads, and stakes or poles at its ends."""
    more |= {"guide": True, "rigging": True}

    def of(what: str) -> dict[str, Any]:
        return {
            "title": f"{what} of {title}",
            "together": f"{what.capitalize()} of {many.lower()}" if many else "",
        }

    floats, leads, ends = (f"{word}-{piece}" for piece in ("floats", "leads", "ends"))
    return (
        Kind(word, title.removeprefix("the "), Made.NETTING, palette.TAIL, together=many, **more),
        _rope(f"{word}-lines", **of("lines"), **more),
        Kind(floats, made=Made.ROD, shade=palette.THROAT, width=2.5, **of("floats"), **more),
        Kind(leads, made=Made.ROD, shade=palette.HOOP, width=2.5, shine=0.4, **of("leads"), **more),
        Kind(ends, made=Made.ROD, shade=palette.HOOP, width=2.5, shine=0.4, **of("stakes"), **more),
    )


_ROWS = (
    Kind(
        "hoop",
        "hoop",
        Made.ROD,
        palette.HOOP,
        Nib(0.66, "alike", to_scale=True),
        width=2.5,
        shine=0.4,
        table="hoop",
        in_rows=True,
        together="Hoops",
    ),
    Kind(
        "section",
        "section",
        Made.NETTING,
        palette.BODY,
        body=True,
        shelters=True,
        weighed=True,
        table="hoop",
        in_rows=True,
        together="Body",
    ),
    Kind(
        "tail",
        "tail",
        Made.NETTING,
        palette.TAIL,
        body=True,
        shelters=True,
        weighed=True,
        table="tail",
    ),
    Kind(
        "throat",
        "throat",
        Made.NETTING,
        palette.THROAT,
        Nib(0.22, "left out"),
        width=1.5,
        throat=True,
        shelters=True,
        weighed=True,
        table="throat",
        in_rows=True,
    ),
    Kind(
        "strings",
        "strings",
        Made.STRING,
        palette.STRINGS,
        Nib(0.22, "alike"),
        width=1.9,
        throat=True,
        table="throat",
        in_rows=True,
    ),
    _rope("rib", "rib lines", table="line", together="Rib lines"),
    *_guide("wing", "wing", "Wings", table="wing", in_rows=True),
    *_guide("leader", "the leader", "", table="leader"),
    Kind("second-net", "second net", Made.ROD, palette.HOOP, ROPE_NIB, 1.9, 0.4, guide=True, rigging=True),
    Kind(
        "escape",
        "frame of escape",
        Made.ROD,
        palette.HOOP,
        ROPE_NIB,
        2.5,
        0.4,
        weighed=True,
        table="escape",
        in_rows=True,
        together="Ways out",
    ),
    Kind(
        "escape-lacing",
        "lacing of escape",
        Made.STRING,
        palette.STRINGS,
        Nib(0.22, "alike"),
        table="escape",
        in_rows=True,
        together="Lacing of ways out",
    ),
    Kind(
        "escape-lines",
        "lines across the mouth, escape",
        Made.STRING,
        palette.STRINGS,
        Nib(0.22, "alike"),
        width=1.9,
        table="escape",
        in_rows=True,
        together="Lines across the mouth",
    ),
    Kind(
        "escape-seam",
        "seam of panel, escape",
        Made.STRING,
        palette.STRINGS,
        Nib(0.44, "alike"),
        width=2.2,
        table="escape",
        in_rows=True,
        together="Seams of panels",
    ),
    Kind(
        "escape-floats",
        "floats of escape",
        Made.ROD,
        palette.THROAT,
        width=2.5,
        table="escape",
        in_rows=True,
        together="Floats in the tail",
    ),
    Kind(
        "chimney",
        "chimney of escape",
        Made.NETTING,
        palette.TAIL,
        weighed=True,
        table="escape",
        in_rows=True,
        together="Chimneys",
    ),
    _rope("bridle", "bridle", rigging=True),
    _rope(
        "anchor-line",
        "anchor line",
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
