"""What is told as a table: records of columns, rows and notes for screen, paper, page and CSV.

``sheet.py`` holds the record; the modules named for a sheet fill it from what the earlier rooms worked out,
in the maker's words.
"""

from net3d.tables.cuts import cuts_sheet
from net3d.tables.marks import marks_sheet
from net3d.tables.materials import materials_sheet
from net3d.tables.standing import standing_sheet

__all__ = ["cuts_sheet", "marks_sheet", "materials_sheet", "standing_sheet"]
