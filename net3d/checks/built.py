"""How the net came out: what was measured on it, beside what was planned and what was worked out."""

from __future__ import annotations

from net3d.checks.checks import Finding, Level
from net3d.spec.spec import NetSpec
from net3d.statics.shape import Shape

READ = "the maker's own reading"


def check_built(spec: NetSpec, shape: Shape) -> list[Finding]:
    """Findings of the net as built; none where nothing was measured."""
    found = [] if spec.built.ten_meshes is None else [_meshes(spec, shape)]
    hung = spec.built.length or sum(spec.built.apart)
    return [*found, _hung(spec, shape, hung)] if hung else found


def _meshes(spec: NetSpec, shape: Shape) -> Finding:
    """What ten meshes came to, and where hoops stand now."""
    built, tape = spec.built, spec.tape
    apart = tape.readings(section.length for section in shape.sections)
    ten, planned = tape.length(10 * spec.netting.stretched), tape.length(10 * built.planned)
    message = (
        f"The net came out {_off(built.gain)}: ten meshes measure {ten}, planned were {planned}. It hangs "
        f"{tape.length(shape.length)} from the first hoop to the last, hoops {apart} apart; strings are "
        f"fitted to these meshes."
    )
    return Finding("built-meshes", Level.OK, "whole net", message, built.gain, 0.0, READ)


def _off(gain: float) -> str:
    return f"{abs(gain):.1%} {'long' if gain > 0 else 'short'}" if abs(gain) >= 0.0005 else "as planned"


def _hung(spec: NetSpec, shape: Shape, hung: float) -> Finding:
    """Whether the net hangs as long as it is worked out to; if not, what its meshes must have come to."""
    tape, follows = spec.tape, shape.length_follows
    # Worked out under the pull, measured under that of the bench: twine stretches by as much.
    pulls = spec.rigging.bench_pull / spec.rigging.still_pull
    worked_out = shape.length + follows.stretch * (pulls - 1.0)
    off, sure = hung - worked_out, follows.either_way(spec.tolerances)
    ten = 10 * spec.netting.stretched * (1.0 + off / max(follows.meshes, 1e-9))
    told = f"The net hangs {tape.length(hung)} long, and {tape.length(worked_out)} was worked out"
    good = f"{told}: within the {tape.either_way(sure)} either way of it."
    bad = (
        f"{told}, {tape.either_way(sure)} either way. Ten of its meshes would have to measure "
        f"{tape.length(ten)}: measure them, and write them under [built] ten_meshes."
    )
    level = Level.OK if abs(off) <= sure else Level.CAUTION
    message = good if level is Level.OK else bad
    return Finding("built-length", level, "whole net", message, abs(off), sure, READ)
