"""The spec: what the maker wants, checked, worked out and in SI; one record a table.

A record is made from its form (``resolve.py``) after every rule was passed, and nowhere else: to change a
spec is to change what was typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from net3d.errors import Problem, SpecError
from net3d.handbook.ageing import Left
from net3d.handbook.fish import Body
from net3d.handbook.limits import Limit, default_limits
from net3d.handbook.rope import Rope
from net3d.handbook.twine import Twine
from net3d.spec.escapes import EscapeSpec
from net3d.spec.guides import GuideSpec
from net3d.spec.holes import Tear
from net3d.spec.hoops import HoopSpec, LineSpec
from net3d.spec.keys import Path, key_path, key_text
from net3d.spec.locate import line_of, locate
from net3d.spec.log import Entry
from net3d.spec.measured import BuiltSpec, TolerancesSpec
from net3d.units import Tape, Units


@dataclass(frozen=True)
class Source:
    """Where a spec comes from and what was typed; specs that say the same are equal, wherever from."""

    name: str = field(compare=False)  # what to call it in messages
    text: str = field(compare=False, repr=False)  # of the file, before any change
    typed: Mapping[str, Any] = field(compare=False, repr=False)  # its tables, with what was changed since
    shop: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)  # its file's tables
    moved: frozenset[str] = field(default=frozenset(), compare=False, repr=False)  # tables not as in the text
    shop_file: tuple[str, str] = field(default=("", ""), compare=False, repr=False)  # its name and text
    history: tuple[Entry, ...] = field(default=(), compare=False, repr=False)  # the net's own record

    def problems(self, found: Iterable[Problem]) -> SpecError:
        """The error that tells of problems that later stages found, each with its line."""
        return self.refusal((key_path(one.key) or (one.key,), one.message) for one in found)

    def refusal(self, found: Iterable[tuple[Path, str]]) -> SpecError:
        """The error that tells of what is wrong at these paths, each with its line where it still has one."""
        name, text = self.shop_file
        lines, there = locate(self.text), locate(text)
        return SpecError(
            self.name,
            tuple(
                Problem(key_text(path), message, line_of(path, there), name or "the shop's file")
                if self._in_shop(path)
                else Problem(key_text(path), message, None if self._moved(path) else line_of(path, lines))
                for path, message in found
            ),
        )

    def _in_shop(self, path: Path) -> bool:
        """Whether a key, or the nearest table around it that was typed, stands in the shop's file alone."""
        above = [path[:length] for length in range(len(path), 0, -1)]
        nearest = next((one for one in above if _stands(one, self.typed) or _stands(one, self.shop)), path)
        return _stands(nearest, self.shop) and not _stands(nearest, self.typed)

    def _moved(self, path: Path) -> bool:
        return not self.moved.isdisjoint(path[:1])


def _stands(path: Path, typed: Any) -> bool:  # noqa: ANN401 - anything typed
    for key in path:
        if not isinstance(typed, Mapping) or key not in typed:
            return False
        typed = typed[key]
    return True


@dataclass(frozen=True)
class NettingSpec:
    """The netting of the body."""

    around: int
    stretched: float  # stretched mesh, knot centre to knot centre [m]
    made: Literal["hand-tied", "sheet"]
    panels: int | None  # cut from sheet: how many; None: the fewest that do


@dataclass(frozen=True)
class SectionsSpec:
    """The netting between each hoop and the next."""

    deep: tuple[float, ...]  # meshes, whole or half
    spacing: tuple[float | None, ...]  # held by spreader rods [m]; None: free to slide
    around: tuple[int, ...]  # meshes around where each section reaches its second hoop


@dataclass(frozen=True)
class TailSpec:
    """Netting behind the last hoop, gathered by a drawstring."""

    deep: float  # meshes, whole or half


@dataclass(frozen=True)
class StringsSpec:
    """The strings that hold a throat's tip back. Lengths in m."""

    to_hoop: int | None  # None and not to_tail: the plan chooses
    to_tail: bool
    points: int  # ties, evenly spaced
    turn: float  # of the first tie from the reference mark, as a part of their spacing
    length: float | None  # None: to be fitted
    share: float  # of the pull, on fitted strings together


@dataclass(frozen=True)
class ThroatSpec:
    """A throat: a netting funnel sewn to a hoop together with the body. Lengths in m."""

    hoop: int
    deep: float
    tip: int  # meshes around at the tip
    style: Literal["finger", "square"]
    around: int  # meshes around at its hoop
    stretched: float
    twine: Twine
    taper: float  # 0: loses meshes evenly, 1: late
    decreases: tuple[int, ...] | None  # meshes lost in each row of knots
    line: float | None  # square: length of the line through the tip; None: half open
    panels: int | None  # cut from sheet: how many; None: the fewest that do
    strings: StringsSpec


@dataclass(frozen=True)
class FishSpec:
    """The fish to be caught, the smallest and the largest [m]."""

    girth_min: float
    girth_max: float
    lengths: tuple[float, float]  # or girths, where these alone are known
    by_girth: bool  # whether girths alone are known
    body: Body


@dataclass(frozen=True)
class BridleSpec:
    """Legs from the mouth hoop to a ring."""

    legs: int
    length: float  # of one leg [m]


@dataclass(frozen=True)
class RiggingSpec:
    """What holds the net and what pulls it straight. Lengths in m."""

    anchor: Literal["tail", "mouth"]  # end that the anchor line holds
    pull: float  # on the other end [N]; 0 where the current alone stretches the net
    bench_pull: float  # on the bench, while strings are tied [N]
    current: float | None  # that the net is to stand in [m/s]
    bridle: BridleSpec | None
    line: float  # length of the anchor line
    rope: float  # diameter of the bridle and the lines
    rope_material: str
    rope_ends: str  # how they are made fast

    @property
    def still_pull(self) -> float:
        """What stretches the net in still water: its pull, or that of the bench where it has none [N]."""
        return self.pull or self.bench_pull

    @property
    def cordage(self) -> Rope:
        """The rope of the bridle and the lines."""
        return Rope(self.rope, self.rope_material, self.rope_ends)


@dataclass(frozen=True)
class WaterSpec:
    """The river."""

    currents: tuple[float, ...]  # to work the loads out for [m/s]; none: the usual ones
    angle: float  # in plan between current and net [degrees]
    blocked: float  # part of the meshes that debris blocks
    caught: float  # outline of leaves on the twine, as a part of the netting's own
    bottom: str
    current_at: Literal["net", "mean", "surface"]  # where the currents are meant
    depth: float | None  # of the water [m]; None: not said


@dataclass(frozen=True)
class AnchorSpec:
    """The anchor."""

    type: str
    weight: float  # in air [kg]
    have: bool  # at hand already


@dataclass(frozen=True)
class LacingSpec:
    """How the hoops are sewn in and cut netting is seamed."""

    twine: Twine
    hitches: int  # a knot, at every hoop but the mouth
    mouth: int  # a knot, at the mouth hoop
    take_up: int  # meshes of each edge rolled into a seam


@dataclass(frozen=True)
class StockSpec:
    """How things are sold, and what the shop has. Lengths in m, weights in kg."""

    spool: float
    needle: float  # twine on a full netting needle
    coil: float
    dipped: bool
    dip: float  # in a can
    dip_share: float  # taken up, as a part of the twine's dry weight
    webbing_across: int | None  # meshes across the sheet, which runs on in depth
    webbing_deep: int | None  # meshes deep of the sheet, which runs on across
    have_twine: tuple[tuple[str, float], ...]  # at hand already: twine's name and weight
    have_rope: float
    have_dip: float


@dataclass(frozen=True)
class PricesSpec:
    """What things cost the maker, None where no price is known, and the rates that work is reckoned by."""

    currency: str
    hour: float | None
    spool: float | None
    coil: float | None
    hoop: float | None
    dip: float | None
    webbing: float | None  # a pound or a kilogram, whichever the spec is in
    anchor: float | None
    floats: float | None  # one
    leads: float | None
    stakes: float | None
    markup: float  # part of the cost that the price stands above it
    price: float | None  # of the net, where it is not reckoned from the cost
    knots_per_hour: float
    hitches_per_hour: float
    cuts_per_hour: float
    fitting_hours: float


@dataclass(frozen=True)
class QuoteSpec:
    """What a quote says besides the net and its price, None where nothing is said."""

    seller: str | None
    contact: str | None
    number: str | None
    valid: int | None  # days
    quantity: int
    deposit: float | None  # part of the sum
    terms: str | None


@dataclass(frozen=True)
class MarkingSpec:
    """The maker's tape."""

    round: float  # its finest mark [m]


@dataclass(frozen=True)
class StaticsSpec:
    """What is taken into account when the net is hung in the water."""

    weight: bool  # whether the twine's weight in water counts


@dataclass(frozen=True)
class LimitsSpec:
    """The maker's local rules, None where there is none, and the limits the checks go by. Lengths in m."""

    stretched_min: float | None
    bar_min: float | None
    hoop_diameter_max: float | None
    length_max: float | None
    hoops_max: int | None
    own: tuple[Limit, ...]  # limits that the spec gives
    fish_min: float | None = None  # length of the shortest fish that may be kept

    def threshold(self, key: str) -> Limit:
        """The limit of a check: the spec's own where it gives one, else the handbook's.

        Raises KeyError for a key that handbook/limits.csv does not have.

        Examples
        --------
        >>> LimitsSpec(None, None, None, None, None, own=()).threshold("looseness").caution
        0.03
        """
        return next((limit for limit in self.own if limit.key == key), default_limits()[key])


@dataclass(frozen=True)
class NetSpec:
    """A whole net as the maker wants it, in SI.

    >>> from net3d.spec import parse_spec, starter_spec
    >>> spec = parse_spec(starter_spec("Backwater"))
    >>> spec.title, len(spec.hoops), round(spec.hoops[0].diameter, 4)
    ('Backwater', 5, 0.9144)
    """

    source: Source
    title: str
    units: Units  # what the maker reads and writes
    netting: NettingSpec
    twine: Twine
    hoops: tuple[HoopSpec, ...]
    pile: tuple[HoopSpec, ...]  # spare hoops
    sections: SectionsSpec
    lines: tuple[LineSpec, ...]
    guides: tuple[GuideSpec, ...]  # wings, then the leader
    escapes: tuple[EscapeSpec, ...]
    tail: TailSpec | None
    throats: tuple[ThroatSpec, ...]
    fish: FishSpec | None
    rigging: RiggingSpec
    water: WaterSpec
    anchor: AnchorSpec | None
    start: Literal["tail", "mouth"]  # end from which the hoops are hung
    lacing: LacingSpec
    stock: StockSpec
    prices: PricesSpec
    quote: QuoteSpec
    marking: MarkingSpec
    statics: StaticsSpec
    built: BuiltSpec
    old: Left | None  # strength of used netting, the least of which its twines have
    holes: tuple[Tear, ...]
    tolerances: TolerancesSpec
    limits: LimitsSpec

    @property
    def tape(self) -> Tape:
        """The maker's tape, by which every quantity of the net is written."""
        return Tape(self.units, self.marking.round, self.prices.currency)
