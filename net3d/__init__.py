"""Hoop nets worked out in 3D before the first knot is tied."""
