"""What the workshop's page is told of a net, stage by stage: its shape, then all of it, then what helps."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from net3d.advice import advise
from net3d.chain import Design, design, sketch
from net3d.checks import told_once
from net3d.checks.checks import Finding, Level, Remedy
from net3d.errors import NetError
from net3d.page.facts import facts_of, switches_of
from net3d.page.pulls import legend_of, scale_top
from net3d.page.scene import scene_in_waters
from net3d.plan.parts import planned_parts
from net3d.spec.keys import key_path
from net3d.spec.read import spec_beside
from net3d.workshop.places import place_of
from net3d.workshop.tearing import told_mends


def stages(text: str, path: Path) -> Iterator[tuple[str, str]]:
    """Each stage's name and what it tells as JSON; ``failed`` where the net cannot be worked out."""
    try:
        spec = spec_beside(text, path)
        yield "shape", json.dumps(_seen(sketch(spec)))
        whole = design(spec)
        yield "whole", json.dumps({**_seen(whole), **_judged(whole), "mends": told_mends(spec, whole.plan)})
        if any(finding.level is not Level.OK for finding in whole.findings):
            yield "advice", json.dumps(_judged(advise(whole), asked=True))
    except NetError as error:
        yield "failed", json.dumps({"message": str(error)})


def _seen(made: Design) -> dict[str, Any]:
    """What is drawn, and the sizes beside it."""
    shown = made.at_work
    top = scale_top(shown)
    legend = legend_of(shown, top)
    return {
        "title": made.spec.title,
        "scene": scene_in_waters(made, top),
        "tables": {part.name: part.table for part in planned_parts(made.spec, made.plan)},
        "switches": switches_of(made),
        "facts": facts_of(made),
        "legend": {"unit": legend.unit, "ticks": list(legend.ticks)},
        "standing": made.shape.state.sentence,
    }


def _judged(made: Design, asked: bool = False) -> dict[str, Any]:
    told = told_once(made.findings)
    odd = [finding for finding in told if finding.level is not Level.OK]
    odd.sort(key=lambda finding: finding.level is not Level.FAIL)
    return {"findings": [_finding(one) for one in odd], "fine": len(told) - len(odd), "asked": asked}


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "level": finding.level.value,
        "message": finding.message,
        "place": place_of(finding),
        "cause": finding.cause,
        "remedies": [_remedy(remedy) for remedy in finding.remedies],
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    return {
        "changes": dict(remedy.changes),
        "words": "; ".join(change_words(key, value) for key, value in remedy.changes.items()),
        "also": list(remedy.also),
    }


def change_words(key: str, value: object) -> str:
    """A change in words.

    >>> change_words("throat.1.strings.length", "28 3/16"), change_words("hoop.5", None)
    ('throat 1 strings length 28 3/16', 'take hoop 5 away')
    """
    words = [
        str(step + 1) if isinstance(step, int) else step.replace("_", " ") for step in key_path(key) or ()
    ]
    plain = ", ".join(map(str, value)) if isinstance(value, list) else str(value)
    return f"take {' '.join(words)} away" if value is None else f"{' '.join(words)} {plain}"
