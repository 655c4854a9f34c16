"""Measures that are hardly meant: told before anything is worked out, and only where there is doubt."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.checks.checks import Finding, Level
from net3d.parts import Part
from net3d.spec.spec import NetSpec

ROD = 1 / 12  # of its hoop's diameter: a thicker rod is hardly bent into it
TWINE = (1 / 250, 1 / 6)  # of the bar: finer is thread, thicker fills the mesh
OUT_OF_ROW = 0.03  # by which a hoop is larger or smaller than both of its neighbours
SMALLER = 0.02  # by which the mouth is smaller than the last hoop
SIZES = (0.15, 4.0)  # m: largest hoop of a net for a doll, and for a hall
PRACTICE = "common practice, no source"


def check_doubts(spec: NetSpec) -> list[Finding]:
    """A caution for each measure that is hardly meant."""
    return [
        *_thick_rods(spec),
        *_mesh_and_twine(spec),
        *_mesh_and_fish(spec),
        *_out_of_row(spec),
        *_small_mouth(spec),
        *_odd_size(spec),
    ]


def _doubt(code: str, at: Part | str, message: str, numbers: tuple[float, float]) -> Finding:
    part, where = (at, at.place) if isinstance(at, Part) else (None, at)
    return Finding(code, Level.CAUTION, where, f"{message} Is that meant?", *numbers, PRACTICE, part=part)


def _thick_rods(spec: NetSpec) -> Iterator[Finding]:
    for number, hoop in enumerate(spec.hoops, start=1):
        share = hoop.rod / hoop.diameter
        if share > ROD and hoop.frame is None:
            sizes = spec.tape.thickness(hoop.rod), spec.tape.length(hoop.diameter)
            message = f"Hoop {number}: a rod of {sizes[0]} on a hoop of {sizes[1]} is hardly bent round."
            yield _doubt("doubt-rod", Part.hoop(number), message, (share, ROD))


def _mesh_and_twine(spec: NetSpec) -> Iterator[Finding]:
    least, most = TWINE
    share = 2 * spec.twine.diameter / spec.netting.stretched
    if not least <= share <= most:
        bar, twine = spec.tape.mesh(spec.netting.stretched / 2), spec.tape.thickness(spec.twine.diameter)
        word = "leaves hardly a hole in" if share > most else "is a thread for"
        message = f"Twine {spec.twine.name}, about {twine} thick, {word} a bar of {bar}."
        yield _doubt("doubt-twine", "netting", message, (share, most if share > most else least))


def _mesh_and_fish(spec: NetSpec) -> Iterator[Finding]:
    """A mesh is twice its stretched length around inside, but for the twine: geometry."""
    if spec.fish is not None and 2 * spec.netting.stretched > spec.fish.girth_min:
        mesh, girth = spec.tape.mesh(spec.netting.stretched), spec.tape.length(spec.fish.girth_min)
        message = f"A mesh of {mesh} stretched is twice that around, and fish of {girth} girth swim through."
        numbers = (2 * spec.netting.stretched, spec.fish.girth_min)
        yield _doubt("doubt-fish", "netting", message, numbers)


def _out_of_row(spec: NetSpec) -> Iterator[Finding]:
    for number, row in enumerate(zip(spec.hoops, spec.hoops[1:], spec.hoops[2:], strict=False), start=2):
        if any(hoop.frame for hoop in row):
            continue
        before, size, after = (hoop.diameter for hoop in row)
        over, under = size / max(before, after) - 1, 1 - size / min(before, after)
        if max(over, under) > OUT_OF_ROW:
            word = "larger" if over > under else "smaller"
            told = [spec.tape.length(one) for one in (size, before, after)]
            message = f"Hoop {number} of {told[0]} is {word} than both beside it, {told[1]} and {told[2]}."
            yield _doubt("doubt-hoop", Part.hoop(number), message, (max(over, under), OUT_OF_ROW))


def _small_mouth(spec: NetSpec) -> Iterator[Finding]:
    mouth, last = spec.hoops[0].diameter, spec.hoops[-1].diameter
    if mouth < last * (1 - SMALLER) and not (spec.hoops[0].frame or spec.hoops[-1].frame):
        sizes = spec.tape.length(mouth), spec.tape.length(last)
        message = f"The mouth hoop of {sizes[0]} is smaller than the last, {sizes[1]}, and comes first."
        yield _doubt("doubt-mouth", "hoops", message, (1 - mouth / last, SMALLER))


def _odd_size(spec: NetSpec) -> Iterator[Finding]:
    largest, (least, most) = max(hoop.diameter for hoop in spec.hoops), SIZES
    if not least <= largest <= most:
        what = "a doll" if largest < least else "a hall"
        message = (
            f"Hoops of {spec.tape.length(largest)} at most make a net for {what}; units is {spec.units}."
        )
        yield _doubt("doubt-units", "net", message, (largest, least if largest < least else most))
