"""What is told as a table: records of columns, rows and notes for screen, paper, page and CSV.

``sheet.py`` holds the record; the modules named for a sheet fill it from what the earlier rooms worked out,
in the maker's words.
"""
