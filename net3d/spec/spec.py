"""The spec: what the maker typed, checked, in SI."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Literal

from pydantic import Field

from net3d.errors import Problem, SpecError
from net3d.handbook.limits import Limit, default_limits
from net3d.handbook.twine import Twine
from net3d.spec.locate import line_of, locate
from net3d.spec.quantities import Answer, Depth, Force, Legs, Length, Speed
from net3d.spec.shop import LacingSpec, PricesSpec, StockSpec
from net3d.spec.table import Table
from net3d.spec.water import AnchorSpec, WaterSpec
from net3d.units import Tape, Units


@dataclass(frozen=True)
class Source:
    """What to call a spec in messages; specs that say the same are equal wherever they were read."""

    name: str = field(compare=False)
    text: str = field(default="", compare=False, repr=False)

    def problems(self, found: Iterable[Problem]) -> SpecError:
        """The error that tells of problems that later stages found, each with its line."""
        lines = locate(self.text)
        return SpecError(self.name, tuple(replace(one, line=line_of(one.key, lines)) for one in found))


class NettingSpec(Table):
    """The netting of the body."""

    around: int
    stretched: float  # stretched mesh, knot centre to knot centre [m]
    made: Literal["hand-tied", "sheet"] = "hand-tied"


class HoopSpec(Table):
    """One hoop, mouth first, or one on the pile. Lengths in m."""

    diameter: float  # outside
    rod: float
    material: str
    gaps: tuple[float, ...] = ()  # heights off a flat floor, clockwise from the reference mark
    across: tuple[float, ...] = ()  # outside diameters over half of the hoop, likewise
    turn: int = 0  # meshes by which its reference mark stands clockwise of the top
    flip: bool = False
    within: float = 0.0  # by how much the diameter of a hoop that takes its place may differ
    name: str = ""


class SectionsSpec(Table):
    """The netting between each hoop and the next."""

    deep: tuple[float, ...]  # meshes, whole or half
    spacing: tuple[float | None, ...]  # held by spreader rods [m]; None: free to slide
    around: tuple[int, ...]  # meshes around where each section reaches its second hoop


class TailSpec(Table):
    """Netting behind the last hoop, gathered by a drawstring."""

    deep: Depth = Field(description="Meshes behind the last hoop, in wholes or halves.")


class StringsSpec(Table):
    """The strings that hold a throat's tip back. Lengths in m."""

    to_hoop: int | None = None  # None and not to_tail: the plan chooses
    to_tail: bool = False
    points: int = 4  # ties, evenly spaced
    turn: float = 0.0  # of the first tie from the reference mark, as a part of their spacing
    length: float | None = None  # None: to be fitted
    share: float = 0.05  # of the pull, on fitted strings together


class ThroatSpec(Table):
    """A throat: a netting funnel sewn to a hoop together with the body. Lengths in m."""

    hoop: int
    deep: float
    tip: int  # meshes around at the tip
    style: Literal["finger", "square"] = "finger"
    around: int  # meshes around at its hoop
    stretched: float
    twine: Twine
    taper: float = 0.5  # 0: loses meshes evenly, 1: late
    decreases: tuple[int, ...] | None = None  # meshes lost in each row of knots
    line: float | None = None  # square: length of the line through the tip; None: half open
    panels: int | None = None  # cut from sheet: how many; None: the fewest that do
    strings: StringsSpec = StringsSpec()


class FishSpec(Table):
    """The fish to be caught: girths of the smallest and the largest [m]."""

    girth_min: float
    girth_max: float


class BridleSpec(Table):
    """Legs from the mouth hoop to a ring."""

    legs: Legs = Field(description="How many legs, evenly spread around the mouth hoop.")
    length: Length = Field(description="Length of one leg, from the hoop to the ring.")


class RiggingSpec(Table):
    """What holds the net and what pulls it straight. Lengths in m, forces in N."""

    anchor: Literal["tail", "mouth"] = Field(default="tail", description="Which end the anchor line holds.")
    pull: Force = Field(description="What holds the other end back and keeps the net stretched: lbf or N.")
    current: Speed | None = Field(
        default=None, description="The current that the net is to stand in: ft/s or m/s."
    )
    bridle: BridleSpec | None = Field(
        default=None, description="Legs from the mouth hoop to a ring, if there are any."
    )
    line: Length = Field(default=3.0, description="Length of the anchor line. 3 m unless given.")
    rope: Length = Field(
        default=0.006, description="Diameter of the bridle and the lines. 6 mm unless given."
    )


class MarkingSpec(Table):
    """The maker's tape."""

    round: float  # its finest mark [m]


class StaticsSpec(Table):
    """What is taken into account when the net is hung in the water."""

    weight: Answer = Field(
        default=True, description="Whether the twine's weight in water counts. true unless given."
    )


class LimitsSpec(Table):
    """The maker's local rules, None where there is none, and the limits the checks go by. Lengths in m."""

    stretched_min: float | None = None
    bar_min: float | None = None
    hoop_diameter_max: float | None = None
    length_max: float | None = None
    hoops_max: int | None = None
    overrides: dict[str, Limit] = Field(default={})

    def threshold(self, key: str) -> Limit:
        """The limit of a check: the spec's own where it gives one, else the handbook's.

        Raises KeyError for a key that handbook/limits.csv does not have.

        Examples
        --------
        >>> LimitsSpec().threshold("looseness").caution
        0.03
        """
        return self.overrides.get(key) or default_limits()[key]


class NetSpec(Table):
    """A whole net as the maker wants it, in SI.

    Examples
    --------
    >>> from net3d.spec import parse_spec, starter_spec
    >>> spec = parse_spec(starter_spec("Backwater"))
    >>> spec.title, len(spec.hoops), round(spec.hoops[0].diameter, 4)
    ('Backwater', 5, 0.9144)
    """

    source: Source = Source("spec")
    title: str
    units: Units  # what the maker reads and writes
    netting: NettingSpec
    twine: Twine
    hoops: tuple[HoopSpec, ...]
    pile: tuple[HoopSpec, ...] = ()  # spare hoops
    sections: SectionsSpec
    tail: TailSpec | None
    throats: tuple[ThroatSpec, ...] = ()
    fish: FishSpec | None = None
    rigging: RiggingSpec
    water: WaterSpec = WaterSpec()
    anchor: AnchorSpec | None = None
    start: Literal["tail", "mouth"] = "tail"  # end from which the hoops are hung
    lacing: LacingSpec
    stock: StockSpec
    prices: PricesSpec
    marking: MarkingSpec
    statics: StaticsSpec
    limits: LimitsSpec

    @property
    def tape(self) -> Tape:
        """The maker's tape, by which every quantity of the net is written."""
        return Tape(self.units, self.marking.round, self.prices.currency)
