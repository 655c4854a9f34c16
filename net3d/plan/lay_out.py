"""From the spec to the plan: rows, ratios, marks, knots and twine."""

from __future__ import annotations

from contextlib import suppress
from math import pi, sqrt

import numpy as np

from net3d.errors import SpecError
from net3d.outline.curves import Circle, Floats, Oval
from net3d.outline.outline import Outline
from net3d.outline.waves import FLAT, fit_bow, fit_ovality
from net3d.plan.cutting import PANELS, Seams, first_seams, last_seams, narrow_to_seams
from net3d.plan.decreases import Edge, Piece, share_out
from net3d.plan.escapes import plan_escapes
from net3d.plan.guides import plan_guides
from net3d.plan.joins import Row
from net3d.plan.marking import mark_readings, step_around
from net3d.plan.narrowing import narrow
from net3d.plan.plan import HoopPlan, Plan, SectionPlan
from net3d.plan.ribs import plan_ribs
from net3d.plan.throats import plan_throats
from net3d.plan.twine import piece_twine
from net3d.spec.hoops import HoopSpec
from net3d.spec.spec import NetSpec


def lay_out(spec: NetSpec) -> Plan:
    """Work out the whole-number arithmetic of a net.

    Rows of knots are counted from the mouth hoop, two to a mesh; the knots of every other row stand
    half a pitch off those of the last. Raises SpecError for decreases that cannot be tied.
    """
    try:
        return _lay_out(spec)
    except SpecError as error:
        raise spec.source.problems(error.problems) from None


def _lay_out(spec: NetSpec) -> Plan:
    sections = _sections(spec)
    tail = _tail(spec, sections[-1].piece)
    pieces = [section.piece for section in sections] + ([tail] if tail else [])
    stretched, twine = spec.netting.stretched, spec.twine
    length = sum(piece_twine(piece, stretched / 2, twine.diameter) for piece in pieces)
    hoops = _hoops(spec, sections)
    return Plan(
        meshes_around=spec.netting.around,
        stretched_mesh=stretched,
        twine=twine,
        pull=spec.rigging.still_pull,
        bench_pull=spec.rigging.bench_pull,
        hoops=hoops,
        sections=sections,
        ribs=plan_ribs(spec, hoops, sections),
        guides=plan_guides(spec.guides),
        escapes=plan_escapes(spec, hoops, sections),
        tail=tail,
        throats=plan_throats(spec, hoops, sections),
        knots=sum(piece.knots for piece in pieces),
        twine_length=length,
        twine_mass=length * twine.mass_per_length,
    )


def hanging_ratios(knot_girth: float, around: int, stretched: float) -> tuple[float, float]:
    """Hanging ratios across and along a hoop, ``E1 = C / (N m)`` and ``E2 = sqrt(1 - E1^2)``.

    Terms of ISO 1107. Raises ValueError for E1 >= 1, too wide.

    Parameters
    ----------
    knot_girth : C, around the knots [m]
    around : N meshes
    stretched : stretched mesh m [m]

    >>> e1, e2 = hanging_ratios(0.6, 12, 0.1)
    >>> round(e1, 3), round(e2, 4)
    (0.5, 0.866)
    """
    across = knot_girth / (around * stretched)
    if across >= 1.0:
        raise ValueError(f"E1 is {across:.3f}: the meshes do not reach around the hoop")
    return across, sqrt(1.0 - across**2)


def _sections(spec: NetSpec) -> tuple[SectionPlan, ...]:
    """The netting from hoop to hoop: knotted in the round, or cut in as few panels as its seams allow."""
    if spec.netting.made == "hand-tied":
        return _sections_between(spec, ())
    row, wanted = Row(spec.netting.around), spec.netting.panels
    for panels in () if wanted else PANELS[:-1]:
        with suppress(SpecError):
            return _sections_between(spec, first_seams(row, panels))
    return _sections_between(spec, first_seams(row, wanted or PANELS[-1]))


def _sections_between(spec: NetSpec, seams: Seams) -> tuple[SectionPlan, ...]:
    """Each section hangs from the last row of the one before; the seams run on."""
    sections: list[SectionPlan] = []
    row = Row(spec.netting.around)
    for index, (deep, around) in enumerate(zip(spec.sections.deep, spec.sections.around, strict=True)):
        wanted = share_out(row.count - around, round(2 * deep), 0.0)
        edge, key = _edge(spec, index, row), f"sections.around[{index + 1}]"
        piece = narrow_to_seams(edge, wanted, key, seams) if seams else narrow(edge, wanted, key)
        sections.append(SectionPlan(index + 1, index + 2, piece, spec.sections.spacing[index]))
        row, seams = piece.rows[-1], last_seams(piece)
    return tuple(sections)


def _tail(spec: NetSpec, last: Piece) -> Piece | None:
    if spec.tail is None:
        return None
    edge, plain = _edge(spec, -1, last.rows[-1]), (0,) * round(2 * spec.tail.deep)
    seams = last_seams(last)
    return narrow_to_seams(edge, plain, "tail.deep", seams) if seams else narrow(edge, plain, "tail.deep")


def _edge(spec: NetSpec, index: int, row: Row) -> Edge:
    hoop = spec.hoops[index]
    return Edge(row, hoop.diameter / 2 - hoop.rod, spec.netting.stretched / 2)


def _hoops(spec: NetSpec, sections: tuple[SectionPlan, ...]) -> tuple[HoopPlan, ...]:
    places = [(0, sections[0].piece.rows[0])]
    for section in sections:
        places.append((places[-1][0] + section.bar_rows, section.piece.rows[-1]))
    return tuple(
        _hoop(spec, hoop, number, place)
        for number, (hoop, place) in enumerate(zip(spec.hoops, places, strict=True), start=1)
    )


def _hoop(spec: NetSpec, hoop: HoopSpec, number: int, place: tuple[int, Row]) -> HoopPlan:
    knot_row, row = place
    step = spec.marking.round
    outline = hoop_outline(hoop, row.count)
    offset = outline.length(row.phase)
    across, along = hanging_ratios(outline.inner_girth(hoop.rod), row.count, spec.netting.stretched)
    stepped_pitch, stepping_error = step_around(outline.girth, row.count, step)
    return HoopPlan(
        number=number,
        outline=outline,
        rod_diameter=hoop.rod,
        material=hoop.material,
        knot_row=knot_row,
        row=row,
        pitch=outline.pitch(row.count),
        hanging_ratio=across,
        depth_ratio=along,
        mark_offset=offset,
        marks=_marks(outline, row, step),
        stepped_pitch=stepped_pitch,
        stepping_error=stepping_error,
        frame=hoop.frame,
    )


def _marks(outline: Outline, row: Row, step: float) -> Floats:
    """Tape readings of a hoop's marks, each rounded once [m]."""
    if not outline.curve.spread:
        return mark_readings(outline.girth, row.count, outline.length(row.phase), step)
    lengths = np.array([outline.length(arc) for arc in row.angles().tolist()])
    return np.asarray(np.round(lengths / step) * step)


def hoop_outline(hoop: HoopSpec, around: int) -> Outline:
    """The outline of a hoop as it is sewn in to so many meshes around, turned over or not.

    It is measured mouth side up, so that clockwise is as seen from the mouth; up is then away from the tail.
    """
    bow = fit_bow(-np.array(hoop.gaps)) if hoop.gaps else FLAT
    oval = fit_ovality(np.array(hoop.across))[1] if hoop.across else FLAT
    round_curve = Oval(hoop.diameter, oval) if oval.numbers else Circle(hoop.diameter)
    curve = hoop.frame.curve if hoop.frame else round_curve
    outline = Outline(curve, bow, hoop.turn * 2 * pi / around)
    return outline.turned_over() if hoop.flip else outline
