"""Bars marked as torn in the 3D view, as changes of the spec; and how holes are mended."""

from __future__ import annotations

from typing import Any

import numpy as np

from net3d.errors import NetError, Problem, SpecError
from net3d.mending import HoleError, mended
from net3d.mending.picked import picked_tears
from net3d.mending.torn import holes_of
from net3d.netting import tie
from net3d.plan import lay_out
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.tables.mending import mend_facts, mend_steps

MOST_BARS = 5000


def torn_changes(spec: NetSpec, ends: object) -> dict[str, object]:
    """A new hole for body and throats each, with the bars between these knots of the netting.

    Raises SpecError where they are no such bars.
    """
    plan = lay_out(spec)
    try:
        tears = picked_tears(plan, tie(spec, plan), np.array(_pairs(ends)))
    except HoleError as error:
        raise SpecError("hole", (Problem("", str(error)),)) from None
    changes: dict[str, object] = {}
    for number, tear in enumerate(tears, start=len(spec.holes) + 1):
        bars = [f"{a}:{b} to {c}:{d}" for (a, b), (c, d) in tear.bars]
        told = {"throat": tear.throat, "knots": list(map(str, tear.knots)), "bars": bars}
        changes |= {f"hole.{number}.{key}": value for key, value in told.items() if value}
    return changes


def told_mends(spec: NetSpec, plan: Plan) -> list[dict[str, Any]]:
    """How each hole of a spec is mended: what it takes, and step by step; or why it is not."""
    return [_told_mend(spec, plan, number) for number in range(len(spec.holes))]


def _told_mend(spec: NetSpec, plan: Plan, number: int) -> dict[str, Any]:
    try:
        made = mended(holes_of(spec, plan)[number])
        return {"facts": mend_facts(spec, plan, made), "steps": mend_steps(made)}
    except NetError as error:
        return {"message": str(error)}


def _pairs(given: object) -> list[list[int]]:
    if isinstance(given, list) and 0 < len(given) <= MOST_BARS and all(map(_is_pair, given)):
        return given
    raise SpecError("page", (Problem("", f"no bars were marked, or more than {MOST_BARS:,}"),))


def _is_pair(given: object) -> bool:
    return (
        isinstance(given, list)
        and len(given) == 2
        and all(type(one) is int and 0 <= one < 2**31 for one in given)
    )
