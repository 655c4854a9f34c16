"""The tables of the river: what flows past the net, what drifts into it, and what holds it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from net3d.handbook.anchors import anchor_types, bottoms
from net3d.spec.quantities import Blocked, Caught, Choice, Mass, PlanAngle, Speed
from net3d.spec.table import Table

Bottom = Annotated[str, Choice(bottoms)]
AnchorType = Annotated[str, Choice(anchor_types)]


class WaterSpec(Table):
    """The river."""

    currents: tuple[Speed, ...] = Field(
        default=(), description="Currents to work the loads out for: ft/s or m/s. 0.25 to 2 m/s unless given."
    )
    angle: PlanAngle = Field(
        default=0.0,
        description="Degrees in plan between current and net: 0 flows from the anchored end along it.",
    )
    blocked: Blocked = Field(
        default=0.0, description="Debris: part of the meshes that is blocked. 0 unless given."
    )
    caught: Caught = Field(
        default=0.0,
        description="Leaves or grass on the twine: the part of the netting's outline they cover besides it.",
    )
    bottom: Bottom = Field(default="sand", description="What the anchor lies on. sand unless given.")


class AnchorSpec(Table):
    """The anchor."""

    type: AnchorType = Field(description="What kind of anchor it is.")
    weight: Mass = Field(description="Its weight in air: lb or kg.")
