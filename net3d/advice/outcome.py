"""What else comes of a remedy, in words: what stands elsewhere, is tied otherwise, or is set right too."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.advice.trying import same
from net3d.chain import Design
from net3d.checks.checks import Finding, Level
from net3d.checks.told import together

TOLD = 0.0127  # m: a change of a length that is less goes without saying
MOST = 4  # sentences


def outcome(base: Design, made: Design, finding: Finding) -> tuple[str, ...]:
    """What changes besides the finding; of a net that had no shape before, what is left to be set right."""
    besides = _lengths(base, made) if base.shape.at_rest else _left(made)
    return tuple([*_too(base, made, finding), *besides][:MOST])


def _left(made: Design) -> Iterator[str]:
    left = [one.where for one in made.findings if one.level is not Level.OK]
    if left:
        yield f"then there is more to set right: {together(list(dict.fromkeys(left)))}"


def _too(base: Design, made: Design, finding: Finding) -> Iterator[str]:
    """Where else nothing is wrong any more; of the whole net, that nothing is."""
    left = {one.where for one in made.findings if one.level is not Level.OK}
    odd = [one for one in base.findings if one.level is not Level.OK and not same(one, finding)]
    right = list(dict.fromkeys(one.where for one in odd if one.where not in {*left, finding.where}))
    if odd and not left:
        yield "sets all else right too"
    elif right:
        yield f"sets right too what is told of {together(right)}"


def _lengths(base: Design, made: Design) -> Iterator[str]:
    tape = made.spec.tape
    for throat, was in zip(made.shape.throats, base.shape.throats, strict=False):
        fitted = made.spec.throats[throat.number - 1].strings.length is None
        if fitted and abs(throat.strings.to_tie - was.strings.to_tie) > tape.step:
            yield f"tie the strings of throat {throat.number} {tape.length(throat.strings.to_tie)} long"
    pairs = list(zip(made.shape.sections, base.shape.sections, strict=False))
    moved = [(now, was) for now, was in pairs if abs(now.length - was.length) > TOLD]
    if len(moved) > 2:
        lengths = [tape.length(one.shape.length) for one in (made, base)]
        yield f"the hoops then stand {lengths[0]} from first to last, {lengths[1]} as it is"
    else:
        for now, before in moved:
            yield (
                f"hoops {now.from_hoop} to {now.to_hoop} then stand {tape.length(now.length)} apart, "
                f"{tape.length(before.length)} as it is"
            )
    if len(made.plan.throats) == len(base.plan.throats):
        yield from _openings(base, made)


def _openings(base: Design, made: Design) -> Iterator[str]:
    tape = made.spec.tape
    for throat, was in zip(made.shape.throats, base.shape.throats, strict=False):
        if abs(throat.opening_girth - was.opening_girth) > TOLD:
            yield (
                f"the tip of throat {throat.number} then hangs open {tape.length(throat.opening_girth)} "
                f"around, {tape.length(was.opening_girth)} as it is"
            )
