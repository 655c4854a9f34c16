"""The version, which nothing heavy hangs on."""

__version__ = "0.1.0"
