"""What anchor holds a pull, in weights that are sold."""

from __future__ import annotations

from net3d.handbook.anchors import Holding, find_holding, holdings
from net3d.handbook.water import water_constant
from net3d.spec.spec import NetSpec
from net3d.water.holding import AnchorLine, holding_factor, needed_weight
from net3d.water.loads import Loads

CARRIED = 100.0  # kg: a heavier anchor is not carried in a small boat; common practice, no source


def sold_weight(spec: NetSpec, loads: Loads, holding: Holding) -> float:
    """The least weight as it is sold of one kind of anchor that holds with the factor asked for [kg]."""
    return weight_sold(spec, holding, loads.anchor_pull_high, loads.line.rise if loads.line else 0.0)


def anchor_text(spec: NetSpec, loads: Loads) -> str:
    """By how much the anchor of the spec holds; or, where it names none, the lightest that does."""
    if spec.anchor is None:
        there = [holding for holding in holdings() if holding.bottom == spec.water.bottom]
        weights = {holding.type: sold_weight(spec, loads, holding) for holding in there}
        lightest = min(weights, key=lambda kind: weights[kind])
        return f"{lightest}, {spec.tape.mass(weights[lightest])}"
    rise = loads.line.rise if loads.line else 0.0
    own = (spec.anchor.type, spec.water.bottom, spec.anchor.weight)
    factor = holding_factor(loads.anchor_pull_high, rise, own)
    return "nothing" if factor is None else f"{factor:.1f} times that"


def anchor_remedy(spec: NetSpec, kind: str, pull: float, line: AnchorLine | None) -> str:
    """A heavier anchor, a kind that holds at less weight, or a longer line where it is steep.

    Parameters
    ----------
    kind : of the anchor that does not hold
    pull : along the bottom [N]
    line : to the anchor, where there is one
    """
    bottom, rise = spec.water.bottom, line.rise if line else 0.0
    own = find_holding(kind, bottom)
    others = [other for other in holdings() if other.bottom == bottom and other.type != kind]
    weights = {other.type: weight_sold(spec, other, pull, rise) for other in others}
    best = min(weights, key=lambda other: weights[other])
    another = f"a {best} of {spec.tape.mass(weights[best])} or more"
    if own is None:
        return f"Take {another}."
    if line is not None and line.is_steep:
        long = line.as_made(length=spec.tape.sold_run(line.gentle_length))
        weight = weight_sold(spec, own, long.pull, long.rise)
        made = f"make the line {spec.tape.length(long.length)} long"
        return f"The line is steep: {made}, and take one of {spec.tape.mass(weight)} or more."
    weight = weight_sold(spec, own, pull, rise)
    return f"Take one of {spec.tape.mass(weight)} or more" + (
        f", or {another}." if weights[best] < weight else "."
    )


def weight_sold(spec: NetSpec, holding: Holding, pull: float, rise: float) -> float:
    """The least weight as it is sold that holds a pull with the factor asked for [kg].

    Parameters
    ----------
    holding : of a kind of anchor on the bottom
    pull : along the bottom [N]
    rise : of the line over the bottom [rad]
    """
    asked = spec.limits.threshold("anchor_hold").caution / water_constant("safety_anchor")
    return spec.tape.sold_mass(max(asked, 1.0) * needed_weight(pull, rise, holding, holding.least))
