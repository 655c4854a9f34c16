"""A mender who knows only what the steps say: cuts, knits and ties on a graph of knots and bars."""

import re
from collections import Counter

STOP = re.compile(r"(\d+:\d+)( tie)?")
CUT = re.compile(r"(\d+:\d+) to (\d+:\d+)")


def netting_of(lattice, bars):
    """Bars of a lattice as pairs of names such as 7:12, counted: two knots may be tied by two bars."""
    names = [f"{row}:{place + 1}" for row, count in enumerate(lattice.counts) for place in range(count)]
    return Counter(frozenset((names[a], names[b])) for a, b in lattice.ends[sorted(bars)].tolist())


def knit(left, steps):
    """The netting after all steps, knots as they were tied, and the last knot the twine came to."""
    left, tied, at = Counter(left), [], None
    for work, knots in steps:
        if work.startswith("Pick"):
            left -= Counter(frozenset(ends) for ends in CUT.findall(knots))
        elif work.startswith("Make the twine fast"):
            at = STOP.search(work)[1]
        elif work.startswith("Knit"):
            first = STOP.search(work.split("from ")[1])
            assert first[1] == at, "a pass begins where the last one ended"
            tied += [at] if first[2] else []
            for name, tie in STOP.findall(knots):
                left[frozenset((at, name))] += 1
                tied += [name] if tie else []
                at = name
        else:
            assert STOP.search(work)[1] == at, "the twine is cut where it is"
    return left, tied, at
