"""The string in meshes of the net as tied: what ten of its meshes measure, against the string to tie.

Strings that are right for exact meshes are wrong by more than they may be where all meshes are one part in a
hundred larger; in meshes of the net they hold whatever these come out at.
"""

from __future__ import annotations

from dataclasses import replace

from net3d.chain import Design
from net3d.statics.shape import ThroatShape
from net3d.tables.sheet import Column, Sheet, noted
from net3d.units import plain_tape

_PLAIN = plain_tape(metric=False)
TEN = 10  # meshes that are measured together
EITHER_WAY = 0.03  # of the mesh, covered by the table
NOTES = (
    "Measure ten meshes of the finished body, stretched: pulled shut along the net, from a knot's centre to"
    " the centre of the tenth after it, at several places, and take the mean. Tie every throat's strings by"
    " that line, all to one length; between two lines go in proportion.",
)


def string_sheet(design: Design) -> Sheet:
    """One row for each reading of ten meshes, a column a throat. Cells are SI [m]."""
    throats = design.shape.throats
    columns = (
        Column("ten_meshes", "ten meshes measure", "reading"),
        *(Column("string", f"strings of throat {throat.number}", "cut", throat.number) for throat in throats),
    )
    rows = tuple(
        (ten, *(string_at(throat, ten / (TEN * design.plan.stretched_mesh)) for throat in throats))
        for ten in _readings(design)
    )
    title = f"{design.spec.title}: strings by the meshes of the net as tied"
    return Sheet("strings", title, design.spec.tape, columns, rows, noted("how", *NOTES))


def string_at(throat: ThroatShape, times: float) -> float:
    """The string to tie where meshes come out so many ``times`` as large as planned [-]; in [m].

    ``l + (dl / dm) (times - 1)``. Source: virtual forces, ``statics/follows.py``.
    """
    return throat.strings.to_tie + throat.string_follows.meshes * (times - 1.0)


def string_text(design: Design, throat: ThroatShape) -> str:
    """A throat's string by the plan and in meshes, and how sure both are."""
    tape, off, follows = design.spec.tape, design.spec.tolerances, throat.string_follows
    planned = follows.either_way(off)
    measured = follows.either_way(replace(off, gauge=0.0, wet=0.0, dip=0.0))
    return (
        f"{tape.length(throat.string_length)} from knot to knot, {tape.either_way(planned)} either way with "
        f"your gauge; {meshes_text(throat.string_length / design.plan.stretched_mesh)} stretched meshes of "
        f"the net as tied, {tape.either_way(measured)} either way"
    )


def meshes_text(meshes: float) -> str:
    """A length in stretched meshes [meshes], in sixteenths.

    >>> meshes_text(8.058)
    '8 1/16'
    """
    return _PLAIN.reading(meshes * _PLAIN.one("length"))


def _readings(design: Design) -> tuple[float, ...]:
    """What ten meshes may come to measure, in steps that a tape shows [m]."""
    ten = TEN * design.plan.stretched_mesh
    step = design.spec.tape.round_step(EITHER_WAY * ten / 3)
    count = max(round(EITHER_WAY * ten / step), 2)
    return tuple(ten + place * step for place in range(-count, count + 1))
