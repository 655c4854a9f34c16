"""What makes a rope bear its pull, said so that it does once it is done."""

from __future__ import annotations

from dataclasses import replace

from net3d.handbook.rope import sold_sizes
from net3d.spec.spec import NetSpec
from net3d.units import Tape
from net3d.water.holding import AnchorLine

THINNEST = 0.006  # m: no line thinner than this is advised, for the hands that haul it; common practice


def rope_remedy(spec: NetSpec, line: AnchorLine, factor: float) -> str:
    """A longer line where it is steep, else thicker rope as it is sold, that bears its tension.

    Parameters
    ----------
    line : as it is
    factor : breaking load over tension that is asked for [-]
    """
    gentle = _gentle(spec.tape, line)
    longer = f"make it {spec.tape.length(gentle.length)} long or longer"
    if gentle.factor >= factor:
        return f"{longer.capitalize()}."
    thicker = bearing_line(spec.tape, gentle, factor)
    if thicker is None:
        return f"No {line.rope.material} that is sold bears that: take less pull, or a weaker current."
    size = spec.tape.thickness(thicker.rope.diameter)
    spliced = gentle.as_made(rope=replace(line.rope, ends="spliced"))
    also = f" and {longer}" if line.is_steep else ""
    splice = ", or splice eyes into its ends" if spliced.factor >= factor and not line.is_steep else ""
    return f"Take rope of {size} or thicker{also}{splice}."


def bearing_line(tape: Tape, line: AnchorLine, factor: float) -> AnchorLine | None:
    """The line in the thinnest rope sold, no thinner than it is, that bears its tension by a factor [-]."""
    least = max(line.rope.diameter, THINNEST)
    sizes = [size for size in sold_sizes(line.rope.material, tape) if size >= least]
    made = (line.as_made(rope=replace(line.rope, diameter=size)) for size in sizes)
    return next((thicker for thicker in made if thicker.factor >= factor), None)


def _gentle(tape: Tape, line: AnchorLine) -> AnchorLine:
    """The line as long as it takes not to be steep."""
    return line.as_made(length=tape.sold_run(line.gentle_length)) if line.is_steep else line
