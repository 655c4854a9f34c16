"""How ways out are cut, framed and laced, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from math import pi

from net3d.mending.lattice import lattice_of
from net3d.plan.apertures import Aperture
from net3d.plan.escapes import EscapePlan
from net3d.plan.plan import Plan
from net3d.spec.holes import KnotRun
from net3d.spec.spec import NetSpec
from net3d.tables.cautions import HOT_KNIFE, WILDLIFE

Words = tuple[str, str, str]  # what to do, its numbers, a caution


def escape_words(spec: NetSpec, plan: Plan, escape: EscapePlan) -> Iterator[Words]:
    """What to do for a way out, in order."""
    said, tape = escape.spec, spec.tape
    for number, one in enumerate(escape.apertures, start=1):
        which = f", opening {number} of {len(escape.apertures)}" if len(escape.apertures) > 1 else ""
        frame = f"{said.pieces} rings" if said.round else "a frame"
        size = _size(spec, escape)
        if number == 1 and escape.rod is not None:
            rod = f"{tape.thickness(said.rod)} {escape.rod.material.name}"
            two = "two frames" if escape.chimney else frame
            yield f"Bend {two} for {escape.title}.", f"{size} inside, of {rod} rod", ""
        yield (
            f"Cut out the knots of {escape.title}{which}, {place_word(one.angle)}, behind hoop "
            f"{said.behind}.",
            f"knots {_runs(plan, one)}, counted from hoop 1; {one.bars} bars",
            HOT_KNIFE,
        )
        yield (
            "Lace every knot around it to the frame, not tighter than told: a tight frame takes the pull.",
            f"{len(one.rim)} knots, {tape.length(escape.lacing)} from knot to frame",
            "",
        )
    if escape.chimney is not None and said.high is not None:
        tube = escape.chimney
        yield (
            f"Knit the chimney of {escape.title}, a tube, on to its frame, and lace its end to the other.",
            f"{tube.around} meshes around, {tube.rows} rows of bars, {tape.length(said.high)} high, floats "
            f"that lift {tape.force(tube.lift)} on its end",
            "Its end must stand over the water whatever its level, or what climbs up drowns.",
        )
    if escape.lines is not None:
        both = "both ways" if said.kind == "guard" else "upright"
        yield (
            f"Tie the lines of {escape.title} across the mouth hoop, {both}.",
            f"{len(escape.line_lengths)} lines, {tape.length(escape.apart)} apart, "
            f"{tape.length(max(escape.line_lengths))} the longest",
            "",
        )
    if said.kind == "panel":
        yield (
            f"Cut three sides of the panel of {escape.title} open, {place_word(2 * pi * said.turn)}, behind "
            f"hoop {said.behind}, all but the one toward the mouth, and sew them shut with thread that rots.",
            f"{_size(spec, escape)}; {len(escape.seam)} bars",
            "Hang a piece of the thread in the water and see how long it lasts.",
        )
    if said.kind == "floats" and said.lift is not None:
        yield (
            f"Tie the floats of {escape.title} inside the tail, at its top.",
            f"{said.pieces} floats that lift {tape.force(said.lift)} each",
            WILDLIFE,
        )


def _size(spec: NetSpec, escape: EscapePlan) -> str:
    said, tape = escape.spec, spec.tape
    along, around = said.size
    if said.round:
        return tape.length(around)
    return f"{tape.length(around)} around the net by {tape.length(along)} along it"


def place_word(angle: float) -> str:
    """Where an opening stands around the net, by its angle from the top, clockwise [rad].

    >>> place_word(0.0), place_word(1.5708), place_word(2.0)
    ('at the top', 'a quarter of the way around clockwise', '0.318 of the way around clockwise')
    """
    share = angle / (2 * pi) % 1.0
    words = {0.0: "at the top", 0.25: "a quarter of the way around clockwise", 0.5: "at the bottom"}
    return words.get(round(share, 3), f"{share:.3g} of the way around clockwise")


def _runs(plan: Plan, one: Aperture) -> str:
    """Knots row by row, such as 6:35-2, around clockwise."""
    counts = lattice_of(*plan.body).counts
    rows = groupby(one.cut, key=lambda knot: knot[0])
    return ", ".join(str(_run(row, [place for _, place in knots], counts[row])) for row, knots in rows)


def _run(row: int, places: Iterable[int], count: int) -> KnotRun:
    """Neighbouring places around, from 0, as a run from 1, over the reference mark too.

    >>> str(_run(6, [0, 1, 35], 36)), str(_run(6, [4], 36))
    ('6:36-2', '6:5')
    """
    own = set(places)
    first = next(place for place in sorted(own) if (place - 1) % count not in own or len(own) == count)
    return KnotRun(row, first + 1, (first + len(own) - 1) % count + 1)
