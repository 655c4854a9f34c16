"""What a net keeps: the openings that fish meet, and which fish pass them."""

from net3d.catch.kept import Kept, kept_by

__all__ = ["Kept", "kept_by"]
