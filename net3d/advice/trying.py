"""Trying changes: the net is worked out with them, and judged beside the net as it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from net3d.chain import Design, design
from net3d.checks.checks import Finding, Level
from net3d.errors import NetError
from net3d.spec import vary
from net3d.spec.edit import each_standing

Changes = Mapping[str, object]
Way = Iterable[Changes]  # one thing to change, more and more of it, or nearer and nearer to what is wanted
_RANKS = {level: rank for rank, level in enumerate(Level)}  # ok first


@dataclass(eq=False)
class Tries:
    """A net as it is, and what became of it with changes; only so many are worked out."""

    base: Design
    left: int  # how many more may be worked out
    here: int = 0  # how many of these for the finding at hand
    made: dict[str, Design | None] = field(default_factory=dict)

    def begin(self, most: int) -> None:
        """Begin with another finding, for which at most so many are worked out."""
        self.here = min(most, self.left)

    def design(self, changes: Changes) -> Design | None:
        """The net with changes; None where they are refused, or where enough was tried."""
        key = repr(sorted(changes.items(), key=lambda change: change[0]))
        if key not in self.made and self.here > 0:
            self.made[key] = self._worked_out(changes)
        return self.made.get(key)

    def _worked_out(self, changes: Changes) -> Design | None:
        unjudged: Changes = {"water.currents": None} if self.base.spec.water.currents else {}
        try:
            spec = vary(self.base.spec, {**changes, **unjudged})
            self.left, self.here = self.left - 1, self.here - 1
            return design(spec)
        except NetError:
            return None


@dataclass(frozen=True, eq=False)
class Case:
    """A finding that is to be set right, and the tries that may help."""

    finding: Finding
    tries: Tries

    @property
    def base(self) -> Design:
        """The net as it is."""
        return self.tries.base

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of the part that the finding is about: a hoop's, a throat's, a section's two hoops'."""
        return self.finding.part.numbers if self.finding.part else ()

    def value(self, changes: Changes) -> float | None:
        """What the finding's number comes to with changes [its unit]; None where it is not judged then."""
        made = self.tries.design(changes)
        found = made.findings if made else ()
        return next((one.value for one in found if same(one, self.finding)), None)

    def hoop(self, number: int) -> Mapping[str, Any]:
        """A hoop as it is typed."""
        standing = list(each_standing("hoop", self.base.spec.source.typed["hoop"]))
        table: Mapping[str, Any] = standing[number - 1][0]
        return table


def same(one: Finding, other: Finding) -> bool:
    """Whether two findings are of the same thing."""
    return (one.code, one.where) == (other.code, other.where)


def sets_right(made: Design, base: Design, finding: Finding) -> bool:
    """Whether a finding is gone, and none is worse than before.

    Of a net that did not come to rest little was judged: what was not may be anything once it does.
    """
    before = {(one.code, one.where): _RANKS[one.level] for one in base.findings}
    unknown = _RANKS[Level.OK if base.shape.at_rest else Level.FAIL]
    worse = any(_RANKS[one.level] > before.get((one.code, one.where), unknown) for one in made.findings)
    gone = all(one.level is Level.OK for one in made.findings if same(one, finding))
    return made.shape.at_rest and gone and not worse
