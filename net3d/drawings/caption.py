"""What a picture says of itself: in which water the net is drawn, and how long it is there."""

from __future__ import annotations

from net3d.chain import Design


def water_of(design: Design) -> str:
    """The water that the net is drawn in, as the maker says it."""
    if not design.current:
        return "In still water"
    tape, named = design.spec.tape, design.working is not None and design.working.named
    slow = f"a slow current of {tape.rough_speed(design.current)}"
    return f"As it works, in {f'a current of {tape.speed(design.current)}' if named else slow}"


def caption_of(design: Design) -> str:
    """The same with the length from the first hoop to the last, and how sure that is."""
    tape, shape = design.spec.tape, design.shape
    sure = tape.either_way(shape.length_follows.either_way(design.spec.tolerances))
    long = f"{tape.length(shape.length)} from the first hoop to the last, {sure} either way"
    return f"{water_of(design)}: {long}{'; slack twine could hang otherwise' * shape.one_of_many}"
