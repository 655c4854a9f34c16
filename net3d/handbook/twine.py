"""Twine: the handbook table, and what a maker's own spool says instead."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache

from net3d.handbook.allowances import allowance
from net3d.handbook.fibres import Fibre, fibres
from net3d.handbook.table import read_table
from net3d.units import read_quantity

_ONE_NUMBER = re.compile("[^0-9/.]*([0-9]{1,5})[^0-9/.]*")  # "17", "braided 18"; not 210/24


@dataclass(frozen=True)
class Twine:
    """A twine in SI units; every figure of one spool."""

    name: str
    diameter: float  # m
    tex: float  # Rtex, g/km, as laid
    strength: float  # straight, dry breaking strength [N]
    wet_knotted_strength: float  # wet, tied with the single sheet bend [N]
    stiffness: float  # A of T / e = A + B T, knotted and wet: EA as it begins to pull [N]
    stiffening: float  # B [-]; 0 of a secant EA
    guessed: bool  # whether EA is a secant far above what nets pull, as nothing was measured below
    density: float  # of the fibre [kg/m^3]
    material: str
    source: str

    @property
    def mass_per_length(self) -> float:
        """Mass of so much of it [kg/m]."""
        return self.tex * 1e-6

    def stretch(self, tension: float) -> float:
        """Under a pull [N], over its length: ``e = T / (A + B T)`` [-].

        Source: a straight line through ``twine_stretch.csv``.
        """
        return tension / (self.stiffness + self.stiffening * tension)


@dataclass(frozen=True)
class Spool:
    """What a spool's label says, in SI units."""

    name: str
    diameter: float  # m
    tex: float  # g/km
    strength: float  # straight and dry [N]
    source: str


def twine_of(spool: Spool, fibre: Fibre, stiffness: float | None = None) -> Twine:
    """A twine from a spool's label and its fibre.

    ``wet knotted strength = strength x wet ratio x knot ratio``; unless EA is given, T / e = A + B T goes
    through the elongation at half of that. Source: ratios and elongations in ``fibres.csv``, B in
    ``twine_stretch.csv``.

    Parameters
    ----------
    spool : the label's figures, SI
    fibre : a row of the fibre table
    stiffness : secant EA at working load [N], when the maker knows it

    Examples
    --------
    >>> spool = Spool("old stock", 0.0012, 1500.0, 600.0, "its label")
    >>> round(twine_of(spool, fibres()["PA"]).wet_knotted_strength)
    313
    """
    wet_knotted = fibre.wet_knotted_strength(spool.strength)
    return Twine(
        name=spool.name,
        diameter=spool.diameter,
        tex=spool.tex,
        strength=spool.strength,
        wet_knotted_strength=wet_knotted,
        stiffness=fibre.stiffness(wet_knotted) if stiffness is None else stiffness,
        stiffening=fibre.stiffening if stiffness is None else 0.0,
        guessed=stiffness is None and fibre.stiffening == 0.0,
        density=fibre.density,
        material=fibre.name,
        source=spool.source,
    )


@cache
def _rows() -> dict[str, dict[str, str]]:
    return {plain_name(row["name"]): row for row in read_table("twine")}


def plain_name(name: str) -> str:
    """A twine's name without what makers write in different ways.

    Examples
    --------
    >>> plain_name("No. 15") == plain_name("#15") == plain_name("15")
    True
    """
    return re.sub(r"^(no\.?|number|#)|\s+", "", name.strip().lower())


def find_twine(name: str) -> Twine | None:
    """A twine of the handbook table, or None when there is no such row.

    Parameters
    ----------
    name : such as ``"#15"``, ``"No. 15"``, ``"210/24"`` or ``"R1188 tex PE"``

    Examples
    --------
    >>> find_twine("No. 36").name
    '#36'
    """
    row = _rows().get(plain_name(name))
    if row is None:
        return None
    spool = Spool(
        name=row["name"],
        diameter=read_quantity(row["diameter"], "length"),
        tex=float(row["tex"]),
        strength=read_quantity(row["strength"], "force"),
        source=row["source"],
    )
    return twine_of(spool, fibres()[row["fibre"]])


def known_twines() -> tuple[Twine, ...]:
    """Every twine of the table, in its order.

    >>> known_twines()[4].name
    '#15'
    """
    found = (find_twine(row["name"]) for row in read_table("twine"))
    return tuple(twine for twine in found if twine is not None)


def lacing_twine(netting: Twine) -> Twine:
    """The twine of the table to lace a netting twine's hoops with: heavier, of the same fibre.

    The one nearest to ``lacing_weight`` times its tex among those sold under the same kind of name; the
    netting's own twine where the table has none heavier. No. 30 on a No. 18 net: common practice, no source.

    >>> lacing_twine(find_twine("#18")).name, lacing_twine(find_twine("210/36")).name
    ('#30', '210/60')
    """
    by_yarns = "/" in netting.name
    heavier = [
        (abs(float(row["tex"]) - allowance("lacing_weight") * netting.tex), row["name"])
        for row in read_table("twine")
        if fibres()[row["fibre"]].name == netting.material
        and float(row["tex"]) > netting.tex
        and ("/" in row["name"]) == by_yarns
    ]
    found = find_twine(min(heavier)[1]) if heavier else None
    return found or netting


def near_twines(name: str, own: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Up to three twines whose names come nearest, the maker's own among them.

    Examples
    --------
    >>> near_twines("#16")
    ('#15', '#18', '#12')
    >>> near_twines("braided 18")
    ('#18', '#15', '#21')
    """
    names = {plain_name(row["name"]): row["name"] for row in read_table("twine")} | {
        plain_name(n): n for n in own
    }
    if number := _ONE_NUMBER.fullmatch(plain_name(name)):
        numbers = sorted(
            (abs(int(plain) - int(number[1])), shown) for plain, shown in names.items() if plain.isdigit()
        )
        return tuple(shown for _, shown in numbers[:3])
    return tuple(
        names[plain] for plain in difflib.get_close_matches(plain_name(name), list(names), n=3, cutoff=0.4)
    )
