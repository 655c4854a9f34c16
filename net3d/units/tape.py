"""The maker's tape: a spec's units, the tape's finest mark, and how every quantity is written by them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from net3d.units.figures import length_text, three_figures
from net3d.units.units import INCH_UNITS, TOLD, default_unit, in_units, unit_factor

WEIGHT_STEPS = ((10, 1), (50, 5), (200, 10), (math.inf, 50))  # up to a weight, its steps
ROUNDED = 1e-9  # what is over a step by less is on it
IN_FEET = 72 * 0.0254  # m; from here on inches are told as feet and inches; common practice, no source
IN_OUNCES = 0.25 * 0.45359237  # kg; less is told in ounces
LONG = 3.0  # m; from here on a rough length is told by the run


@dataclass(frozen=True)
class Tape:
    """How a maker reads and writes quantities; everything in SI comes in, words for the maker come out.

    Parameters
    ----------
    units : of a bare length: in, ft, mm, cm or m
    step : the tape's finest mark [m]; 0: 1/16 in, or 1 mm
    currency : what prices are in, one sign or a word

    Examples
    --------
    >>> tape = Tape("in")
    >>> tape.length(0.0873), tape.force(66.72), tape.mass(1.0), tape.speed(0.6096), tape.run(20.0)
    ('3 7/16 in', '15 lbf', '2.2 lb', '2 ft/s', '65.6 ft')
    """

    units: str
    step: float = 0.0
    currency: str = "$"

    def __post_init__(self) -> None:
        """Take the usual tape where no step is given."""
        if not self.step:
            object.__setattr__(self, "step", 0.0254 / 16 if self.in_inches else 0.001)

    @property
    def in_inches(self) -> bool:
        """Whether it is marked in inches; forces are then in lbf, weights in lb, speeds in ft/s."""
        return self.units in INCH_UNITS

    def unit(self, kind: str) -> str:
        """The unit of a kind: any of KINDS and TOLD, or money.

        A run is a length of twine or rope, which is told in feet or metres; hours, and numbers of no kind,
        are told without a unit.

        >>> Tape("in").unit("run"), Tape("in").unit("area"), Tape("mm").unit("force"), Tape("mm").unit("")
        ('ft', 'ft^2', 'N', '')
        """
        if kind in ("length", "reading", "cut"):
            return self.units
        if kind == "money":
            return self.currency
        if kind in TOLD:
            return TOLD[kind][1 if self.in_inches else 2]
        return default_unit(kind, self.units) if kind else ""

    def header(self, words: str, kind: str) -> str:
        """What stands above a column or at an axis: words, and the unit of a kind where it has one.

        >>> Tape("in").header("current", "speed"), Tape("in").header("marks", "")
        ('current (ft/s)', 'marks')
        """
        unit = self.unit(kind)
        return f"{words} ({unit})" if unit else words

    def suffix(self, kind: str) -> str:
        """The unit of a kind in letters and digits that may stand in a key; empty where it has none.

        >>> Tape("in").suffix("speed"), Tape("in").suffix("area"), Tape("in").suffix("money")
        ('ftps', 'ft2', '')
        """
        return "".join(letter for letter in self.unit(kind).replace("/", "p") if letter.isalnum())

    def one(self, kind: str) -> float:
        """One of the unit of a kind [SI]: what things are sold by.

        >>> Tape("in").one("mass"), Tape("mm").one("mass")
        (0.45359237, 1.0)
        """
        return float(unit_factor(self.unit(kind))[0])

    @property
    def weight_word(self) -> str:
        """The unit of weight as a word."""
        return "pound" if self.in_inches else "kilogram"

    def number(self, value: float, kind: str) -> float:
        """A value [SI] in the unit of its kind.

        >>> round(Tape("in").number(0.0889, "length"), 9), round(Tape("ft").number(1.0, "area"), 2)
        (3.5, 10.76)
        """
        if kind == "area":
            return value / self.one("run") ** 2
        if kind in ("run", "thickness"):
            return value / self.one(kind)
        if kind in ("", "hours", "money", "share"):
            return value
        return in_units(value, "length" if kind in ("reading", "cut") else kind, self.units)

    def cell(self, value: float, kind: str = "") -> str:
        """A value [SI] without its unit, for a cell whose column names it; three figures of most kinds.

        >>> tape = Tape("in")
        >>> tape.cell(0.0873, "reading"), tape.cell(0.0889, "length"), tape.cell(1234.5, "money")
        ('3 7/16', '3.5', '1,234.50')
        >>> tape.cell(1.0, "mass"), tape.cell(0.05, "mass")
        ('2.2', '1.76 oz')
        """
        if kind == "reading":
            return self.reading(value)
        if kind == "cut":
            return self.cut(value)
        if kind == "mass":
            return self.mass(value).removesuffix(f" {self.unit('mass')}")
        if kind == "share":
            return f"{value:.0%}"
        if kind == "money":
            return f"{value:,.2f}"
        return f"{value:.1f}" if kind == "hours" else three_figures(self.number(value, kind))

    def text(self, value: float, kind: str) -> str:
        """A value [SI] to three figures, with the unit of its kind.

        >>> Tape("mm").text(66.72, "force")
        '66.7 N'
        """
        return f"{three_figures(self.number(value, kind))} {self.unit(kind)}"

    def length(self, metres: float, step: float | None = None) -> str:
        """A length as it is told: from 6 ft on in feet and inches, and from 1 ft in a spec in feet.

        Parameters
        ----------
        metres : the length [m]
        step : to which it is rounded, the tape's finest mark unless given [m]

        >>> Tape("mm").length(1.412), Tape("ft").length(1.6764), Tape("in").length(0.0873, 0.0254)
        ('1412 mm', '5 ft 6 in', '3 in')
        >>> Tape("in").length(1.7), Tape("in").length(3.0)
        ('66 15/16 in', '9 ft 10 1/8 in')
        """
        units = "ft" if self._in_feet(metres) else self.units
        return length_text(metres, units, self.step if step is None else step)

    def _in_feet(self, metres: float) -> bool:
        return self.units == "in" and abs(metres) >= IN_FEET

    def reading(self, metres: float) -> str:
        """A length [m] as it is read off the tape, without its unit, for a cell whose column names it.

        >>> Tape("in").reading(0.0873), Tape("in").reading(3.0)
        ('3 7/16', '118 1/8')
        """
        return length_text(metres, self.units, self.step).removesuffix(f" {self.units}")

    def cut(self, metres: float) -> str:
        """A length [m] to cut or to put up, for a cell; with an inch tape, from 6 ft on in feet and inches.

        >>> Tape("in").cut(0.9), Tape("in").cut(3.048), Tape("in").cut(3.2), Tape("mm").cut(3.2)
        ('35 7/16', '10 ft', '10 ft 6 in', '3200')
        """
        return self.length(metres) if self._in_feet(metres) else self.reading(metres)

    def readings(self, lengths: Iterable[float]) -> str:
        """Several lengths [m], the unit once behind them; in feet each has its own.

        >>> Tape("in").readings([0.0254, 0.0873]), Tape("ft").readings([0.3048, 0.4572])
        ('1, 3 7/16 in', '1 ft, 1 ft 6 in')
        """
        if self.units == "ft":
            return ", ".join(self.length(metres) for metres in lengths)
        return f"{', '.join(self.reading(metres) for metres in lengths)} {self.units}"

    def rough(self, metres: float) -> str:
        """A length [m] that need not be exact, to the half inch or 5 mm, by the run where it is long.

        >>> Tape("in").rough(0.15), Tape("in").rough(20.0), Tape("mm").rough(0.15)
        ('6 in', '66 ft', '150 mm')
        """
        if metres >= LONG:
            return f"{self.number(metres, 'run'):.0f} {self.unit('run')}"
        return self.length(metres, 0.0127 if self.in_inches else 0.005)

    def either_way(self, metres: float) -> str:
        """How sure a length is [m]: to about a quarter of itself, in steps that a tape shows.

        >>> Tape("in").either_way(0.0133), Tape("in").either_way(0.0005), Tape("mm").either_way(0.0133)
        ('1/2 in', '1/16 in', '14 mm')
        """
        step = self.round_step(metres / 8)
        return self.length(max(math.ceil(metres / step - 0.5), 1) * step, step)

    def round_step(self, least: float) -> float:
        """The finest step of the tape that is no finer than this [m]: halves of an inch, or by 1, 2 and 5.

        >>> Tape("in").round_step(0.009) / 0.0254, Tape("mm").round_step(0.009)
        (0.5, 0.01)
        """
        if self.in_inches:
            return float(self.step * 2 ** max(math.ceil(math.log2(max(least, self.step) / self.step)), 0))
        decade = self.step * 10 ** math.floor(math.log10(max(least, self.step) / self.step) + ROUNDED)
        return float(next(n * decade for n in (1, 2, 5, 10) if n * decade >= least * (1 - ROUNDED)))

    def mesh(self, metres: float) -> str:
        """A mesh or a bar [m], which is told in millimetres where the spec is in metres.

        >>> Tape("in").mesh(0.0889), Tape("m").mesh(0.09)
        ('3 1/2 in', '90 mm')
        """
        return Tape("mm").length(metres) if self.units == "m" else self.length(metres)

    def thickness(self, metres: float) -> str:
        """What a rod, a rope or a bow is told in [m]: inches by the tape's mark, or millimetres.

        >>> Tape("ft").thickness(0.0127), Tape("m").thickness(0.0127)
        ('1/2 in', '13 mm')
        """
        return Tape(self.unit("thickness")).length(metres)

    def sold_rod(self, metres: float) -> float:
        """The thickest rod that is sold, by the tape's mark or the millimetre, and no thicker than this [m].

        Source: common practice.

        >>> Tape("in").thickness(Tape("in").sold_rod(0.0130)), Tape("m").thickness(Tape("m").sold_rod(0.0096))
        ('1/2 in', '9 mm')
        """
        step = Tape(self.unit("thickness")).step
        return max(math.floor(metres / step + ROUNDED), 1) * step

    def bound(self, value: float, kind: str) -> str:
        """The least or most [SI] that is allowed; a length under a metre to three figures of a millimetre.

        >>> tape = Tape("in")
        >>> tape.bound(0.0004, "length"), tape.bound(3.048, "length"), tape.bound(4.448, "force")
        ('0.4 mm', '10 ft', '1 lbf')
        """
        if kind != "length":
            return self.text(value, kind)
        return self.length(value) if value >= 1 else Tape("mm").text(value, "length")

    def roughly(self, metres: float) -> float:
        """A length that need not be exact, as it is told and as it is reckoned with [m].

        >>> round(Tape("in").roughly(0.15) / 0.0254, 9), Tape("mm").roughly(0.15)
        (6.0, 0.15)
        """
        step = 0.0127 if self.in_inches else 0.005
        return round(round(metres / step) * step, 9)

    def printed_size(self, metres: float) -> str:
        """A length of a scale model [m], which printers take in millimetres.

        >>> Tape("in").printed_size(0.0463)
        '46 mm'
        """
        return Tape("mm").length(metres)

    def run(self, metres: float) -> str:
        """Twine or rope by the run [m], to three figures."""
        return self.text(metres, "run")

    def force(self, newtons: float) -> str:
        """A force [N], to three figures."""
        return self.text(newtons, "force")

    def mass(self, kilograms: float) -> str:
        """A weight [kg], to three figures; less than a quarter of a pound in ounces.

        >>> Tape("in").mass(1.0), Tape("in").mass(0.05), Tape("mm").mass(0.05)
        ('2.2 lb', '1.76 oz', '0.05 kg')
        """
        if self.in_inches and 0 < kilograms < IN_OUNCES:
            return f"{three_figures(kilograms / IN_OUNCES * 4)} oz"
        return self.text(kilograms, "mass")

    def sold_mass(self, kilograms: float) -> float:
        """The least weight of a usual size that is this much [kg] or more: by 1, 5, 10 or 50 kg or lb.

        Source: common practice.

        >>> Tape("m").sold_mass(3.0), Tape("m").sold_mass(61.0), Tape("in").mass(Tape("in").sold_mass(15.74))
        (3.0, 70.0, '35 lb')
        """
        one = self.one("mass")
        units = kilograms / one
        step = next((step for most, step in WEIGHT_STEPS if units <= most), WEIGHT_STEPS[-1][1])
        return math.ceil(units / step - ROUNDED) * step * one

    def sold_run(self, metres: float) -> float:
        """The next whole foot or tenth of a metre of rope [m].

        >>> round(Tape("in").sold_run(1.0) / 0.3048, 9), Tape("mm").sold_run(1.01)
        (4.0, 1.1)
        """
        step = float(unit_factor("ft")[0]) if self.in_inches else 0.1
        return round(math.ceil(metres / step - ROUNDED) * step, 9)

    def stress(self, pascals: float) -> str:
        """A stress [Pa], to three figures.

        >>> Tape("in").stress(60e6), Tape("mm").stress(60e6)
        ('8700 psi', '60 MPa')
        """
        return self.text(pascals, "stress")

    def speed(self, metres_per_second: float) -> str:
        """A speed [m/s], to three figures."""
        return self.text(metres_per_second, "speed")

    def rough_speed(self, metres_per_second: float) -> str:
        """A speed [m/s] that nobody measured, to two figures."""
        return f"{self.number(metres_per_second, 'speed'):.2g} {self.unit('speed')}"

    def area(self, square_metres: float) -> str:
        """An area [m^2], to three figures."""
        return self.text(square_metres, "area")

    def money(self, amount: float) -> str:
        """A sum [currency] as it is written, a sign in front and a word behind.

        Source: common practice.

        >>> Tape("in").money(1234.5), Tape("mm", currency="EUR").money(80.0)
        ('$1,234.50', '80.00 EUR')
        """
        sign = self.currency
        return f"{sign}{amount:,.2f}" if len(sign) == 1 else f"{amount:,.2f} {sign}"


def plain_tape(metric: bool) -> Tape:
    """The usual tape of a shop that is in millimetres, or in inches.

    >>> plain_tape(True).units
    'mm'
    """
    return Tape("mm" if metric else "in")
