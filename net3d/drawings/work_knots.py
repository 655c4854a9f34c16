"""Figures of what is knotted: sheet bends, a throat's strings, the drawstring, an eye splice.

How each is tied is common practice, no source; the sheet bend's crossings are held to a table of knots in the
tests.
"""

from __future__ import annotations

from net3d.drawings.figure import Figure, dot, labels, ring, scaled
from net3d.drawings.strands import GREY, Place, Strand, strand

LEG = 1.2  # half the way from leg to leg of the loop that is tied into, in units of the knot
TWINE = 0.8  # how thick the twine is drawn, in the same units


def _loop(top: float, foot: float = 0.0) -> list[Place]:
    """A loop that hangs down: both its legs, from ``top`` to ``foot``, in units."""
    down: list[Place] = [(-LEG, top, 0), (-LEG, (top + foot) / 2, 0), (-0.9 * LEG, foot - 2, 0), (0, foot, 0)]
    return [*down, *((-x, y, z) for x, y, z in down[-2::-1])]


def sheet_bend_strands(unit: float) -> tuple[Strand, Strand]:
    """Loop and twine of a sheet bend: up through it, round behind it, under its own part; unit [mm]."""
    tied: list[Place] = [(-6, 6, -1), (-2.5, 2.5, -1), (-0.3, 0.6, -1), (0.1, -1.6, 1.5), (0.7, -3, 1.5)]
    tied += [(2.2, -4.2, 1), (2.7, -5.2, 0), (2, -6, -1), (0, -6.2, -1), (-2, -6, -1), (-2.7, -4.8, 0)]
    tied += [(-2, -3.4, 0.6), (0, -2.3, 0.6), (2.2, -1.2, 0.6), (4, 1.5, 0), (6, 6, 0)]
    at = (0.0, 3.0)
    return (
        strand("loop", TWINE * unit, scaled(_loop(-9), unit, at), GREY),
        strand("twine", TWINE * unit, scaled(tied, unit, at)),
    )


def double_bend_strands(unit: float) -> tuple[Strand, Strand]:
    """The same with a second turn behind the loop and under its own part; unit [mm]."""
    tied: list[Place] = [(-6, 6.5, -1), (-2.5, 4.6, -1), (-0.3, 3.2, -1), (0, 1, 1.5), (0.2, -2, 1.5)]
    tied += [(0.8, -4, 1.5), (2.2, -5.2, 1), (2.8, -6.1, 0), (2, -6.9, -1), (0, -7.1, -1), (-2, -6.9, -1)]
    tied += [(-2.8, -5.8, 0), (-2, -4.5, 0.6), (0, -3.5, 0.6), (2, -3, 0.6), (2.9, -2.2, 0), (2, -1.4, -1)]
    tied += [(0, -1.2, -1), (-2, -1, -1), (-2.8, -0.2, 0), (-2, 0.5, 0.6), (0, 0.9, 0.6), (2.2, 1.8, 0.6)]
    tied += [(4, 4, 0), (6, 6.5, 0)]
    at = (0.0, 2.0)
    return (
        strand("loop", TWINE * unit, scaled(_loop(-9, 2.6), unit, at), GREY),
        strand("twine", TWINE * unit, scaled(tied, unit, at)),
    )


def sheet_bend() -> Figure:
    """The netting knot."""
    words, lines = labels(
        ("loop of the row above", (-17.0, -17.0), (-2.6, -14.0)),
        ("from the last knot", (-17.0, 20.5), (-12.0, 15.5)),
        ("to the next", (19.0, 20.5), (12.3, 16.0)),
    )
    return Figure(
        "sheet-bend",
        "Sheet bend",
        "Up through the loop, round behind both its legs, under its own part; draw it tight on the gauge.",
        sheet_bend_strands(2.2),
        words,
        lines,
    )


def double_bend() -> Figure:
    """The netting knot that slips less."""
    words, lines = labels(("second turn", (19.0, -1.0), (5.6, -2.3)))
    return Figure(
        "double-sheet-bend",
        "Double sheet bend",
        "Where twine is slippery: once more round behind the loop, and under the same part again.",
        double_bend_strands(2.2),
        words,
        lines,
    )


def finger_tip() -> Figure:
    """A string on the last loop of a finger."""
    words, lines = labels(
        ("last mesh of the finger", (-12.0, -18.5), (-2.4, -14.0)),
        ("string", (19.0, 12.0), (9.7, 12.0)),
        ("its end", (-20.0, 12.0), (-9.0, 12.0)),
    )
    mesh, string = sheet_bend_strands(2.0)
    return Figure(
        "finger-tip",
        "String at a finger's tip",
        (
            "Tie each string into its loop with a sheet bend; measure from knot to knot when it is"
            " drawn tight."
        ),
        (mesh, string),
        words,
        lines,
    )


def _hanging_loops(count: int, pitch: float, top: float, foot: float, middle: float = 0.0) -> list[Strand]:
    """Loops of a last row side by side; a bar runs from knot to knot, so neighbours begin alike."""
    loops = []
    for number in range(count):
        x = middle + pitch * (number - (count - 1) / 2)
        half = pitch / 2
        places: list[Place] = [(x - half, top, 0), (x - 0.32 * pitch, (top + foot) / 2, 0), (x, foot, 0)]
        places += [(x + 0.32 * pitch, (top + foot) / 2, 0), (x + half, top, 0)]
        loops.append(strand(f"loop {number + 1}", 1.4, places, GREY))
    return loops


def _knots(count: int, pitch: float, level: float, middle: float = 0.0) -> tuple[str, ...]:
    places = (middle + pitch * (number - count / 2) for number in range(count + 1))
    return tuple(dot((x, level), 1.5) for x in places)


def _reeved(loops: list[Strand], level: float) -> list[Place]:
    """A line through loops, under the first leg of each and over the second."""
    places: list[Place] = [(-29.0, level + 1.0, -1)]
    for loop in loops:
        legs = sorted(x for x, y, _ in loop.places.tolist() if abs(y - level) < 0.2)
        places += [(legs[0], level, -1), (legs[-1], level, 1)]
    return [*places, (29.0, level + 1.0, 1)]


def drawstring() -> Figure:
    """Through the last row of the tail."""
    loops = _hanging_loops(4, 12.0, -10.0, 9.0)
    line = strand("drawstring", 2.4, _reeved(loops, 2.0))
    words, lines = labels(
        ("last row of the tail", (0.0, -17.0), (0.0, -11.5)), ("drawstring", (0.0, 18.0), (0.0, 3.2))
    )
    return Figure(
        "drawstring",
        "Drawstring",
        (
            "Through every loop of the last row the same way, once around; none left out. Draw shut,"
            " and tie off."
        ),
        (*loops, line),
        words,
        lines,
        marks=_knots(4, 12.0, -10.0),
    )


def square_line() -> Figure:
    """A line through the tip of a square throat, with a string at a corner."""
    loops = [loop for middle in (-18.0, 18.0) for loop in _hanging_loops(2, 9.0, -14.0, 3.0, middle)]
    line = strand("line", 2.0, _reeved(loops, -2.5))
    turns: list[Place] = [(1.5, 21, 1), (1.6, 6, 1.5), (1.4, -6, 1.5), (0.2, -7.6, -2), (-2, -2.5, -2)]
    turns += [(-4.4, 1.6, 0), (-2.6, 0.6, 3), (2.4, -5.2, 3), (5.2, -7, 1), (5.6, -4.6, -2), (4.2, 0.4, -2)]
    turns += [(3.2, 2.2, 0), (1.9, 0.6, 2.2), (-1.4, -6.4, 2.2), (-2.6, -9.5, 1)]
    string = strand("string", 1.7, [(1.25 * x, 1.25 * (y + 2.5) - 2.5, z) for x, y, z in turns])
    words, lines = labels(
        ("line, once around the tip", (0.0, -18.5), (9.5, -2.6)),
        ("string at a corner", (-15.0, 12.0), (1.9, 14.0)),
    )
    return Figure(
        "square-line",
        "Line and string of a square tip",
        (
            "Run the line through every loop of the tip and join it to its length; at each corner a"
            " string, hitched on it."
        ),
        (*loops, line, string),
        words,
        lines,
        marks=(*_knots(2, 9.0, -14.0, -18.0), *_knots(2, 9.0, -14.0, 18.0)),
    )


def _tuck(number: int, on: float, lay: float) -> Strand:
    """An end of the rope that goes under the middle strand of its own part and over those beside it."""
    places: list[Place] = [
        (0.8 + 0.2 * on, 7.4 + 0.4 * on, 1),
        (4.4 + on, 2 * lay, 1),
        (6.6 + on, 0.5 * lay, 1),
    ]
    places += [(7.6 + on, 0, -1), (8.6 + on, -0.5 * lay, 1), (10.6 + on, -1.8 * lay, 1)]
    return strand(f"end {number}", 1.7, places, GREY)


def eye_splice(legs_to: str) -> Figure:
    """The end of a rope worked back into it around a rod: over one strand, under the next, three times."""
    lay = 2.3
    parts = tuple(
        strand(f"strand {number + 1}", lay, [(2.0, lay * (number - 1), 0), (29.0, lay * (number - 1), 0)])
        for number in range(3)
    )
    turn: list[Place] = [(5, 0, -1), (0, -2, -1), (-8, -9.5, -1), (-16, -10, -1), (-21, 0, -1), (-16, 10, -1)]
    eye = strand("eye", 3 * lay, [*turn, (-7, 10.5, -1), (1.5, 8, -1)])
    tucks = tuple(_tuck(number + 1, 4.0 * number, lay) for number in range(3))
    rod = ring((-13, 0), 5, 0.5, "white")
    words, lines = labels(
        (legs_to, (-18.0, -17.0), (-13.0, -3.0)),
        ("three ends, tucked in", (8.0, 18.5), (3.2, 8.6)),
        ("the leg's own part", (14.0, -15.0), (25.0, -2.2)),
    )
    return Figure(
        "eye-splice",
        "Splice of a bridle leg",
        (
            "An eye around the hoop, with slack to turn on. Each end against the lay, over one strand"
            " and under the next, three times at least."
        ),
        (*parts, eye, *tucks),
        words,
        lines,
        marks=(rod,),
    )
