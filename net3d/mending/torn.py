"""What is torn of a net, as a maker counts it: knots by their row and their place around."""

from __future__ import annotations

import re

from net3d.mending.lattice import Lattice, lattice_of
from net3d.mending.trimming import HoleError
from net3d.plan.plan import Plan

_KNOTS = re.compile(r"\s*(\d+)\s*:\s*(\d+)\s*(?:-\s*(\d+)\s*)?")


def part_lattice(plan: Plan, throat: int | None) -> Lattice:
    """The netting of the body, its rows numbered on from the mouth to the tail, or of a throat.

    Raises HoleError where there is no throat of the number, from 1.
    """
    if throat is None:
        return lattice_of(*(section.piece for section in plan.sections), *([plan.tail] if plan.tail else []))
    if not 1 <= throat <= len(plan.throats):
        raise HoleError(f"There is no throat {throat}: the net has {len(plan.throats)}.")
    return lattice_of(plan.throats[throat - 1].piece)


def torn_bars(lattice: Lattice, texts: tuple[str, ...]) -> frozenset[int]:
    """The bars at torn knots, such as 7:12 or 7:12-15: row 7, knots 12 to 15, counted as they are knitted.

    Raises HoleError with everything that is no knot of the netting.
    """
    knots, wrong = set[int](), list[str]()
    for text in texts:
        match = _KNOTS.fullmatch(text)
        row, first, last = (int(part or match[2]) for part in match.groups()) if match else (0, 0, 0)
        if match is None:
            wrong.append(f"{text!r} is no row and knot: write 7:12, or 7:12-15 for knots 12 to 15 of row 7.")
        elif not 1 <= row <= len(lattice.counts) - 2:
            most = len(lattice.counts) - 2
            wrong.append(f"{text!r}: there is no row {row} to be torn: write a row from 1 to {most}.")
        elif not 1 <= first <= lattice.counts[row] or not 1 <= last <= lattice.counts[row]:
            wrong.append(f"{text!r}: row {row} has knots 1 to {lattice.counts[row]}.")
        else:
            over = range((last - first) % lattice.counts[row] + 1)
            knots |= {lattice.knot(row, first - 1 + more) for more in over}
    if wrong:
        raise HoleError("\n".join(wrong))
    return lattice.bars_at(knots)
