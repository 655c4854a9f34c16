"""Rules of frames: which of their sizes are told, what closes, and what frames cannot do yet."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from net3d.outline.curves import Circle, Curve, even
from net3d.outline.frames import SIDES, Frame
from net3d.spec.draft import Draft
from net3d.spec.faults import Fault, hoop_count, hoops
from net3d.spec.form import FramedHoop, HoopForm
from net3d.spec.keys import Path
from net3d.spec.measures import (
    FRAME_SIZES,
    known_diameter,
    known_frame,
    known_mesh,
    standing_hoops,
    typed_frame,
)
from net3d.spec.wording import listed
from net3d.units import Tape

OWN = ("width", "height", "corner", "sides")  # keys of frames
ROUND_ONLY = ("gaps", "across", "turn", "flip")
PLACES = 120  # around, at which a frame is held against its neighbour


def frame_sizes(draft: Draft) -> Iterator[Fault]:
    """A square is told by one size, other frames by two, and a round hoop has none of theirs."""
    for number, hoop in hoops(draft):
        if draft.fine("hoop", number, "shape"):
            yield from size_faults(("hoop", number), hoop)


def size_faults(path: Path, hoop: FramedHoop) -> Iterator[Fault]:
    """What is wrong with the keys that tell the size of one hoop or frame."""
    typed = hoop.model_fields_set
    if hoop.shape == "round":
        for key in sorted(typed & set(OWN)):
            message = (
                f'a round hoop has no {key}: write shape = "square", "rectangle" or "d", or leave it out'
            )
            yield Fault((*path, key), message)
        return
    told = FRAME_SIZES[hoop.shape]
    for key in sorted(typed & {"diameter", "height"} - set(told)):
        yield Fault((*path, key), f"a {hoop.shape} has no {key}: give {' or '.join(told)}, and leave it out")
    wanted = len(told) - 1
    given = [key for key in told if key in typed]
    if len(given) != wanted:
        how, are = "one" if wanted == 1 else "two", listed(given) if given else "none"
        message = f"{hoop.shape} is told by {how} of {listed(told)}, and {are} is given"
        yield Fault((*path, given[-1]) if len(given) > wanted else path, message)


def frame_closes(draft: Draft) -> Iterator[Fault]:
    """Corners are no tighter than the rod and no rounder than there is room for."""
    for number, hoop in hoops(draft):
        frame = typed_frame(draft, ("hoop", number), hoop)
        if frame is not None:
            yield from closing_faults(("hoop", number), hoop, frame, Tape(draft.form.units))


def closing_faults(path: Path, hoop: FramedHoop, frame: Frame, tape: Tape) -> Iterator[Fault]:
    """Why the frame of a hoop cannot be bent, if it cannot."""
    least, most = hoop.rod, _most_round(frame)
    if min(frame.width, frame.height) <= 0:
        yield Fault((*path, "circumference"), _too_little_around(tape, hoop))
    elif most < least or min(frame.width, frame.height) <= 2 * hoop.rod:
        yield Fault(path, _no_frame(tape, frame, hoop.rod))
    elif not least * (1 - 1e-9) <= frame.corner <= most * (1 + 1e-9):
        message = (
            f"a corner of {tape.length(frame.corner)} outside is not allowed on this frame: write corner "
            f"from {tape.length(least)}, its rod, to {tape.length(most)}"
        )
        yield Fault((*path, "corner") if "corner" in hoop.model_fields_set else path, message)


def _most_round(frame: Frame) -> float:
    """The largest radius that its corners have room for [m]."""
    if frame.shape == "d":
        return min(frame.height - frame.width / 2, frame.width / 2)
    return min(frame.width, frame.height) / 2


def _too_little_around(tape: Tape, hoop: FramedHoop) -> str:
    """Of a frame told by its girth, which leaves nothing for the size that is not told."""
    keys = [key for key in ("width", "height") if key in hoop.model_fields_set]
    size = "".join(f" with a {key} of {tape.length(getattr(hoop, key))}" for key in keys)
    around, less = tape.length(hoop.circumference or 0.0), f", or less {keys[0]}" if keys else ""
    shape = "D" if hoop.shape == "d" else hoop.shape
    return f"a {shape}{size} is longer around than {around}: write more{less}"


def _no_frame(tape: Tape, frame: Frame, rod: float) -> str:
    width, height = tape.length(frame.width), tape.length(frame.height)
    if frame.shape == "d":
        least = tape.length(frame.width / 2 + rod)
        return f"a D {width} wide is half round above, so it must be {least} high or more, not {height}"
    return (
        f"{width} by {height} leaves no room inside a rod of {tape.length(rod)}: each side must be longer "
        "than two rods"
    )


def frame_is_true(draft: Draft) -> Iterator[Fault]:
    """Bows, ovals and turns are for round hoops."""
    for number, hoop in hoops(draft):
        for key in ROUND_ONLY if draft.fine("hoop", number, "shape") and hoop.shape != "round" else ():
            if draft.given("hoop", number, key) and getattr(hoop, key):
                message = (
                    f"{key} is for round hoops: net3d takes a frame as flat, true and upright; leave it out"
                )
                yield Fault(("hoop", number, key), message)


def sides_add_up(draft: Draft) -> Iterator[Fault]:
    """Meshes a side are as many as there are around, and reach from corner to corner."""
    mesh = known_mesh(draft)
    for place, number, hoop in standing_hoops(draft):
        path, frame = ("hoop", number, "sides"), known_frame(draft, ("hoop", number), hoop)
        if frame is None or not draft.given(*path) or not hoop.sides:
            continue
        wanted, around = SIDES[frame.shape], _meshes_around(draft, place)
        if len(hoop.sides) != wanted:
            message = (
                f"a {frame.shape} has {wanted} sides, and {len(hoop.sides)} are given: write meshes for each"
            )
            yield Fault(path, message)
        elif around is not None and sum(hoop.sides) != around:
            message = (
                f"sides of {sum(hoop.sides)} meshes together, and hoop {place + 1} takes {around} around"
            )
            yield Fault(path, message)
        elif mesh is not None and _most_round(frame) >= frame.corner:
            yield from _sides_reach(draft, path, (frame, hoop), mesh)


def _sides_reach(draft: Draft, path: Path, framed: tuple[Frame, HoopForm], mesh: float) -> Iterator[Fault]:
    frame, hoop = framed
    lengths = frame.side_lengths(hoop.rod)
    for side, (meshes, length) in enumerate(zip(hoop.sides, lengths, strict=True)):
        if meshes * mesh <= length:
            tape = Tape(draft.form.units)
            message = (
                f"{meshes} meshes drawn out are {tape.length(meshes * mesh)} long, and do not reach along "
                f"a side of {tape.length(length)}: write {int(length / mesh) + 1} or more for it"
            )
            yield Fault((*path, side), message)


def _meshes_around(draft: Draft, place: int) -> int | None:
    """Meshes around at a hoop, by its place from 0, where they are known."""
    if not draft.given("netting", "around") or not draft.fine("sections", "around"):
        return None
    sections = getattr(draft.form, "sections", None)
    counts = (draft.form.netting.around, *(sections.around if sections else ()))
    if len(counts) == 1:
        return int(counts[0])
    return int(counts[place]) if place < len(counts) else None


def frames_reach(draft: Draft) -> Iterator[Fault]:
    """Netting drawn out straight reaches from a frame's corners to what stands behind it."""
    if all(hoop.shape == "round" for _, hoop in hoops(draft)):
        return
    mesh, count = known_mesh(draft), hoop_count(draft)
    if mesh is None or count is None or not draft.given("sections", "deep"):
        return
    curves = {place: _curve(draft, number) for place, number, _ in standing_hoops(draft)}
    deep = draft.form.sections.deep
    for place in range(min(len(deep), count - 1)):
        pair = curves[place], curves[place + 1]
        if pair[0] is None or pair[1] is None or all(isinstance(one, Circle) for one in pair):
            continue
        ways = pair[0].places(even(PLACES)) - pair[1].places(even(PLACES))
        step = float(np.linalg.norm(ways, axis=1).max())
        if step >= deep[place] * mesh:
            apart, long = (Tape(draft.form.units).length(size) for size in (step, deep[place] * mesh))
            message = (
                f"{deep[place]:g} meshes do not reach from hoop {place + 1} to hoop {place + 2}: drawn out "
                f"straight they are {long} long, and marks of one stand up to {apart} inside those of the "
                f"other. Write {int(2 * step / mesh + 1) / 2:g} or more, or make the two more alike"
            )
            yield Fault(("sections", "deep", place), message)


def _curve(draft: Draft, number: int) -> Curve | None:
    hoop, path = dict(hoops(draft)).get(number), ("hoop", number)
    if hoop is None or not draft.fine(*path):
        return None
    frame, diameter = known_frame(draft, path, hoop), known_diameter(draft, path, hoop)
    if frame is not None:
        return None if _most_round(frame) < frame.corner else frame.curve
    return None if diameter is None else Circle(diameter)


def lines_run_on(draft: Draft) -> Iterator[Fault]:
    """Rib lines run toward the tail, begin at corners or are counted, and a section has them once."""
    count, taken = hoop_count(draft), dict[int, int]()
    for number, line in enumerate(getattr(draft.form, "line", None) or ()):
        path = ("line", number)
        if line is None or count is None or not draft.fine(*path):
            continue
        if not line.from_hoop < line.to_hoop <= count:
            message = (
                f"lines from hoop {line.from_hoop} run on to a hoop from {line.from_hoop + 1} to {count}"
            )
            yield Fault((*path, "to_hoop"), message)
            continue
        begins = next(hoop for place, _, hoop in standing_hoops(draft) if place == line.from_hoop - 1)
        if line.count is None and begins.shape == "round":
            message = (
                f"hoop {line.from_hoop} is round and has no corners: write count, how many lines run from it"
            )
            yield Fault((*path, "count"), message)
        for section in range(line.from_hoop, line.to_hoop):
            if taken.setdefault(section, number) != number:
                message = (
                    f"line[{taken[section] + 1}] runs from hoop {section} to {section + 1} too: leave one out"
                )
                yield Fault((*path, "from_hoop"), message)
                break


FRAME_RULES = (
    frame_sizes,
    frame_closes,
    frame_is_true,
    sides_add_up,
    frames_reach,
    lines_run_on,
)
