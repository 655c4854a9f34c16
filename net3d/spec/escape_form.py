"""The form's table of ways out for what is not meant to be caught."""

from typing import Annotated

from pydantic import Field

from net3d.spec.escapes import EscapeKind
from net3d.spec.materials import Material
from net3d.spec.quantities import Force, HoopNumber, Length, Number, PartOf
from net3d.spec.table import Table

Around = Annotated[float, PartOf(Number(0, 1, 0, "a part of the way around"))]
Pieces = Annotated[int, Number(1, 200, 1, "a whole number of pieces")]


class EscapeForm(Table):
    """A way out for turtles, otters or small fish, or what keeps them from coming in."""

    kind: EscapeKind = Field(
        description="hole: an opening with a frame. chimney: the same with a tube of netting up to the air. "
        "rings: round openings of a size. panel: netting sewn in with thread that rots. bars: upright lines "
        "across the mouth. guard: lines across the mouth both ways. floats: they keep air in the tail."
    )
    behind: HoopNumber | None = Field(
        default=None, description="The hoop that an opening stands behind, halfway to the next."
    )
    width: Length | None = Field(default=None, description="Of an opening, inside its frame, around the net.")
    height: Length | None = Field(default=None, description="Of an opening, inside its frame, along the net.")
    inside: Length | None = Field(default=None, description="Of a ring: its diameter inside.")
    turn: Around = Field(
        default=0.0,
        description="Where an opening's middle stands, clockwise of the top as seen from the mouth: 0.25 is "
        "at the side. At the top unless given.",
    )
    high: Length | None = Field(default=None, description="Of a chimney: how high it stands over the body.")
    apart: Length | None = Field(
        default=None, description="Between bars, or between lines of a guard, clear."
    )
    pieces: Pieces = Field(default=1, description="How many rings or floats. Rings are spread evenly around.")
    lift: Force | None = Field(
        default=None,
        description="What one float lifts; of a chimney what holds it up: by its weight unless given.",
    )
    rod: Length | None = Field(
        default=None, description="Thickness of the frame or of the rings. 6 mm unless given."
    )
    material: Material | None = Field(
        default=None,
        description="What the frame or the rings are bent from: as the hoop before unless given.",
    )
    lacing: Length | None = Field(
        default=None,
        description="How long the lacing is from each knot to the frame. Three quarters of a bar unless "
        "given: sewn tight, the frame takes the pull.",
    )
    thread_holds: Force | None = Field(
        default=None,
        description="Of a panel: the pull at which its thread broke, wet and knotted, when you tried it.",
    )
