"""Whether the panels of a net that is cut from sheet come out of the sheet that is sold."""

from __future__ import annotations

from net3d.checks.checks import Finding, Level
from net3d.handbook.allowances import allowance
from net3d.parts import Part
from net3d.plan.cutting import panels_of
from net3d.plan.decreases import Piece
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec


def check_sheet(spec: NetSpec, plan: Plan) -> list[Finding]:
    """A finding for the body and each throat of a net cut from a sheet of a size that is given."""
    size = spec.stock.webbing_across or spec.stock.webbing_deep
    if spec.netting.made != "sheet" or size is None:
        return []
    tubes: list[tuple[Part | None, str, tuple[Piece, ...]]] = [(None, "body", tuple(plan.body))]
    tubes += [(one.part, f"throat {one.number}", (one.piece,)) for one in plan.throats]
    taken = allowance("cut_loss") + (2 * spec.lacing.take_up if spec.stock.webbing_across else 0)
    way = "across" if spec.stock.webbing_across else "deep"
    found = []
    for part, name, pieces in tubes:
        panels = panels_of(pieces)
        widest = max(
            max(one.across_first, one.across_last) if way == "across" else one.deep for one in panels
        )
        level = Level.OK if widest + taken <= size else Level.FAIL
        count = f"{len(panels)} panel{'s' if len(panels) > 1 else ''}"
        message = (
            f"{name.capitalize()}: cut from {count}, the widest {widest + taken:g} meshes {way} with what is "
            f"lost at a cut; the sheet is {size} meshes {way}."
        )
        numbers = widest + taken, float(size)
        found.append(
            Finding("sheet-too-small", level, name, message, *numbers, "your spec, [stock]", part=part)
        )
    return found
