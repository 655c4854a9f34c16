"""The form's tables of wings and of the leader: netting that guides fish to the mouth."""

from typing import Annotated, Literal

from pydantic import Field

from net3d.spec.quantities import Answer, Force, Length, Mass, Number, PartOf, RopeSize, TwineName
from net3d.spec.river_form import AnchorForm
from net3d.spec.table import Table

Long = Annotated[int, Number(2, 20000, 1, "a whole number of meshes")]
WholeDeep = Annotated[int, Number(1, 1000, 1, "a whole number of meshes")]
Hung = Annotated[float, Number(0.2, 0.95, 0, "a number such as 0.5,")]
Ahead = Annotated[float, Number(0, 90, 0, "degrees from straight ahead")]
Turned = Annotated[float, Number(-120, 120, 0, "degrees from straight ahead")]
Slack = Annotated[float, PartOf(Number(0.001, 0.3, 0, "a part of the lines' length"))]
Reserve = Annotated[float, Number(1, 20, 0, "a number of times")]
Pieces = Annotated[int, Number(2, 5000, 1, "a whole number of pieces")]


class GuideAnchorForm(AnchorForm):
    """What holds the end of a wing or leader where no stake is driven: an upright pole, tied to an anchor."""

    line: Length | None = Field(
        default=None,
        description="From the middle of the pole to the anchor. Three times as long as the pole is high "
        "unless given.",
    )


class GuideForm(Table):
    """Netting between a float line and a lead line, from the mouth to a stake."""

    long: Long = Field(description="Meshes along its lines.")
    deep: WholeDeep = Field(description="Meshes from its float line to its lead line.")
    stretched: Length | None = Field(
        default=None, description="Its stretched mesh, or give bar. The body's unless given."
    )
    bar: Length | None = Field(default=None, description="One side of its mesh. Or give stretched.")
    twine: TwineName | None = Field(default=None, description="Its twine. The body's unless given.")
    hanging: Hung = Field(
        default=0.5,
        description="Hanging ratio: length of the float line over the stretched length of its netting.",
    )
    lead_hanging: Hung | None = Field(
        default=None, description="Hanging ratio on the lead line. As on the float line unless given."
    )
    slack: Slack = Field(
        default=0.02,
        description="Part by which its lines are longer than the way from mouth to stake. 0.02 unless given: "
        "tighter lines sag less and pull harder.",
    )
    rope: RopeSize | None = Field(
        default=None, description="Thickness of its lines. As the net's other lines unless given."
    )
    reserve: Reserve = Field(
        default=2.5,
        description="How many times what its netting weighs in water the floats are to lift, where it is not "
        "given. 2 to 3 is usual.",
    )
    floats: Pieces | None = Field(default=None, description="Floats. By the reserve unless given.")
    float_lift: Force | None = Field(
        default=None, description="What one float lifts in water. By the reserve unless given."
    )
    leads: Pieces | None = Field(
        default=None, description="Leads on the lead line. As many as floats unless given."
    )
    lead_weight: Mass | None = Field(
        default=None, description="One lead, in air. Leads draw down twice what floats lift unless given."
    )
    stake_holds: Force | None = Field(
        default=None, description="What its stake was tried with, by a spring scale. Not judged unless given."
    )
    anchor: GuideAnchorForm | None = Field(
        default=None, description="A pole and an anchor in place of each stake."
    )


class BendForm(Table):
    """Where a wing is held by a further stake and runs on in another direction."""

    after: Long = Field(description="Meshes from the mouth.")
    angle: Turned = Field(
        description="Degrees from straight ahead in which it runs on: below 0 back to the middle."
    )


class WingForm(GuideForm):
    """A wing from the side of the mouth outward, or two alike."""

    side: Literal["left", "right", "both"] = Field(
        default="both", description="On which side, as seen from before the mouth; or on both, two alike."
    )
    angle: Ahead = Field(default=45.0, description="Degrees from straight ahead. 45 unless given.")
    bends: tuple[BendForm, ...] = Field(
        default=(), description="Where it turns, so that two wings make a heart before the mouth."
    )


class LeaderForm(GuideForm):
    """A leader from the middle of the mouth straight ahead."""

    pair: Answer = Field(
        default=False,
        description="Whether its far end is tied to the middle of the mouth of a second net alike, which "
        "faces this one.",
    )
