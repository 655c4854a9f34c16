"""Handbook numbers: tables with a source in every row, and what is read from them."""
