"""What a drawing or a table says of a hoop: its size, and where its corners are."""

from __future__ import annotations

import numpy as np

from net3d.plan.marking import mark_readings
from net3d.plan.plan import HoopPlan
from net3d.spec.spec import NetSpec
from net3d.units import Tape


def size_text(tape: Tape, hoop: HoopPlan) -> str:
    """How large a hoop is: its outside diameter, or a frame's sides, its width before its height."""
    frame = hoop.frame
    if frame is None:
        return f"Ø {tape.length(hoop.outside_diameter)}"
    if frame.shape == "square":
        return f"square {tape.length(frame.width)}"
    both = f"{tape.reading(frame.width)} by {tape.length(frame.height)}"
    return f"D {both}" if frame.shape == "d" else both


def corners_text(spec: NetSpec, hoop: HoopPlan) -> str:
    """Where a frame's corners are on the tape, and between which of its marks; empty for a round hoop."""
    texts = []
    for arc in hoop.corners:
        reading = mark_readings(hoop.outline.length(arc), 1, hoop.outline.length(arc), spec.marking.round)[0]
        before = int(np.searchsorted(hoop.marks, reading + spec.marking.round / 2))
        marks = f"{before or hoop.row.count} and {before % hoop.row.count + 1}"
        on = np.abs(hoop.marks - reading) < spec.marking.round / 2
        where = f"on mark {int(on.argmax()) + 1}" if on.any() else f"between marks {marks}"
        texts.append(f"{spec.tape.reading(float(reading))}, {where}")
    return "; ".join(texts)
