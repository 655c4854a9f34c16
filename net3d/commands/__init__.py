"""The commands of the command line, one file each; nothing heavy is imported before one runs.

Beside them what they share: ``options.py``, ``printing.py`` and ``screen.py`` for the terminal, and
``serving.py`` for a page. No other room prints.
"""
