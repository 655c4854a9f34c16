"""The one way to change a spec: what was typed is changed, and passes every rule as a file does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec.checked import checked_form
from net3d.spec.edit import Edited, each_standing, edited
from net3d.spec.faults import Fault
from net3d.spec.resolve import resolve
from net3d.spec.shop import with_shop
from net3d.spec.spec import NetSpec, Source


def vary(spec: NetSpec, changes: Mapping[str, object]) -> NetSpec:
    """A spec with some of its keys changed, checked as if it were read anew.

    Keys count tables and entries from 1, hoops as they stand, mouth first: one of several that share a table
    by ``repeat`` gets a table of its own, but for ``repeat`` itself, which is the table's. All of them count
    the spec as it was. Values are as typed in a file, bare numbers in the spec's units; None takes a key, an
    entry or a table away, and the number after the last adds one. Changes of whole tables are made before
    those of their keys.

    In the place of a table of ``hoop``, ``pile`` or ``throat``, and in a list of them, its number or its key
    stands for one as it was: ``{"hoop": [1, 3, 2]}`` changes two about, and ``{"hoop.3": "pile.1",
    "pile.1": "hoop.3"}`` takes a spare; keys that a hoop or a spare does not have are left out.

    Parameters
    ----------
    spec : the spec to start from, which stays as it is
    changes : what is typed now, by key

    Raises
    ------
    SpecError
        With every problem: its key, what was given and what is allowed.

    Examples
    --------
    >>> from net3d.spec import parse_spec, starter_spec
    >>> spec = vary(parse_spec(starter_spec("Backwater")), {"hoop.1.diameter": "90 cm", "sections.deep.2": 6})
    >>> spec.hoops[0].diameter, spec.sections.deep[1]
    (0.9, 6.0)
    """
    try:
        edit = edited(spec.source.typed, changes)
    except RecursionError:
        raise SpecError(spec.source.name, (Problem("", "a change holds lists too deep to read"),)) from None
    each = {key: list(each_standing(key, edit.typed[key])) for key in edit.origins if key in edit.typed}
    typed = edit.typed | {key: [table for table, _ in one] for key, one in each.items()}
    form, faults = checked_form(with_shop(typed, spec.source.shop))
    source = replace(spec.source, typed=edit.typed, moved=spec.source.moved | _moved(spec.source, edit))
    if edit.astray or faults:
        shared = {key for key, one in each.items() if len(one) > len(edit.typed[key])}
        wrong = [*edit.astray, *_told_once(faults, each)]
        source = replace(source, moved=source.moved | shared)  # hoops are counted as they stand
        raise source.refusal((fault.path, fault.message) for fault in wrong)
    return resolve(form, source)


def _moved(source: Source, edit: Edited) -> set[str]:
    """The listed tables of which not all stand where they stood."""
    return {
        key
        for key, origins in edit.origins.items()
        if origins != [(key, number) for number, _ in enumerate(source.typed.get(key, ()))]
    }


def _told_once(faults: list[Fault], each: Mapping[str, list[tuple[Any, int]]]) -> list[Fault]:
    """Faults, those of hoops that share a table of the first of them only."""
    once: dict[tuple[object, ...], Fault] = {}
    for fault in faults:
        key, *rest = fault.path
        if key in each and rest:
            rest[0] = each[str(key)][int(rest[0])][1]
        once.setdefault((key, *rest, fault.message), fault)
    return list(once.values())
