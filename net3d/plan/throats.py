"""The throats: their rows, where their decreases stand, and what their strings tie to."""

from __future__ import annotations

from math import hypot, pi, sqrt

from net3d.plan.cutting import throat_to_seams
from net3d.plan.decreases import Edge, Piece, share_out
from net3d.plan.joins import Row
from net3d.plan.narrowing import narrow
from net3d.plan.plan import HoopPlan, SectionPlan, StringPlan, ThroatPlan
from net3d.plan.twine import piece_twine
from net3d.spec.spec import NetSpec, ThroatSpec


def plan_throats(
    spec: NetSpec, hoops: tuple[HoopPlan, ...], sections: tuple[SectionPlan, ...]
) -> tuple[ThroatPlan, ...]:
    """Every throat of the spec, in its order."""
    distances = _distances(spec, hoops, sections)
    return tuple(
        _throat(spec, number, hoops[throat.hoop - 1], distances)
        for number, throat in enumerate(spec.throats, start=1)
    )


def _distances(
    spec: NetSpec, hoops: tuple[HoopPlan, ...], sections: tuple[SectionPlan, ...]
) -> tuple[float, ...]:
    """About where each hoop will stand along the net, by its sections' depth and hanging (hoops,) [m]."""
    distances = [0.0]
    for section in sections:
        ratio = (hoops[section.from_hoop - 1].depth_ratio + hoops[section.to_hoop - 1].depth_ratio) / 2
        distances.append(distances[-1] + section.meshes_deep * ratio * spec.netting.stretched)
    return tuple(distances)


def _throat(spec: NetSpec, number: int, hoop: HoopPlan, distances: tuple[float, ...]) -> ThroatPlan:
    throat = spec.throats[number - 1]
    own_marks = throat.around != hoop.meshes_around
    row = Row(throat.around) if own_marks else hoop.row
    piece = _piece(spec, number, Edge(row, hoop.knot_circle_diameter / 2, throat.stretched / 2))
    length = piece_twine(piece, throat.stretched / 2, throat.twine.diameter)
    return ThroatPlan(
        number=number,
        hoop=throat.hoop,
        piece=piece,
        own_marks=own_marks,
        stretched_mesh=throat.stretched,
        twine=throat.twine,
        tip_line=_tip_line(throat),
        strings=_strings(spec, number, hoop, distances),
        knots=piece.knots,
        twine_length=length,
        twine_mass=length * throat.twine.mass_per_length,
    )


def _piece(spec: NetSpec, number: int, edge: Edge) -> Piece:
    throat, key = spec.throats[number - 1], f"throat[{number}].tip"
    wanted = throat.decreases or share_out(edge.row.count - throat.tip, round(2 * throat.deep), throat.taper)
    if spec.netting.made == "sheet":
        return throat_to_seams(edge, wanted, key, throat.panels)
    return narrow(edge, wanted, key, None if throat.decreases else throat.taper)


def _tip_line(throat: ThroatSpec) -> float | None:
    """Around a square throat's opening: as given, or the tip meshes half open, E1 = 0.5."""
    if throat.style != "square":
        return None
    return throat.line if throat.line is not None else 0.5 * throat.tip * throat.stretched


def _tie_hoop(spec: NetSpec, throat: ThroatSpec, hoop: HoopPlan, distances: tuple[float, ...]) -> int | None:
    """As given, or the first hoop so far beyond the tip that strings lie within 45 degrees of the net's axis.

    None for the tail, or the last hoop where there is none.
    """
    if throat.strings.to_hoop is not None or throat.strings.to_tail:
        return throat.strings.to_hoop
    least = distances[hoop.number - 1] + _reach(throat, hoop) + hoop.knot_circle_diameter / 2
    last = None if spec.tail else len(distances)
    return next((number for number, place in enumerate(distances, start=1) if place > least), last)


def _strings(spec: NetSpec, number: int, hoop: HoopPlan, distances: tuple[float, ...]) -> StringPlan:
    throat = spec.throats[number - 1]
    strings, to_hoop = throat.strings, _tie_hoop(spec, throat, hoop, distances)
    return StringPlan(
        to_hoop=to_hoop,
        points=strings.points,
        turn=strings.turn * 2 * pi / strings.points,
        twine=throat.twine,
        length=strings.length,
        about=strings.length or _string_estimate(spec, throat, to_hoop, (hoop, distances)),
        share=strings.share,
    )


def _string_estimate(
    spec: NetSpec, throat: ThroatSpec, to_hoop: int | None, stand: tuple[HoopPlan, tuple[float, ...]]
) -> float:
    """About how long the strings will be, from a throat as open as on its hoop straight to the ties [m]."""
    hoop, distances = stand
    tip = distances[hoop.number - 1] + throat.deep * throat.stretched * hoop.depth_ratio
    if to_hoop is None:
        tail = spec.tail.deep if spec.tail else 0.0
        along, out = distances[-1] + tail * spec.netting.stretched - tip, 0.0
    else:
        along, out = distances[to_hoop - 1] - tip, spec.hoops[to_hoop - 1].diameter / 4
    return max(hypot(along, out), throat.stretched)


def _reach(throat: ThroatSpec, hoop: HoopPlan) -> float:
    """About how far a throat reaches when drawn out, its meshes half as open as on the hoop [m]."""
    return throat.deep * throat.stretched * sqrt(1.0 - (hoop.hanging_ratio / 2) ** 2)
