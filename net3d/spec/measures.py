"""Sizes that several rules need, as far as a draft gives them."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, cos, sin, sqrt

from net3d.outline.frames import Frame
from net3d.outline.girth import diameter_of
from net3d.spec.draft import Draft
from net3d.spec.faults import hoops
from net3d.spec.form import BareHoop, HoopForm
from net3d.spec.keys import Path

MAX_HOOPS = 1000
FRAME_SIZES = {  # keys that tell a frame's size: all but one of them are given
    "square": ("width", "circumference"),
    "rectangle": ("width", "height", "circumference"),
    "d": ("width", "height", "circumference"),
}
MOST_ROWS = 1000  # walked one by one


def known_diameter(draft: Draft, path: Path, hoop: BareHoop) -> float | None:
    """Outside diameter of the hoops of the table at a path [m], by a frame's girth, where that is known."""
    if isinstance(hoop, HoopForm) and hoop.shape != "round":
        frame = known_frame(draft, path, hoop)
        return None if frame is None or not closes(frame) else diameter_of(frame.girth)
    keys = [key for key in ("diameter", "circumference") if key in hoop.model_fields_set]
    fine = draft.fine("units") and len(keys) == 1 and draft.given(*path, keys[0])
    return hoop.outside_diameter() if fine else None


def known_frame(draft: Draft, path: Path, hoop: HoopForm) -> Frame | None:
    """The frame of the table at a path, where it has width and height; it may be one that does not close."""
    frame = typed_frame(draft, path, hoop)
    return frame if frame and min(frame.width, frame.height) > 0 else None


def typed_frame(draft: Draft, path: Path, hoop: HoopForm) -> Frame | None:
    """The frame of the table at a path, where its sizes are known; they may leave nothing of its height."""
    if not draft.fine("units") or not draft.fine(*path, "shape") or hoop.shape == "round":
        return None
    told, odd = FRAME_SIZES[hoop.shape], {"diameter", "height"} - set(FRAME_SIZES[hoop.shape])
    keys = [key for key in told if key in hoop.model_fields_set]
    fine = all(draft.given(*path, key) for key in (*keys, "rod")) and draft.fine(*path, "corner")
    if not fine or len(keys) != len(told) - 1 or odd & hoop.model_fields_set:
        return None
    return hoop.frame()


def closes(frame: Frame) -> bool:
    """Whether its corners leave it a way around at all."""
    return frame.girth > 0


def known_mesh(draft: Draft) -> float | None:
    """The body's stretched mesh [m], as built where that was measured, where it is known."""
    if draft.fine("units") and draft.given("built", "ten_meshes") and draft.form.built.ten_meshes:
        return draft.form.built.ten_meshes / 10
    return planned_mesh(draft)


def planned_mesh(draft: Draft) -> float | None:
    """The body's stretched mesh as it was to be [m], where that is known."""
    netting = getattr(draft.form, "netting", None)
    if netting is None or not draft.fine("units"):
        return None
    keys = [key for key in ("stretched", "bar") if key in netting.model_fields_set]
    fine = len(keys) == 1 and draft.given("netting", keys[0])
    return netting.stretched_mesh() if fine else None


def standing_hoops(draft: Draft) -> Iterator[tuple[int, int, HoopForm]]:
    """Every hoop in its place from 0, repeats one by one, with the number of its table."""
    place = 0
    for number, hoop in hoops(draft):
        for _ in range(min(hoop.repeat, MAX_HOOPS) if draft.fine("hoop", number, "repeat") else 1):
            yield place, number, hoop
            place += 1


def knot_circles(draft: Draft) -> dict[int, tuple[float, int]]:
    """Diameter of the circle that a hoop's knots stand on [m], and its table's number, by place from 0."""
    tapes = draft.form.built.hoops if draft.given("built", "hoops") else ()
    circles = {}
    for place, number, hoop in standing_hoops(draft):
        diameter = known_diameter(draft, ("hoop", number), hoop)
        if place < len(tapes):
            diameter = diameter_of(tapes[place])
        if diameter and draft.given("hoop", number, "rod"):
            circles[place] = (diameter - 2 * hoop.rod, number)
    return circles


def rows_inward(radii: tuple[float, float], bar: float, turn: float) -> int:
    """Rows of bars, drawn tight, from the knots on one circle in to those on a smaller one in its plane.

    Every row stands half a pitch off the last: ``r' = r cos a - sqrt(b^2 - (r sin a)^2)``, until r' is no
    more than the smaller radius. Source: geometry.

    Parameters
    ----------
    radii : of the two circles, larger first [m]
    bar : length of a bar b [m]
    turn : half a pitch a, as an angle [rad]; taken as 0 where a bar does not span it, and where the rows
        are so many that it hardly counts

    Examples
    --------
    >>> rows_inward((0.5, 0.3), 0.1, 0.0), rows_inward((0.5, 0.3), 0.1, 0.1)
    (2, 3)
    """
    radius, inner = radii[0], max(radii[1], 0.0)  # a rod thicker than its hoop leaves no circle
    straight = ceil((radius - inner) / bar)
    if turn == 0 or straight > MOST_ROWS or radius * sin(turn) >= bar:
        return straight
    rows = 0
    while radius > inner and rows < MOST_ROWS:
        radius = radius * cos(turn) - sqrt(bar**2 - (radius * sin(turn)) ** 2)
        rows += 1
    return rows
