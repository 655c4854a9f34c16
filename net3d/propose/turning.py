"""Hoops of the pile that are not true, turned in a net as ``align`` turns them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from net3d.align import align
from net3d.align.estimate import Turn
from net3d.align.lines import lines_of
from net3d.align.search import bare_body
from net3d.align.ways import ways_to_turn
from net3d.errors import ShapeError, SpecError
from net3d.plan import lay_out
from net3d.spec.spec import NetSpec
from net3d.spec.wanted import Wanted


def is_bowed(typed: Mapping[str, Any]) -> bool:
    """Whether hoops among the tables of a net are not true."""
    return any(hoop.get("gaps") or hoop.get("across") for hoop in typed["hoop"])


def turned(wanted: Wanted, typed: Mapping[str, Any], full: bool) -> Mapping[str, Any]:
    """The tables of a net with every hoop turned for the most even pull; as they are where all are true.

    Parameters
    ----------
    full : whether the likeliest ways are solved, as ``align`` does, or the estimate alone is asked
    """
    hoops = typed["hoop"]
    if not is_bowed(typed):
        return typed
    try:
        turns = _turns(wanted.net(typed), full)
    except (SpecError, ShapeError):  # frames among them, or no rest: the net itself is judged for that
        return typed
    return {**typed, "hoop": [_sewn_in(hoop, turn) for hoop, turn in zip(hoops, turns, strict=True)]}


def _turns(spec: NetSpec, full: bool) -> tuple[Turn, ...]:
    if full:
        return align(spec).best.way.turns
    body = bare_body(spec)
    plan = lay_out(body)
    ways = ways_to_turn(body, plan, lines_of(body, plan), flips=False)
    return min(ways, key=lambda way: way.estimate).turns


def _sewn_in(hoop: Mapping[str, Any], turn: Turn) -> dict[str, Any]:
    return {**hoop, **({"turn": turn.meshes} if turn.meshes else {})}
