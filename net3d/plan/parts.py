"""Which parts a net has: what is tied must be planned, and what is planned stands on the lists."""

from __future__ import annotations

from collections.abc import Iterable

from net3d.errors import PartError
from net3d.parts import ANCHOR_LINE, BRIDLE, TAIL, Part
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec


def planned_parts(spec: NetSpec, plan: Plan) -> tuple[Part, ...]:
    """Every part of a planned net: hoops, body, throats with their strings, wings, leader, what holds it."""
    return (
        *(Part.hoop(hoop.number) for hoop in plan.hoops),
        *(section.part for section in plan.sections),
        *(rib.part for rib in plan.ribs),
        *((TAIL,) if plan.tail else ()),
        *(part for throat in plan.throats for part in (throat.part, throat.strings_part)),
        *(part for guide in plan.guides for part in guide.parts),
        *(part for escape in plan.escapes for part in escape.parts),
        *((BRIDLE,) if spec.rigging.bridle else ()),
        *((ANCHOR_LINE,) if has_anchor_line(spec, plan) else ()),
    )


def has_anchor_line(spec: NetSpec, plan: Plan) -> bool:
    """Whether there is an anchor line: from the gathered tail, or from the bridle's ring."""
    if spec.rigging.anchor == "tail":
        return plan.tail_rows > 0
    return spec.rigging.bridle is not None


def refuse_missing(parts: Iterable[Part], known: Iterable[Part], what: str) -> None:
    """Raise PartError for parts that are not among those known; ``what`` is wrong with them.

    >>> refuse_missing([TAIL], [BRIDLE, TAIL], "tied, and not planned")
    """
    missing = set(parts) - set(known)
    if missing:
        names = ", ".join(sorted(part.name for part in missing))
        raise PartError(f"{names}: {what}.")
