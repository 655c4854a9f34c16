"""The throat sheet: where each throat's tip comes to stand, and the string to tie it with."""

from __future__ import annotations

from net3d.chain import Design
from net3d.checks.throats import tip_place
from net3d.tables.sheet import Column, Sheet, noted
from net3d.tables.strings import meshes_text

NOTES = (
    (
        "Tie all strings of a throat to one length, knot to knot. Longer than the longest, they let the"
        " throat sag; shorter than the shortest, it carries a fifth of the pull and more, and the body hangs"
        " slack."
    ),
)


def throat_sheet(design: Design) -> Sheet:
    """One row a throat, as the net hangs. Cells are SI [m]."""
    columns = (
        Column("throat", "throat"),
        Column("hoop", "on hoop"),
        Column("length", "length", "cut"),
        Column("tip", "tip"),
        Column("string_to_tie", "string to tie", "cut"),
        Column("either_way", "either way", "reading"),
        Column("string_meshes", "in meshes"),
        Column("string_tight", "shortest", "cut"),
        Column("string_loose", "longest", "cut"),
        Column("opening_girth", "tip around", "reading"),
        Column("opening_clear", "clear width", "reading"),
        Column("clearance", "from the body", "reading"),
        Column("pull_share", "of the pull", "share"),
    )
    rows = tuple(
        (
            throat.number,
            throat.hoop,
            throat.length,
            tip_place(design.spec, design.shape, throat.tip_position),
            throat.strings.to_tie,
            throat.string_follows.either_way(design.spec.tolerances),
            meshes_text(throat.strings.to_tie / design.plan.stretched_mesh),
            throat.strings.tight,
            throat.strings.loose,
            throat.opening_girth,
            throat.opening_clear,
            throat.clearance,
            throat.pull_share,
        )
        for throat in design.shape.throats
    )
    title = f"{design.spec.title}: throats and their strings"
    return Sheet("throats", title, design.spec.tape, columns, rows, noted("how", *NOTES))
