"""The form's tables of the net in the river: what holds and pulls it, what flows past and drifts into it."""

from typing import Annotated, Literal

from pydantic import Field

from net3d.handbook.anchors import anchor_types, bottoms
from net3d.handbook.rope import other_rope_names, rope_ends, rope_materials
from net3d.spec.quantities import (
    Answer,
    Blocked,
    Caught,
    Choice,
    Force,
    Legs,
    Length,
    Mass,
    PlanAngle,
    Pull,
    RopeSize,
    Speed,
)
from net3d.spec.table import Table

Bottom = Annotated[str, Choice(bottoms)]
RopeMaterial = Annotated[str, Choice(rope_materials, other_rope_names)]
RopeEnds = Annotated[str, Choice(rope_ends)]
AnchorType = Annotated[str, Choice(anchor_types)]


class BridleForm(Table):
    """Legs from the mouth hoop to a ring."""

    legs: Legs = Field(description="How many legs, evenly spread around the mouth hoop.")
    length: Length = Field(description="Length of one leg, from the hoop to the ring.")


class RiggingForm(Table):
    """What holds the net and what pulls it straight."""

    anchor: Literal["tail", "mouth"] = Field(default="tail", description="Which end the anchor line holds.")
    pull: Pull = Field(
        default=0.0,
        description="What holds the other end back in the water: lbf or N. May be left out, or 0, where a "
        "current is named, which stretches the net by itself.",
    )
    bench_pull: Force | None = Field(
        default=None,
        description="What the net is stretched by on the bench while its strings are tied: lbf or N. 15 lbf "
        "or 70 N unless given.",
    )
    current: Speed | None = Field(
        default=None, description="The current that the net is to stand in: ft/s or m/s."
    )
    bridle: BridleForm | None = Field(
        default=None, description="Legs from the mouth hoop to a ring, if there are any."
    )
    line: Length | None = Field(
        default=None, description="Length of the anchor line. 3 m, or 10 ft, unless given."
    )
    rope: RopeSize = Field(
        default=0.006, description="Diameter of the bridle and the lines. 6 mm unless given."
    )
    rope_material: RopeMaterial = Field(
        default="polypropylene", description="What the rope is made of. polypropylene unless given."
    )
    rope_ends: RopeEnds = Field(
        default="knotted",
        description="How its ends are made fast: knots take half of its strength, spliced eyes less. knotted "
        "unless given.",
    )


class WaterForm(Table):
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
    current_at: Literal["net", "mean", "surface"] = Field(
        default="net",
        description="Where the currents are meant: at the net, as the mean over the depth, or at the "
        "surface. The water runs slower at the bottom. net unless given.",
    )
    depth: Length | None = Field(
        default=None, description="Depth of the water, needed where currents are meant elsewhere."
    )


class AnchorForm(Table):
    """The anchor."""

    type: AnchorType = Field(description="What kind of anchor it is.")
    weight: Mass = Field(description="Its weight in air: lb or kg.")
    have: Answer = Field(default=False, description="Whether it is at hand already.")


class StaticsForm(Table):
    """What is taken into account when the net is hung in the water."""

    weight: Answer = Field(
        default=True, description="Whether the twine's weight in water counts. true unless given."
    )
