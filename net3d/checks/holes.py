"""What holes do until they are mended: fish that get out, and bars that carry more."""

from __future__ import annotations

import numpy as np

from net3d.checks.checks import Finding, Level
from net3d.checks.grading import graded
from net3d.checks.settled import STATICS
from net3d.mending.meanwhile import Rest, Torn
from net3d.mending.torn import Hole
from net3d.mending.trail import numbered
from net3d.netting.netting import Ints, Netting
from net3d.spec.spec import NetSpec
from net3d.statics.settle import GOOD

AROUND = "bars around the hole: geometry"


def check_holes(spec: NetSpec, netting: Netting, torn: Torn) -> list[Finding]:
    """Findings of every hole, and whether the net comes to rest with them in the waters that it is in."""
    found = [_opening(spec, hole, one.girth) for hole, one in zip(torn.holes, torn.openings, strict=True)]
    for rest in torn.rests:
        if rest.state not in GOOD:
            message = (
                f"{_in(spec, rest)}With its holes the net finds no rest. {rest.state.sentence} "
                "Mend it before it is set."
            )
            return [*found, Finding("hole-rest", Level.FAIL, "net", message, rest.residual, 1e-6, STATICS)]
    pieces = {hole.throat: (hole, own) for hole, own in zip(torn.holes, torn.bars, strict=True)}
    return found + [_tightest(spec, netting, torn.rests, hole, own) for hole, own in pieces.values()]


def _in(spec: NetSpec, rest: Rest) -> str:
    return f"At {spec.tape.speed(rest.current)}: " if rest.current else ""


def _opening(spec: NetSpec, hole: Hole, girth: float) -> Finding:
    where, fish, tape = f"hole {hole.number}", spec.fish, spec.tape
    told = f"Hole {hole.number}, in {hole.place}, opens {tape.rough(girth)} around"
    if fish is None:
        message = f"{told}: fish no larger around than that get through."
        return Finding("hole-opening", Level.CAUTION, where, message, girth, 0.0, AROUND)
    if girth < fish.girth_min:
        message = (
            f"{told}: the fish you are after, {tape.rough(fish.girth_min)} and more, do not get through."
        )
        return Finding("hole-opening", Level.CAUTION, where, message, girth, fish.girth_min, AROUND)
    which = f"fish up to {tape.rough(girth)}" if girth < fish.girth_max else "all the fish you are after"
    message = f"{told}: {which} get through. Mend it before the net is set."
    return Finding("hole-opening", Level.FAIL, where, message, girth, fish.girth_min, AROUND)


def _tightest(spec: NetSpec, netting: Netting, rests: tuple[Rest, ...], hole: Hole, own: Ints) -> Finding:
    """The bar of a torn piece that is nearest to parting, in whichever water."""
    loads = np.array([(rest.tensions / netting.bar_strengths)[own] * (own >= 0) for rest in rests])
    water, worst = (int(at) for at in np.unravel_index(np.argmax(loads), loads.shape))
    rest, bar, load = rests[water], own[worst], float(loads[water, worst])
    now, before = (spec.tape.force(float(pulls[bar])) for pulls in (rest.tensions, rest.whole))
    name = " to ".join(numbered(hole.lattice, tuple(hole.lattice.ends[worst].tolist())))
    told = (
        f"{_in(spec, rest)}Torn, {hole.place} has its tightest bar from {name}: {now}, "
        f"and {before} in the whole net"
    )
    breaks = spec.tape.force(float(netting.bar_strengths[bar]))
    end = "it parts next, and the hole grows" if load >= 1.0 else "the hole may grow"
    return graded(
        "hole-bar",
        hole.place,
        load,
        spec.limits.threshold("twine_load"),
        (
            f"{told}; {load:.1%} of its strength, so that it holds.",
            f"{told}; wet and knotted it breaks at about {breaks}: {end}. Pull less, and mend it first.",
        ),
    )
