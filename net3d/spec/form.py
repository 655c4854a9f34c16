"""The form a maker fills in: the keys of a spec file, each with what it means.

A new table of the spec is a new model here, listed in ``NetForm``; the JSON Schema and the messages
about unknown or missing keys follow from it.
"""

from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import ConfigDict, Field, create_model

from net3d.handbook.fibres import fibres
from net3d.handbook.limits import default_limits
from net3d.outline.frames import SIDES, Frame, other_size
from net3d.outline.girth import diameter_of
from net3d.spec.built_form import BuiltForm
from net3d.spec.escape_form import EscapeForm
from net3d.spec.guide_form import LeaderForm, WingForm
from net3d.spec.line_form import LineForm
from net3d.spec.materials import Material
from net3d.spec.old_form import HoleForm, OldForm
from net3d.spec.quantities import (
    Answer,
    Around,
    Choice,
    Depth,
    Force,
    Gap,
    Length,
    LengthPerWeight,
    PanelCount,
    Ratio,
    Repeat,
    SideMeshes,
    Spacing,
    TapeStep,
    Tex,
    Title,
    Turn,
    TwineName,
)
from net3d.spec.river_form import AnchorForm, RiggingForm, StaticsForm, WaterForm
from net3d.spec.shop_form import LacingForm, PricesForm, QuoteForm, StockForm
from net3d.spec.table import Table
from net3d.spec.throat_form import FishForm, ThroatForm
from net3d.spec.tolerance_form import TolerancesForm
from net3d.units import Units

FibreKey = Annotated[str, Choice(lambda: tuple(fibres()), lambda: {f.name: f.key for f in fibres().values()})]


def _either(one: str, other: str) -> ConfigDict:
    """The schema's way to ask for exactly one of two keys."""
    return ConfigDict(json_schema_extra={"oneOf": [{"required": [one]}, {"required": [other]}]})


def _first(one: float | None, other: float | None) -> float:
    value = other if one is None else one
    if value is None:
        raise ValueError("the rules let a form through that gives neither of two sizes")
    return value


class NettingForm(Table):
    """The netting of the body."""

    model_config = _either("stretched", "bar")

    around: Around = Field(
        description="Meshes around at the mouth, and at every hoop but for sections.around."
    )
    stretched: Length | None = Field(
        default=None,
        description="Stretched mesh: knot centre to knot centre, mesh pulled shut: two bars. Or give bar.",
    )
    bar: Length | None = Field(
        default=None, description="Bar: one side of a mesh, knot centre to knot centre. Or give stretched."
    )
    twine: TwineName = Field(
        description='Twine: a row of the twine table, such as "#15", or one of [twine.NAME].'
    )
    made: Literal["hand-tied", "sheet"] = Field(
        default="hand-tied", description="Knitted in the round by hand, or cut from sheet netting and seamed."
    )
    panels: PanelCount | None = Field(
        default=None, description="Cut from sheet: panels, 1, 2 or 4. The fewest that do unless given."
    )

    def stretched_mesh(self) -> float:
        """The stretched mesh, whichever way it was typed: ``m = 2 x bar`` [m]."""
        return _first(self.stretched, None if self.bar is None else 2 * self.bar)


class BareHoop(Table):
    """What a hoop is by itself, wherever it is sewn in."""

    model_config = _either("diameter", "circumference")

    diameter: Length | None = Field(default=None, description="Outside diameter. Or give circumference.")
    circumference: Length | None = Field(
        default=None, description="Around the outside, with a tape. Or give diameter."
    )
    rod: Length = Field(description="Thickness of the rod, pipe or split that the hoop is bent from.")
    material: Material = Field(description="What the hoop is bent from.")
    have: Answer = Field(
        default=False,
        description="Whether it is at hand already, from an old net or made: not on the list to buy.",
    )
    gaps: tuple[Gap, ...] = Field(
        default=(),
        description="A hoop that is not flat: its heights off a flat floor, mouth side up, at equally "
        "spaced places, 4 or more, clockwise from the reference mark.",
    )
    across: tuple[Length, ...] = Field(
        default=(),
        description="A hoop that is not round: outside diameters at equally spaced places over half of the "
        "hoop, 2 or more, clockwise from the reference mark. Their mean need not be the diameter given.",
    )

    def outside_diameter(self) -> float:
        """The outside diameter, whichever way it was typed: ``D = C / pi`` [m]. Source: geometry."""
        return _first(self.diameter, None if self.circumference is None else diameter_of(self.circumference))


class FramedHoop(BareHoop):
    """A hoop or a frame by itself."""

    model_config = ConfigDict(
        json_schema_extra={"anyOf": [{"required": [key]} for key in ("diameter", "circumference", "width")]}
    )

    shape: Literal["round", "square", "rectangle", "d"] = Field(
        default="round", description="A round hoop, or a frame; a d is flat below and half round above."
    )
    width: Length | None = Field(
        default=None,
        description="A frame's width, outside. Or give circumference, with a rectangle's height.",
    )
    height: Length | None = Field(
        default=None, description="Height of a rectangle or a d, outside. Or give circumference."
    )
    corner: Length | None = Field(
        default=None,
        description="Outside radius of a frame's corners, of a d's lower ones. Twice the rod unless given.",
    )

    def frame(self) -> Frame | None:
        """The frame, whichever two of its sizes were typed; None for a round hoop."""
        if self.shape == "round":
            return None
        corner, around = self.frame_corner(), self.circumference
        wide, high = self.width, self.width if self.shape == "square" else self.height
        if around is not None and high is None:
            high = other_size(self.shape, around, corner, wide, wide=True)
        if around is not None and wide is None:
            wide = (
                high if self.shape == "square" else other_size(self.shape, around, corner, high, wide=False)
            )
        return Frame(self.shape, _first(wide, None), _first(high, None), corner, self._told_sides())

    def _told_sides(self) -> tuple[int, ...]:
        """Meshes along its sides, where they are told."""
        return ()

    def frame_corner(self) -> float:
        """Outside radius of a frame's corners [m]."""
        return 2 * self.rod if self.corner is None else self.corner

    def outside_diameter(self) -> float:
        """Of the round hoop that is as long around [m]."""
        frame = self.frame()
        return super().outside_diameter() if frame is None else diameter_of(frame.girth)


class HoopForm(FramedHoop):
    """One hoop or frame, or several equal ones in a row; mouth first."""

    sides: tuple[SideMeshes, ...] = Field(
        default=(),
        description="Meshes from corner to corner of a frame, clockwise: above, right, below, left; of a d "
        "around its top and below. Evenly along it unless given.",
    )
    repeat: Repeat = Field(default=1, description="How many equal hoops stand here one behind the other.")
    turn: Turn = Field(
        default=0, description="Meshes by which its reference mark stands clockwise of the top: 0 is in line."
    )
    flip: Answer = Field(default=False, description="Whether it is turned over, tail side to the mouth.")
    within: Length | None = Field(
        default=None,
        description="Another hoop may take its place (net3d align --order) if their diameters differ by no "
        "more than this. A fiftieth of the diameter unless given.",
    )

    def _told_sides(self) -> tuple[int, ...]:
        """As many as it has corners; where they are not, a rule says so."""
        return self.sides if len(self.sides or ()) == SIDES[self.shape] else ()


class SpareHoop(BareHoop):
    """A hoop on the pile, which net3d align --order may put in another's place."""

    name: Title | None = Field(default=None, description="What it is called. spare 1, spare 2 unless given.")


class SectionsForm(Table):
    """The netting between each hoop and the next: one entry less than there are hoops."""

    deep: tuple[Depth, ...] = Field(description="Meshes between each hoop and the next, in wholes or halves.")
    spacing: tuple[Spacing, ...] = Field(
        default=(),
        description='Distances held by spreader rods; "free" where the hoops slide. All free unless given.',
    )
    around: tuple[Around, ...] = Field(
        default=(),
        description="Meshes around where each section reaches its next hoop. As many as at the mouth unless "
        "given.",
    )


class TailForm(Table):
    """Netting behind the last hoop, gathered by a drawstring."""

    deep: Depth = Field(description="Meshes behind the last hoop, in wholes or halves.")


class TwineForm(Table):
    """A twine of the maker's own, by the figures of its spool."""

    model_config = _either("tex", "length_per_weight")

    diameter: Length = Field(description="Thickness of the twine.")
    tex: Tex | None = Field(
        default=None, description="Grams a kilometre as laid (Rtex). Or give length_per_weight."
    )
    length_per_weight: LengthPerWeight | None = Field(
        default=None,
        description='Length for its weight: a number in ft/lb or m/kg, or text such as "967 ft/lb".',
    )
    strength: Force = Field(description="Straight, dry breaking strength: lbf or N.")
    fibre: FibreKey = Field(description="What it is spun from: PA is nylon.")
    stiffness: Force | None = Field(
        default=None,
        description="Secant EA at working load, wet and knotted: lbf or N. Worked out unless given.",
    )

    def weight_in_tex(self) -> float:
        """The weight, whichever way it was typed [g/km]."""
        return _first(self.tex, self.length_per_weight and 1e6 / self.length_per_weight)


class MarkingForm(Table):
    """The maker's tape."""

    round: TapeStep | None = Field(
        default=None,
        description="Finest mark of the tape, to which marks are rounded. 1/16 in or 1 mm unless given.",
    )


class ThresholdForm(Table):
    """From where on a check says caution, and from where on fail."""

    caution: Ratio | None = Field(default=None, description="From here on it is a caution.")
    fail: Ratio | None = Field(default=None, description="From here on it is a fail.")


class LocalRules(Table):
    """Local rules that the maker must look up, and limits of the checks; none is needed."""

    stretched_min: Length | None = Field(
        default=None, description="Smallest stretched mesh that the local rules allow."
    )
    bar_min: Length | None = Field(default=None, description="Smallest bar that the local rules allow.")
    hoop_diameter_max: Length | None = Field(
        default=None, description="Largest hoop, outside, that the local rules allow."
    )
    length_max: Length | None = Field(
        default=None, description="Greatest length of the net that the local rules allow."
    )
    hoops_max: Repeat | None = Field(default=None, description="Most hoops that the local rules allow.")
    fish_min: Length | None = Field(
        default=None, description="Length of the shortest fish that the local rules allow to be kept."
    )

    def thresholds(self) -> dict[str, ThresholdForm]:
        """The limits of checks that the maker gave, by key."""
        given = {key: getattr(self, key, None) for key in default_limits()}
        return {key: value for key, value in given.items() if isinstance(value, ThresholdForm)}


def _threshold_fields() -> dict[str, Any]:
    text = "{0.what}: caution at {0.caution:g}, fail at {0.fail:g} unless given."
    return {
        key: (ThresholdForm | None, Field(default=None, description=text.format(limit)))
        for key, limit in default_limits().items()
    }


if TYPE_CHECKING:
    LimitsForm = LocalRules
else:
    LimitsForm = create_model("LimitsForm", __base__=LocalRules, **_threshold_fields())


class NetForm(Table):
    """A hoop net, as typed."""

    title: Title = Field(description="What the net is called on every sheet.")
    units: Units = Field(
        description="What a bare number is in. Inch specs take forces in lbf, the others in N."
    )
    shop: Title | None = Field(
        default=None,
        description="File of the shop: what it says of stock, prices and the like holds where this spec "
        'does not. shop.toml beside the spec, if there is one, unless given; "none" for none.',
    )
    netting: NettingForm = Field(description="The netting of the body.")
    hoop: tuple[HoopForm, ...] = Field(description="The hoops, mouth first.")
    pile: tuple[SpareHoop, ...] = Field(
        default=(), description="Spare hoops, which net3d align --order may put in another's place."
    )
    sections: SectionsForm = Field(description="The netting between each hoop and the next.")
    throat: tuple[ThroatForm, ...] = Field(default=(), description="The throats, in any order.")
    line: tuple[LineForm, ...] = Field(
        default=(), description="Rib lines along the net, on which netting is hung between frames."
    )
    wing: tuple[WingForm, ...] = Field(default=(), description="Wings from the sides of the mouth outward.")
    leader: LeaderForm | None = Field(
        default=None, description="A leader from the middle of the mouth straight ahead."
    )
    escape: tuple[EscapeForm, ...] = Field(
        default=(), description="Ways out for what is not meant to be caught, or what keeps it out."
    )
    tail: TailForm | None = Field(
        default=None, description="Netting behind the last hoop, gathered by a drawstring."
    )
    fish: FishForm | None = Field(default=None, description="The fish to be caught.")
    rigging: RiggingForm = Field(description="What holds the net and what pulls it straight.")
    water: WaterForm = Field(default=WaterForm(), description="The river: currents, debris, bottom.")
    anchor: AnchorForm | None = Field(default=None, description="The anchor that is to hold the net.")
    marking: MarkingForm = Field(default=MarkingForm(), description="The maker's tape.")
    statics: StaticsForm = Field(
        default=StaticsForm(), description="What counts when the net is hung in the water."
    )
    limits: LimitsForm = Field(default=LimitsForm(), description="Local rules and limits of the checks.")
    built: BuiltForm = Field(
        default=BuiltForm(),
        description="What was measured on the net as built, in place of what was planned.",
    )
    old: OldForm | None = Field(default=None, description="Netting that was used: what it still bears.")
    hole: tuple[HoleForm, ...] = Field(default=(), description="Holes, until they are mended.")
    tolerances: TolerancesForm = Field(
        default=TolerancesForm(), description="How far what is measured and tied may be off, either way."
    )
    start: Literal["tail", "mouth"] = Field(
        default="tail", description="From which end the hoops are hung: many hang the smallest first."
    )
    lacing: LacingForm = Field(default=LacingForm(), description="How hoops are sewn in and seams closed.")
    stock: StockForm = Field(default=StockForm(), description="How things are sold, and what is in the shop.")
    prices: PricesForm = Field(default=PricesForm(), description="What things cost, and rates of work.")
    quote: QuoteForm = Field(default=QuoteForm(), description="What stands on a quote for the customer.")
    twine: dict[TwineName, TwineForm] = Field(default={}, description="Twines of the maker's own, by name.")
