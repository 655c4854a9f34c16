"""The standing sheet: how far apart the hoops come to stand, and what the netting between them carries."""

from __future__ import annotations

from typing import TYPE_CHECKING

from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Column, Sheet, noted

if TYPE_CHECKING:  # the marks and the other bench tables need no solver, and this would load it
    from net3d.statics.shape import Shape


EITHER_WAY = (
    "Either way: how sure a length is, by the gauge, wet, dip, tapes and pull of [tolerances]. Nearly all of"
    " it is common to the whole net: measure ten meshes of the finished body."
)


def standing_sheet(spec: NetSpec, plan: Plan, shape: Shape) -> Sheet:
    """Length, waist and tensions of every section as the net hangs. Cells are SI [m, N]."""
    columns = (
        Column("hoops", "hoops"),
        Column("meshes_deep", "meshes deep"),
        Column("length", "apart", "cut"),
        Column("either_way", "either way", "reading"),
        Column("waist", "waist", "reading"),
        Column("tension_min", "least tension", "force"),
        Column("tension_mean", "mean", "force"),
        Column("tension_max", "most", "force"),
        Column("body_share", "netting carries", "share"),
        Column("slack_share", "bars slack", "share"),
    )
    rows = tuple(
        (
            f"{section.from_hoop} to {section.to_hoop}",
            planned.meshes_deep,
            section.length,
            section.follows.either_way(spec.tolerances),
            None if plan.frame_of(planned) else section.waist_diameter,
            section.tension_min,
            section.tension_mean,
            section.tension_max,
            section.body_share,
            section.slack_share,
        )
        for planned, section in zip(plan.sections, shape.sections, strict=True)
    )
    length = spec.tape.length(shape.length)
    sure = spec.tape.either_way(shape.length_follows.either_way(spec.tolerances))
    title = f"{spec.title}: {length} from the first hoop to the last, {sure} either way"
    return Sheet("standing", title, spec.tape, columns, rows, noted("how", EITHER_WAY))
