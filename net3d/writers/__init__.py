"""What is written: one module a format, the list of what a build holds, and how a file or folder comes whole.

``build_files.py`` is the list; ``folder.py`` and ``file.py`` leave the old or the new, never half of one
(``drafts.py``). No other room writes files.
"""
