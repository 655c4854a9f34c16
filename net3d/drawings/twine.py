"""Twine as one path a part: neighbouring bars run on from each other, with rounded coordinates."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from net3d.netting.netting import Floats, Ints

UNITS = 100  # to a millimetre of paper: whole numbers are shorter than decimals


def twine_path(bars: Ints, places: Floats, colour: str, width: float) -> str:
    """An SVG path along some bars.

    Parameters
    ----------
    bars : knot numbers (k, 2)
    places : of all knots on the paper (n, 2) [mm]
    colour : of the stroke
    width : of the stroke [mm]
    """
    whole = np.rint(places * UNITS).astype(int)
    data = "".join(_run(whole[run]) for run in _runs(bars))
    look = f'fill="none" stroke="{colour}" stroke-width="{width * UNITS:g}" stroke-linejoin="round"'
    return f'<path transform="scale({1 / UNITS})" d="{data}" {look}/>' if data else ""


def _runs(bars: Ints) -> Iterator[list[int]]:
    """Chains of knots: each bar goes on from the knot at which the one before it ended, if it can."""
    run: list[int] = []
    for first, second in bars.tolist():
        if len(run) == 2 and run[0] in (first, second):
            run.reverse()
        if run and run[-1] in (first, second):
            run.append(second if run[-1] == first else first)
            continue
        if run:
            yield run
        run = [first, second]
    if run:
        yield run


def _run(points: Ints) -> str:
    (x, y), steps = points[0], np.diff(points, axis=0)
    moves = "".join(f"{across} {down}" if down >= 0 else f"{across}{down}" for across, down in _signed(steps))
    return f"M{x} {y}l{moves.lstrip(' ')}"


def _signed(steps: Ints) -> Iterator[tuple[str, int]]:
    for across, down in steps.tolist():
        yield f"{across}" if across < 0 else f" {across}", down
