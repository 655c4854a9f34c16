"""The cuts sheet: what to knit row by row, or the pieces to cut from sheet netting."""

from __future__ import annotations

from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.tables.knitting import knitting_sheet
from net3d.tables.panels import panels_sheet
from net3d.tables.sheet import Sheet


def cuts_sheet(spec: NetSpec, plan: Plan) -> Sheet:
    """The body first, then the throats, in the order they are worked; the netting of the model exactly."""
    return panels_sheet(spec, plan) if spec.netting.made == "sheet" else knitting_sheet(spec, plan)
