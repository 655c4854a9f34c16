"""What is proposed for ways out: longer lacing, bars wider apart, more floats."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, pi

from net3d.advice.amounts import typed_length
from net3d.advice.trying import Case, Way

LONGER = (1.0, 1.25, 1.5)  # bars of lacing


def lace_longer(case: Case) -> Iterator[Way]:
    """Longer lacing, so that the netting around bears its pull by itself."""
    spec, place = case.base.spec, case.numbers[0]
    bar = spec.netting.stretched / 2
    yield [{f"escape.{place}.lacing": typed_length(spec.tape, times * bar, "up")} for times in LONGER]


def set_apart(case: Case) -> Iterator[Way]:
    """As many lines as leave the largest fish room, evenly across the mouth."""
    fish, place = case.base.spec.fish, case.numbers[0]
    lines = case.base.plan.escapes[place - 1]
    across = lines.apart * (len(lines.line_lengths) + 1)
    if fish is not None and lines.spec.kind == "bars" and (gaps := int(across * pi / fish.girth_max)) > 1:
        yield [{f"escape.{place}.apart": typed_length(case.base.spec.tape, across / gaps, "up")}]


def more_floats(case: Case) -> Iterator[Way]:
    """So many that they lift enough, all alike."""
    spec = case.base.spec
    place = int(case.finding.where.split()[-1])
    said, limit = spec.escapes[place - 1], spec.limits.threshold("escape_lift").caution
    yield [{f"escape.{place}.pieces": ceil(said.pieces * limit / case.finding.value + 1e-9)}]
