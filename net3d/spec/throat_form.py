"""The form's tables of throats, their strings and the fish to be caught."""

from typing import Annotated, Literal

import numpy as np
from pydantic import Field

from net3d.handbook.fish import Body, body_by_girth, body_by_ratio, body_fitted, body_of, species
from net3d.spec.quantities import (
    Answer,
    Around,
    Change,
    Choice,
    Depth,
    FitLength,
    GirthRatio,
    HoopNumber,
    Length,
    Lengths,
    Measured,
    PanelCount,
    Part,
    Points,
    Share,
    Taper,
    TwineName,
)
from net3d.spec.table import Table

Species = Annotated[str, Choice(species)]


class StringsForm(Table):
    """The strings that hold a throat's tip back."""

    to_hoop: HoopNumber | None = Field(
        default=None,
        description="Hoop they tie to, counted from 1 at the mouth. Unless given, the first that leaves them "
        "room behind the tip, or the tail.",
    )
    to_tail: Answer = Field(default=False, description="Whether they tie to the gathered end of the tail.")
    points: Points = Field(default=4, description="Ties around the hoop, evenly spaced.")
    turn: Part = Field(
        default=0.0,
        description="Where the first tie stands from the reference mark, as a part of their spacing: 0.5 is "
        "half-way to the next.",
    )
    length: FitLength = Field(
        default=None,
        description='Length of every string, or "fit" to have it worked out. "fit" unless given.',
    )
    share: Share = Field(
        default=0.05,
        description="Part of the pull that fitted strings carry together, 0.01 to 0.2. 0.05 unless given.",
    )


class ThroatForm(Table):
    """A throat: a netting funnel laced to a hoop together with the body."""

    hoop: HoopNumber = Field(description="Hoop it is sewn in at, counted from 1 at the mouth.")
    deep: Depth = Field(description="Meshes from that hoop to the tip, in wholes or halves.")
    tip: Around = Field(description="Meshes around at the tip.")
    style: Literal["finger", "square"] = Field(
        default="finger",
        description="finger: every tip mesh runs out into a string of its own. square: a line through the "
        "tip meshes, held by strings at its corners.",
    )
    around: Around | None = Field(
        default=None, description="Meshes around at the hoop. As many as the body unless given."
    )
    stretched: Length | None = Field(default=None, description="Stretched mesh. The body's unless given.")
    bar: Length | None = Field(default=None, description="Bar. The body's unless given.")
    twine: TwineName | None = Field(default=None, description="Twine. The body's unless given.")
    taper: Taper = Field(
        default=0.5,
        description='When meshes are lost: "even", "middle", "late", or a number from 0 (even) to 1 (late).',
    )
    decreases: tuple[Change, ...] = Field(
        default=(),
        description="Meshes lost in each row of knots, two rows a mesh of depth, if you choose them.",
    )
    line: Length | None = Field(
        default=None, description="Square throat: length of the line through its tip. Half open unless given."
    )
    panels: PanelCount | None = Field(
        default=None, description="Cut from sheet: panels, 1, 2 or 4. The fewest that do unless given."
    )
    strings: StringsForm = Field(default=StringsForm(), description="The strings that hold its tip back.")


class FishForm(Table):
    """The fish to be caught: their girth, or their length and how large around they are for it."""

    girth: Lengths = Field(default=None, description="Girth of the fish, or of the smallest and the largest.")
    length: Lengths = Field(
        default=None, description="Length of the fish, or of the smallest and the largest."
    )
    girth_ratio: GirthRatio | None = Field(default=None, description="Girth over length, with length.")
    species: Species | None = Field(
        default=None,
        description="With length: fish whose girths are known, or the shape of a body: round or compressed.",
    )
    measured: tuple[Measured, ...] = Field(
        default=(),
        description='With length: fish of your own, length and girth of each: [12, 6.5], or "12 x 6.5".',
    )

    def body(self) -> Body:
        """How girth goes with length, whichever way it was typed."""
        if self.measured:
            return body_fitted(self.measured)
        if self.species is not None:
            return body_of(self.species)
        return body_by_girth() if self.girth_ratio is None else body_by_ratio(self.girth_ratio)

    def lengths(self) -> tuple[float, float]:
        """Lengths of the smallest and the largest fish, or their girths where these alone are typed [m]."""
        lengths = self.length or self.girth
        if lengths is None:
            raise ValueError("the rules let a form through that gives neither girth nor length")
        return lengths

    def girths(self) -> tuple[float, float]:
        """Girths of the smallest and the largest fish, whichever way they were typed [m]."""
        smallest, largest = self.body().girth(np.array(self.lengths())).tolist()
        return smallest, largest
