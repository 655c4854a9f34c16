"""What a net keeps, as numbers for report.json."""

from __future__ import annotations

from typing import Any

from net3d.catch import Kept
from net3d.catch.kept import curve_lengths
from net3d.netting.netting import Floats
from net3d.spec.spec import FishSpec


def kept_record(fish: FishSpec, kept: tuple[Kept, ...]) -> dict[str, Any]:
    """Every opening with the shares of fish that do not pass it, over their length or, if need be, girth."""
    lengths = curve_lengths(fish, kept)
    body = fish.body
    return {
        "by": "girth" if fish.by_girth else "length",
        "fish_m": lengths.tolist(),
        "girth_m": body.girth(lengths).tolist(),
        "spread": body.spread,
        "head_ratio": body.head,
        "source": body.source,
        "openings": [_opening(one, lengths) for one in kept],
    }


def _opening(one: Kept, lengths: Floats) -> dict[str, Any]:
    least, likely, most = one.shares(lengths)
    return {
        "name": one.opening.name,
        "way": "in" if one.opening.inward else "out",
        "stiff_girth_m": one.opening.stiff,
        "soft_girth_m": one.opening.soft,
        "struggling_girth_m": one.opening.forced,
        "stay_least": least.tolist(),
        "stay": likely.tolist(),
        "stay_most": most.tolist(),
        "wedge": one.wedged(lengths).tolist(),
    }
