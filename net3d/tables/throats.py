"""The throat sheet: where each throat's tip comes to stand, and the string to tie it with."""

from __future__ import annotations

from net3d.chain import Design
from net3d.checks.throats import tip_place
from net3d.tables.sheet import Column, Sheet

NOTES = (
    (
        "Tie all strings of a throat to one length, knot to knot. Longer than the longest, they let the"
        " throat sag; shorter than the shortest, it carries a fifth of the pull and more, and the body hangs"
        " slack."
    ),
)


def throat_sheet(design: Design) -> Sheet:
    """One row a throat, as the net hangs. Cells are SI [m]."""
    units, step = design.spec.units, design.spec.marking.round
    columns = (
        Column("throat"),
        Column("on hoop"),
        Column("length", units, step),
        Column("tip"),
        Column("string to tie", units, step),
        Column("shortest", units, step),
        Column("longest", units, step),
        Column("tip around", units, step),
        Column("clear width", units, step),
        Column("from the body", units, step),
        Column("share of pull"),
    )
    rows = tuple(
        (
            throat.number,
            throat.hoop,
            throat.length,
            tip_place(design.spec, design.shape, throat.tip_position),
            throat.strings.to_tie,
            throat.strings.tight,
            throat.strings.loose,
            throat.opening_girth,
            throat.opening_clear,
            throat.clearance,
            throat.pull_share,
        )
        for throat in design.shape.throats
    )
    return Sheet("throats", f"{design.spec.title}: throats and their strings", columns, rows, NOTES)
