"""Findings as they are told: those that say the same of several places are one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from net3d.checks.checks import Finding

_HOOP = re.compile(r"hoop (\d+)")
_SECTION = re.compile(r"hoops (\d+ to \d+)")


def told_once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings of one level and in the same words as one, of all their places: Hoops 1 to 5."""
    alike: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        place = finding.where.capitalize()
        words = finding.message.removeprefix(place)
        numbers = tuple(remedy.number for remedy in finding.remedies)
        key = (finding.level, words, words != finding.message, numbers, finding.cause)
        alike.setdefault(key, []).append(finding)
    return tuple(_one(group) for group in alike.values())


def _one(group: Sequence[Finding]) -> Finding:
    first, places = group[0], list(dict.fromkeys(finding.where for finding in group))
    if len(places) == 1:
        return first
    where = together(places)
    words = first.message.removeprefix(first.where.capitalize())
    message = first.message if words == first.message else where[:1].upper() + where[1:] + words
    return replace(first, where=where, message=message)


def together(places: Sequence[str]) -> str:
    """Several places in words.

    >>> together(["hoop 1", "hoop 2", "hoop 3"]), together(["hoop 1", "hoop 3"])
    ('hoops 1 to 3', 'hoops 1 and 3')
    >>> together(["hoops 2 to 3", "hoops 3 to 4"]), together(["tail", "throat 1"])
    ('hoops 2 to 3 and 3 to 4', 'tail and throat 1')
    """
    if len(places) == 1:
        return places[0]
    hoops = [int(match[1]) for place in places if (match := _HOOP.fullmatch(place))]
    if len(hoops) == len(places) > 2 and hoops == list(range(hoops[0], hoops[-1] + 1)):
        return f"hoops {hoops[0]} to {hoops[-1]}"
    if len(hoops) == len(places):
        return f"hoops {_listed([str(hoop) for hoop in hoops])}"
    sections = [match[1] for place in places if (match := _SECTION.fullmatch(place))]
    return f"hoops {_listed(sections)}" if len(sections) == len(places) else _listed(places)


def _listed(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
