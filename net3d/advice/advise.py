"""Remedies for what was found: proposed, tried, and told where they set it right and nothing goes worse."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from net3d.advice.kinds import KINDS
from net3d.advice.outcome import outcome
from net3d.advice.trying import Case, Changes, Tries, sets_right
from net3d.chain import Design
from net3d.checks.checks import Finding, Level, Remedy
from net3d.spec.edit import place_in

MOST_TRIES = 20  # nets worked out, for all findings together
MOST_BARS = 600_000  # of all these nets: what takes minutes a net is tried once
TRIES = 6  # for one
ENOUGH = 2  # remedies of one finding
PATIENCE = 4  # tries of one way


def advise(design: Design, announce: Callable[[str], None] = lambda text: None) -> Design:
    """The same design; every finding that is not ok has its remedies, or the cause where none was found.

    Parameters
    ----------
    announce : told what is tried, before every finding
    """
    most = min(MOST_TRIES, max(1, MOST_BARS // len(design.netting.bars)))
    tries, helped = Tries(design, most), dict[int, list[Changes]]()
    odd = [place for place, one in enumerate(design.findings) if one.level is not Level.OK]
    odd.sort(key=lambda place: design.findings[place].level is not Level.FAIL)
    for place in odd:
        announce(f"Trying what helps: {design.findings[place].where}")
        tries.begin(TRIES)
        case = Case(design.findings[place], tries)
        helped[place] = _remedies(case, [changes for found in helped.values() for changes in found])
    cases = {place: Case(design.findings[place], tries) for place in odd}
    best, told, findings = _best(cases, helped), list[Changes](), list(design.findings)
    for place in odd:
        told += [changes for changes in best[place] if changes not in told]
        findings[place] = _advised(cases[place], best[place], told)
    return replace(design, findings=tuple(findings))


def _best(cases: Mapping[int, Case], helped: Mapping[int, list[Changes]]) -> dict[int, list[Changes]]:
    """Of all that sets each finding right, found for it or for another, what sets most others right too."""
    found: list[Changes] = []
    for more in helped.values():
        found += [changes for changes in more if changes not in found]
    sets = [{place for place, case in cases.items() if _works(case, changes)} for changes in found]
    best = {}
    for place in cases:
        own = [number for number, places in enumerate(sets) if place in places]
        own.sort(key=lambda number: -len(sets[number]))
        most = max((len(sets[number]) for number in own), default=0)
        told: list[int] = []
        for number in own:
            less = any(found[number].keys() == found[one].keys() and sets[number] < sets[one] for one in told)
            told += [number] if not less and 2 * len(sets[number]) >= most else []
        best[place] = [found[number] for number in told[:ENOUGH]]
    return best


def _remedies(case: Case, helped: Sequence[Changes]) -> list[Changes]:
    """What sets a finding right: what helped others, or one of each way that is proposed for it."""
    found: list[Changes] = []
    for changes in helped:
        found += [changes] if changes not in found and _works(case, changes) else []
    if found:
        return found[:ENOUGH]
    kind = KINDS.get(case.finding.code)
    for way in kind.proposed(case) if kind and kind.proposed else ():
        if len(found) == ENOUGH:
            break
        new = next((changes for changes in islice(way, PATIENCE) if changes and _works(case, changes)), None)
        found += [new] if new and new not in found else []
    return found


def _works(case: Case, changes: Changes) -> bool:
    made = case.tries.design(changes)
    return made is not None and sets_right(made, case.base, case.finding)


def _advised(case: Case, helped: Sequence[Changes], told: Sequence[Changes]) -> Finding:
    remedies = tuple(
        Remedy(
            told.index(changes) + 1,
            changes,
            outcome(case.base, made, case.finding),
            tuple(place_in(case.base.spec.source, key) for key in changes),
        )
        for changes in helped
        if (made := case.tries.design(changes)) is not None
    )
    return replace(case.finding, remedies=remedies, cause="" if remedies else _cause(case.finding.code))


def _cause(code: str) -> str:
    """Why there is no remedy: because none helped, or because there is none to try."""
    kind = KINDS.get(code)
    if kind is None:
        return ""
    return f"No one change was found that sets it right. {kind.cause}" if kind.proposed else kind.cause
