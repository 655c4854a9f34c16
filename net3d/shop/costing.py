"""Hours of work, what to buy as it is sold, and what it costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from net3d.handbook.allowances import allowance
from net3d.handbook.twine import plain_name
from net3d.plan.plan import Plan
from net3d.shop.amounts import DIP, SHEET_NETTING, Amount, amounts, netting_mass
from net3d.shop.escapes import escape_hitches, escape_knots
from net3d.shop.guides import guide_cuts, guide_knots, guide_mass, hitches
from net3d.shop.lacing import lace
from net3d.shop.tubes import tubes
from net3d.spec.spec import NetSpec


@dataclass(frozen=True)
class Work:
    """One kind of work: how many, at what rate, how long."""

    work: str  # key of what is done
    number: float | None
    counted: str  # what is counted; empty where nothing is
    rate: float | None  # an hour
    hours: float


@dataclass(frozen=True)
class Purchase:
    """One thing to buy: what is needed of it, as it is sold, how many, and what one costs."""

    item: str  # key of what it is
    made_of: str  # twine, hoop's material or type of anchor, by its name; else empty
    need: float  # kg, m or pieces, by the measure
    measure: str  # mass, run or pieces
    sold_in: float  # kg, m or pieces
    count: int
    price: float | None
    thickness: float | None = None  # of a hoop's rod [m]
    weight: float | None = None  # of an anchor in air [kg]

    @property
    def cost(self) -> float | None:
        """For all of them [currency]; None where the price is not known."""
        return None if self.price is None else self.price * self.count


@dataclass(frozen=True)
class Price:
    """What the net costs the maker, and what it is sold for. None where prices are missing."""

    hours: float
    labour: float | None
    materials: float | None
    price: float | None
    missing: tuple[str, ...] = ()  # items to buy whose price is not known


def work(spec: NetSpec, plan: Plan) -> tuple[Work, ...]:
    """The work on a net, or on both of a pair, in its order, at the spec's rates."""
    done: dict[str, Work] = {}
    for one in (one for net in plan.nets for one in _work_on(spec, net)):
        before = done.get(one.work, replace(one, number=one.number and 0.0, hours=0.0))
        number = None if one.number is None else one.number + (before.number or 0.0)
        done[one.work] = replace(one, number=number, hours=one.hours + before.hours)
    return tuple(done.values())


def _work_on(spec: NetSpec, plan: Plan) -> tuple[Work, ...]:
    rates, rows = spec.prices, lace(plan, spec.lacing)
    throats = len(plan.throats)
    done = [
        *(_cutting(spec, plan) if spec.netting.made == "sheet" else [_knitting(spec, plan)]),
        _at_rate("lacing", sum(row.hitches for row in rows), "hitches", rates.hitches_per_hour),
    ]
    if throats:
        each = allowance("throat_hours")
        done.append(Work("throats", throats, "throats", 1 / each, throats * each))
    if plan.guides:
        done.append(_at_rate("hanging", hitches(plan), "hitches", rates.hitches_per_hour))
    if cut := escape_hitches(plan):
        done.append(_at_rate("escapes", cut, "hitches", rates.hitches_per_hour))
    fitting = Work("fitting", None, "", None, rates.fitting_hours)
    return (*done, fitting)


def shopping(spec: NetSpec, plan: Plan, strings: Sequence[float] = ()) -> tuple[Purchase, ...]:
    """What is left to buy, rounded up to how it is sold, with strings of lengths [m] as for ``amounts``.

    For both nets of a pair, and what stands between them once.
    """
    needed = [amount for net in plan.nets for amount in amounts(spec, net, strings)]
    bought = [
        *_netting_to_buy(spec, plan),
        *_spools(spec, needed),
        *_hoops(spec, len(plan.nets)),
        *_coils(spec, needed),
        *_cans(spec, needed),
    ]
    return (*bought, *_pieces(spec, needed), *_anchors(spec, plan))


def price(spec: NetSpec, done: Sequence[Work], bought: Sequence[Purchase]) -> Price:
    """What the net costs and is sold for: ``(hours x hour + materials) (1 + markup)``, or as the spec says.

    Materials are charged as far as the net takes them, not by the whole spool. Every price must be known.
    """
    hours = sum(one.hours for one in done)
    labour = None if spec.prices.hour is None else hours * spec.prices.hour
    shares = [None if one.price is None else one.price * one.need / one.sold_in for one in bought]
    known = [share for share in shares if share is not None]
    materials = sum(known) if len(known) == len(shares) else None
    reckoned = None
    if labour is not None and materials is not None:
        reckoned = (labour + materials) * (1.0 + spec.prices.markup)
    asked = spec.prices.price if spec.prices.price is not None else reckoned
    missing = tuple(dict.fromkeys(one.item for one in bought if one.price is None))
    return Price(hours, labour, materials, asked, missing)


def _knitting(spec: NetSpec, plan: Plan) -> Work:
    knots = plan.knots + sum(throat.knots for throat in plan.throats)
    knots += guide_knots(plan) + escape_knots(plan)
    return _at_rate("knitting", knots, "knots", spec.prices.knots_per_hour)


def _cutting(spec: NetSpec, plan: Plan) -> list[Work]:
    cut = tubes(plan)
    panels = [panel for tube in cut for panel in tube.panels]
    sides = sum(run.count for panel in panels for edge in (panel.left, panel.right) for run in edge.runs)
    across = sum(panel.across_first + panel.across_last for panel in panels)
    seams = sum(tube.seam_knots for tube in cut)
    return [
        _at_rate("cutting", ceil(sides + across) + guide_cuts(plan), "cuts", spec.prices.cuts_per_hour),
        _at_rate("seaming", seams, "knots", spec.prices.hitches_per_hour),
    ]


def _at_rate(work: str, number: float, counted: str, rate: float) -> Work:
    return Work(work, number, counted, rate, number / rate)


def _netting_to_buy(spec: NetSpec, plan: Plan) -> list[Purchase]:
    """Sheet netting by weight, for a net that is cut from it."""
    if spec.netting.made != "sheet":
        return []
    one, price = spec.tape.one("mass"), spec.prices.webbing
    sheets = {plan.twine.name: len(plan.nets) * (netting_mass(plan) - guide_mass(plan))}
    for guide in plan.guides:
        name = guide.twine.name
        sheets[name] = sheets.get(name, 0.0) + len(guide.sides) * guide.twine_mass
    return [
        Purchase(SHEET_NETTING, name, mass, "mass", one, ceil(mass / one), price)
        for name, mass in sheets.items()
    ]


def _spools(spec: NetSpec, needed: Sequence[Amount]) -> list[Purchase]:
    """Twine by the spool, with a share for ends and waste; cut netting's own twine is in its sheet."""
    spun = [one for one in needed if one.twine and one.item != SHEET_NETTING]
    spool = spec.stock.spool or allowance("spool_metric")
    bought = []
    for name in dict.fromkeys(one.twine.name for one in spun if one.twine):
        mass = sum(one.mass or 0.0 for one in spun if one.twine and one.twine.name == name)
        need = mass * (1.0 + allowance("waste_share")) - dict(spec.stock.have_twine).get(
            plain_name(name), 0.0
        )
        if need <= 0:
            continue
        bought.append(Purchase("twine", name, need, "mass", spool, ceil(need / spool), spec.prices.spool))
    return bought


def _anchors(spec: NetSpec, plan: Plan) -> list[Purchase]:
    """Anchors of the net, or of both of a pair, and of wings and leader, those alike together."""
    counts: Counter[tuple[str, float]] = Counter()
    if spec.anchor is not None and not spec.anchor.have:
        counts[spec.anchor.type, spec.anchor.weight] += len(plan.nets)
    for guide in plan.guides:
        own = guide.spec.anchor
        if own is not None and not own.have:
            counts[own.type, own.weight] += len(guide.sides) * guide.holds
    return [
        Purchase("anchor", kind, count, "pieces", 1, count, spec.prices.anchor, weight=weight)
        for (kind, weight), count in counts.items()
    ]


def _hoops(spec: NetSpec, nets: int) -> list[Purchase]:
    """Hoops of so many nets that are not at hand already, by material and rod."""
    missing = Counter((hoop.material, hoop.rod) for hoop in spec.hoops if not hoop.have)
    return [
        Purchase("hoops", material, nets * count, "pieces", 1, nets * count, spec.prices.hoop, thickness)
        for (material, thickness), count in missing.items()
    ]


def _coils(spec: NetSpec, needed: Sequence[Amount]) -> list[Purchase]:
    length = sum(one.total or 0.0 for one in needed if one.rope) - spec.stock.have_rope
    coil = spec.stock.coil or allowance("coil_metric")
    if length <= 0:
        return []
    return [Purchase("rope", "", length, "run", coil, ceil(length / coil), spec.prices.coil)]


def _pieces(spec: NetSpec, needed: Sequence[Amount]) -> list[Purchase]:
    """Floats, leads, stakes and poles, and frames of ways out, all of a kind together."""
    own, escape = spec.prices, {"escape_frame": None}
    prices = {"floats": own.floats, "leads": own.leads, "stakes": own.stakes, "poles": own.stakes, **escape}
    counts = dict.fromkeys(prices, 0)
    for one in needed:
        item = "floats" if one.item == "escape_float" else one.item
        if item in counts:
            counts[item] += one.pieces or 0
    return [
        Purchase(item, "", count, "pieces", 1, count, prices[item]) for item, count in counts.items() if count
    ]


def _cans(spec: NetSpec, needed: Sequence[Amount]) -> list[Purchase]:
    can = spec.stock.dip or allowance("dip_can_metric")
    mass = sum(one.mass or 0.0 for one in needed if one.item == DIP) - spec.stock.have_dip
    return [Purchase(DIP, "", mass, "mass", can, ceil(mass / can), spec.prices.dip)] if mass > 0 else []
