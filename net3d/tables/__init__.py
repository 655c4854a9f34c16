"""Tables for the bench."""

from net3d.tables.cuts import cuts_sheet
from net3d.tables.marks import marks_sheet
from net3d.tables.materials import materials_sheet
from net3d.tables.standing import standing_sheet

__all__ = ["cuts_sheet", "marks_sheet", "materials_sheet", "standing_sheet"]
