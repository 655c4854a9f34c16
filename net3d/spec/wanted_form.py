"""The form of a wanted list: what a maker has, and what a net of it must keep to."""

from typing import Annotated, Literal

from pydantic import Field

from net3d.spec.form import FramedHoop, LimitsForm, MarkingForm, TwineForm
from net3d.spec.quantities import Length, Mass, Number, Rate, Repeat, RopeSize, Title, TwineName
from net3d.spec.river_form import AnchorForm, RiggingForm, RopeMaterial, StaticsForm, WaterForm
from net3d.spec.shop_form import LacingForm, PricesForm, QuoteForm, StockForm
from net3d.spec.table import Table
from net3d.spec.throat_form import FishForm
from net3d.spec.tolerance_form import TolerancesForm
from net3d.units import Units

ThroatCount = Annotated[int, Number(0, 3, 1, "a whole number of throats")]
Goal = Literal["room", "light work", "little twine", "still in current", "even pull"]
Style = Literal["finger", "square"]


class HandHoop(FramedHoop):
    """A hoop or frame at hand, or several alike."""

    name: Title | None = Field(default=None, description="What it is called. By its size unless given.")
    repeat: Repeat = Field(default=1, description="How many alike there are.")


class HandNetting(Table):
    """The netting that can be had."""

    stretched: tuple[Length, ...] = Field(
        default=(), description="Stretched meshes that may be used. Or give bar."
    )
    bar: tuple[Length, ...] = Field(default=(), description="Bars that may be used. Or give stretched.")
    twine: TwineName = Field(description='Twine: a row of the twine table, such as "#15", or [twine.NAME].')
    made: Literal["hand-tied", "sheet"] = Field(
        default="hand-tied", description="Knitted in the round by hand, or cut from sheet netting and seamed."
    )


class HandRope(Table):
    """A rope at hand."""

    size: RopeSize = Field(description="Its diameter.")
    material: RopeMaterial = Field(
        default="polypropylene", description="What it is made of. polypropylene unless given."
    )
    length: Length = Field(description="How much of it there is.")


class WantForm(Table):
    """What the net must keep to, and what matters most."""

    hoops_min: Repeat = Field(default=3, description="Fewest hoops. 3 unless given.")
    hoops_max: Repeat = Field(default=7, description="Most hoops. 7 unless given.")
    throats: ThroatCount = Field(default=2, description="How many throats. 2 unless given.")
    styles: tuple[Style, ...] = Field(
        default=("finger",), description="Kinds of throats to be tried: finger, square."
    )
    longest: Length | None = Field(default=None, description="Longest net that fits, tail and all.")
    hours: Rate | None = Field(default=None, description="Most hours of work.")
    spend: Rate | None = Field(default=None, description="Most to spend on work and materials.")
    twine: Mass | None = Field(default=None, description="Most twine in the netting: lb or kg.")
    goals: tuple[Goal, ...] = Field(
        default=("room", "light work"),
        alias="for",
        description='What matters: "room", "light work", "little twine", "still in current", "even pull".',
    )


class WantedForm(Table):
    """A wanted list, as typed."""

    title: Title = Field(description="What the nets are called.")
    units: Units = Field(description="What a bare number is in.")
    shop: Title | None = Field(default=None, description="File of the shop, as in a spec.")
    netting: HandNetting = Field(description="The netting that can be had.")
    pile: tuple[HandHoop, ...] = Field(description="The hoops at hand, in any order.")
    rope: tuple[HandRope, ...] = Field(
        default=(),
        description="Ropes at hand, the one to be used up first on top. A net takes the first that is long "
        "enough for its bridle and lines; one that takes more than any has is left out.",
    )
    want: WantForm = Field(default=WantForm(), description="What the net must keep to.")
    fish: FishForm | None = Field(default=None, description="The fish to be caught.")
    rigging: RiggingForm | None = Field(default=None, description="What holds the net and pulls it.")
    water: WaterForm = Field(default=WaterForm(), description="The river.")
    anchor: AnchorForm | None = Field(default=None, description="The anchor.")
    marking: MarkingForm = Field(default=MarkingForm(), description="The maker's tape.")
    statics: StaticsForm = Field(default=StaticsForm(), description="Whether weight counts.")
    limits: LimitsForm = Field(default=LimitsForm(), description="Local rules and limits of the checks.")
    tolerances: TolerancesForm = Field(
        default=TolerancesForm(), description="How far what is measured and tied may be off."
    )
    start: Literal["tail", "mouth"] = Field(default="tail", description="From which end hoops are hung.")
    lacing: LacingForm = Field(default=LacingForm(), description="How hoops are sewn in.")
    stock: StockForm = Field(default=StockForm(), description="What is in the shop.")
    prices: PricesForm = Field(default=PricesForm(), description="What things cost, and rates of work.")
    quote: QuoteForm = Field(default=QuoteForm(), description="What stands on a quote.")
    twine: dict[TwineName, TwineForm] = Field(default={}, description="Twines of the maker's own.")
