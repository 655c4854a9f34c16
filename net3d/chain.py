"""The chain from a spec to a judged design, in one readable function."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib import import_module
from typing import TYPE_CHECKING

from net3d.errors import ShapeError

if TYPE_CHECKING:
    from net3d.checks.checks import Finding
    from net3d.mending.meanwhile import Torn
    from net3d.netting.netting import Netting
    from net3d.plan.plan import Plan
    from net3d.spec.spec import NetSpec
    from net3d.statics.shape import Shape
    from net3d.water.guides import StandingWall
    from net3d.water.loads import Loads
    from net3d.water.working import Working

Announce = Callable[[float], None]


@dataclass(frozen=True, eq=False)
class Design:
    """One record a stage; everything that is drawn, tabled or written reads only this."""

    spec: NetSpec
    plan: Plan
    netting: Netting
    shape: Shape
    loads: tuple[Loads, ...]  # in every current that the spec names, slowest first
    working: Working | None  # as it stands where it works, with throats
    torn: Torn | None  # as it hangs with its holes, where it has some and comes to rest whole
    findings: tuple[Finding, ...]
    guides: tuple[StandingWall, ...] = ()  # wings and leader in still water, a side each

    @property
    def whole(self) -> Design:
        """The same net with its wings and leader among its knots and bars, as they stand in its current.

        So is the thread of its panels, over the netting that it is sewn to.
        """
        if not self.guides and not any(escape.seam for escape in self.plan.escapes):
            return self
        from net3d.water.whole import with_guides

        flowing = [row.guides for row in self.loads if row.current == self.current]
        working = self.working.guides if self.working is not None and self.current else ()
        walls = next(iter(flowing), working) or self.guides
        netting, shape = with_guides(self.plan, self.netting, self.shape, walls)
        torn = None if self.torn is None else self.torn.widened(len(netting.bars))
        return replace(self, netting=netting, shape=shape, torn=torn, guides=())

    @property
    def string_lengths(self) -> tuple[float, ...]:
        """Length of every throat's strings as the net hangs, knot to knot [m]."""
        return tuple(throat.string_length for throat in self.shape.throats)

    @property
    def at_work(self) -> Design:
        """The same net as it stands where it works: what is drawn of it unless still water is asked for."""
        working = self.working
        return self if working is None else replace(self, netting=working.tied, shape=working.shape)

    @property
    def current(self) -> float:
        """The current that its shape is in, 0 in still water [m/s]."""
        flowing = self.working is not None and self.shape is self.working.shape
        return self.working.current if self.working is not None and flowing else 0.0

    def _repr_html_(self) -> str:
        """How it shows itself in a notebook, which asks for this by name: the one look back in the house."""
        card: str = import_module("net3d.page.card").card_html(self)
        return card


def design(spec: NetSpec, announce: Announce = lambda current: None) -> Design:
    """Work a net out: plan, netting, equilibrium, what the river pulls, findings.

    Parameters
    ----------
    announce : told each current that the spec names [m/s] before it is worked out
    """
    # Imported here: the solver takes half a second to load, and ``import net3d`` must not wait for it.
    from net3d.checks.every_check import check
    from net3d.checks.guides import check_guides
    from net3d.checks.river import check_current
    from net3d.netting import tie
    from net3d.plan import lay_out
    from net3d.statics import settle
    from net3d.water.guides import standing_guides
    from net3d.water.loads import river_loads
    from net3d.water.working import working_net

    plan = lay_out(spec)
    netting = tie(spec, plan)
    shape = settle(netting, plan)
    loads = river_loads(spec, plan, (netting, shape), announce)
    working = working_net(spec, plan, (netting, shape), loads)
    guides = standing_guides(spec, plan, 0.0)
    findings = (*check(spec, plan, netting, shape, working), *check_current(spec, plan, loads))
    findings = (*findings, *check_guides(spec, guides, loads))
    torn, about_holes = _torn(spec, plan, (netting, shape), loads) if spec.holes else (None, ())
    return Design(spec, plan, netting, shape, loads, working, torn, (*findings, *about_holes), guides)


def _torn(
    spec: NetSpec, plan: Plan, tied: tuple[Netting, Shape], loads: tuple[Loads, ...]
) -> tuple[Torn | None, tuple[Finding, ...]]:
    """The net with its holes, and what is to be said of it: loaded for the few nets that have some."""
    from net3d.checks.holes import check_holes
    from net3d.mending.meanwhile import torn_net

    torn = torn_net(spec, plan, tied, loads)
    return torn, () if torn is None else tuple(check_holes(spec, tied[0], torn))


def sketch(spec: NetSpec) -> Design:
    """A net in shape, to be drawn while it is typed: no river, nothing judged, no tight nor loose strings.

    One solve, where ``design`` takes five; hoops stand within a tenth of a millimetre of where they do there.
    """
    from net3d.netting import tie
    from net3d.plan import lay_out
    from net3d.statics import settle_quickly
    from net3d.water.guides import standing_guides

    plan = lay_out(spec)
    netting = tie(spec, plan)
    shape = settle_quickly(netting, plan)
    guides = standing_guides(spec, plan, 0.0)
    return Design(spec, plan, netting, shape, loads=(), working=None, torn=None, findings=(), guides=guides)


def loads_of(
    design: Design,
    currents: tuple[float, ...],
    announce: Announce = lambda current: None,
) -> tuple[Loads, ...]:
    """The loads on a net in other currents than those of its spec, slowest first.

    Parameters
    ----------
    currents : speeds of the water [m/s]
    announce : told each current [m/s] before it is worked out

    Raises
    ------
    ShapeError : the net has no shape in still water to begin from
    """
    from net3d.statics.settle import GOOD
    from net3d.water.loads import loads_in

    if design.shape.state not in GOOD:
        raise ShapeError(f"No loads without a shape. {design.shape.state.sentence}")
    chosen = tuple(sorted(set(currents)))
    return loads_in(design.spec, design.plan, (design.netting, design.shape), chosen, announce)


def shaped(spec: NetSpec, announce: Announce = lambda current: None) -> Design:
    """Work a net out for what is drawn or tied by its shape.

    Raises ``ShapeError`` where it does not come to rest.
    """
    made = design(spec, announce)
    if not made.shape.at_rest:
        raise ShapeError(
            f"The net has no shape to draw or to tie by. {made.shape.state.sentence} "
            "net3d check lists what is wrong; net3d marks and net3d cuts need no shape."
        )
    return made
