"""Tables for the bench."""

from net3d.sheets.cuts import cuts_sheet
from net3d.sheets.marks import marks_sheet
from net3d.sheets.materials import materials_sheet
from net3d.sheets.standing import standing_sheet

__all__ = ["cuts_sheet", "marks_sheet", "materials_sheet", "standing_sheet"]
