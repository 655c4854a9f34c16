"""What goes into a net when it is built, dipped or mended: twine by its name, and dip."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from net3d.mending import holes_of, mended
from net3d.plan.plan import Plan
from net3d.shop.amounts import amounts, netting_mass
from net3d.shop.repairs import repairs
from net3d.spec.spec import NetSpec


def built_twine(spec: NetSpec, plan: Plan) -> Mapping[str, float]:
    """Twine in netting and lacing, by its name [m]; strings, which follow from the shape, left out."""
    used = defaultdict[str, float](float)
    for one in amounts(spec, plan):
        if one.twine is not None:
            used[one.twine.name] += one.total or 0.0
    return used


def mended_twine(spec: NetSpec, plan: Plan, hole: int) -> Mapping[str, float]:
    """Twine that mends a hole of the spec, by its name, with what is wasted [m]. The number is from 1."""
    torn = holes_of(spec, plan)[hole - 1]
    twine = plan.twine if torn.throat is None else plan.throats[torn.throat - 1].twine
    ways = {one.way: one for one in repairs(spec, plan, mended(torn))}
    return {twine.name: ways["mend"].twine}


def dip_mass(spec: NetSpec, plan: Plan) -> float:
    """Dip that the netting takes up [kg]."""
    return (spec.stock.dip_share or 0.0) * netting_mass(plan)
