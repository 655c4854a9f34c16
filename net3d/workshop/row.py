"""What is done to the row of hoops as a whole: the netting between them and what hangs on them go along."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec.edit import each_standing

Changes = dict[str, object]
Between = ("deep", "spacing", "around")  # lists of sections, an entry between each hoop and the next


def row_changes(typed: Mapping[str, Any], deed: str, hoop: int) -> Changes:
    """The changes that do a deed to a hoop: ``copy``, ``up``, ``down``, ``away``; or ``about``, of the row.

    Parameters
    ----------
    typed : what the spec says
    deed : what is to be done
    hoop : which hoop, counted from 1 at the mouth as they stand

    Raises
    ------
    SpecError : it cannot be done to this hoop

    Examples
    --------
    >>> typed = {"hoop": [{"rod": 1}, {"rod": 2}], "sections": {"deep": [5]}, "throat": [{"hoop": 2}]}
    >>> row_changes(typed, "copy", 1)
    {'hoop': [1, 1, 2], 'sections.deep': [5, 5], 'throat.1.hoop': 3}
    """
    count = len(list(each_standing("hoop", typed.get("hoop"))))
    if deed not in _DEEDS or not 1 <= hoop <= count:
        raise _refused(f"there is no hoop {hoop} to do this to")
    return _DEEDS[deed](typed, hoop, list(range(1, count + 1)))


def _copied(typed: Mapping[str, Any], hoop: int, row: list[int]) -> Changes:
    place = max(min(hoop, len(row) - 1) - 1, 0)
    return {
        "hoop": [*row[:hoop], hoop, *row[hoop:]],
        **_between(typed, len(row), lambda entries: [*entries[: place + 1], *entries[place:]]),
        **_shifted(typed, hoop, 1),
    }


def _away(typed: Mapping[str, Any], hoop: int, row: list[int]) -> Changes:
    laced = [n for n, throat in enumerate(typed.get("throat", ()), 1) if throat.get("hoop") == hoop]
    if laced:
        raise _refused(f"throat {laced[0]} is laced to hoop {hoop}: lace it to another first")
    place = min(hoop, len(row) - 1) - 1
    tied = [n for n, to in _ties(typed) if to == hoop]
    return {
        f"hoop.{hoop}": None,
        **_between(typed, len(row), lambda entries: [*entries[:place], *entries[place + 1 :]]),
        **_shifted(typed, hoop, -1),
        **{f"throat.{n}.strings.to_hoop": None for n in tied},
    }


def _swapped(step: int) -> Callable[[Mapping[str, Any], int, list[int]], Changes]:
    def swap(typed: Mapping[str, Any], hoop: int, row: list[int]) -> Changes:
        other = hoop + step
        if other not in row:
            raise _refused(f"hoop {hoop} is at the end of the row")
        row[hoop - 1], row[other - 1] = other, hoop
        return {"hoop": row}

    return swap


def _about(typed: Mapping[str, Any], hoop: int, row: list[int]) -> Changes:
    if typed.get("sections", {}).get("around"):
        raise _refused("sections.around counts from the mouth: take it out before the row is turned about")
    return {"hoop": row[::-1], **_between(typed, len(row), lambda entries: entries[::-1])}


_DEEDS = {"copy": _copied, "away": _away, "up": _swapped(-1), "down": _swapped(1), "about": _about}


def _between(typed: Mapping[str, Any], count: int, change: Callable[[list[Any]], list[Any]]) -> Changes:
    """The lists of the sections, those that have an entry for each, changed alike."""
    sections = typed.get("sections", {})
    whole = [key for key in Between if sections.get(key) and len(sections[key]) == count - 1]
    return {f"sections.{key}": change(list(sections[key])) for key in whole}


def _ties(typed: Mapping[str, Any]) -> list[tuple[int, object]]:
    """The hoop that each throat's strings are said to lead to."""
    throats = enumerate(typed.get("throat", ()), 1)
    return [(n, throat.get("strings", {}).get("to_hoop")) for n, throat in throats]


def _shifted(typed: Mapping[str, Any], hoop: int, step: int) -> Changes:
    """What counts hoops behind one of them counts them anew."""
    seats = [(f"throat.{n}.hoop", throat.get("hoop")) for n, throat in enumerate(typed.get("throat", ()), 1)]
    ties = [(f"throat.{n}.strings.to_hoop", to) for n, to in _ties(typed)]
    return {key: at + step for key, at in (*seats, *ties) if isinstance(at, int) and at > hoop}


def _refused(message: str) -> SpecError:
    return SpecError("hoops", (Problem("hoop", message),))
