"""The nested hoops as a plain line drawing for the bench sheets, as SVG."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, pi, sin

from net3d.chain import Design
from net3d.plan.joins import Row
from net3d.shop.hoop_marks import Marking, markings

RADIUS = 100.0  # of the largest hoop, in the drawing's own units
TICK = 2.2
HUB = 0.12  # of the largest radius: inside it the lines would run together
EVERY = 5  # marks between two that are numbered
LINES = ("", "3 2", "1 2")  # solid, dashed, dotted: one kind for each kind of row


def nested_hoops(design: Design) -> str:
    """The hoops nested about one centre, seen from the mouth, with the lines that carry the marks inward.

    Lines run from the largest hoop of each kind of row: on the reference mark, half a pitch off it, or of
    another count.
    """
    marked = markings(design.spec, design.plan)
    largest = max(marking.hoop.outside_diameter for marking in marked)
    kinds = list(dict.fromkeys(_kind(marking.row) for marking in marked))
    parts: list[str] = []
    for number, kind in enumerate(kinds):
        alike = [marking for marking in marked if _kind(marking.row) == kind]
        radii = [RADIUS * marking.hoop.outside_diameter / largest for marking in alike]
        parts.append(_spokes(alike[0].row, max(radii), LINES[number % len(LINES)]))
        parts += [_ticks(marking.row, radius) for marking, radius in zip(alike, radii, strict=True)]
    parts += _hoops(marked, largest)
    parts.append(_numbers(marked[0].row))
    parts.append(f'<path d="M0 {-RADIUS - 12}V{-RADIUS - 3}m-2 -4l2 4l2 -4" stroke-width="0.8"/>')
    parts.append(_text(0.0, -RADIUS - 14, "reference mark"))
    edge = RADIUS + 21
    return _svg(f"{-edge} {-edge} {2 * edge} {2 * edge}", parts)


def _kind(row: Row) -> tuple[int, int]:
    """Rows whose marks one set of lines carries: count, and offset in thousandths of a pitch."""
    return row.count, round(1000 * row.phase / row.pitch)


def _spokes(row: Row, radius: float, dashes: str) -> str:
    inner = RADIUS * HUB
    path = "".join(f"M{_polar(angle, inner)}L{_polar(angle, radius)}" for angle in row.angles())
    return f'<path d="{path}" stroke-width="0.25" stroke-dasharray="{dashes or "none"}"/>'


def _ticks(row: Row, radius: float) -> str:
    path = "".join(
        f"M{_polar(angle, radius - TICK / 2)}L{_polar(angle, radius + TICK / 2)}" for angle in row.angles()
    )
    return f'<path d="{path}" stroke-width="0.9"/>'


def _hoops(marked: Iterable[Marking], largest: float) -> list[str]:
    """One circle a size, with the numbers of its hoops at the lower right."""
    sizes: dict[float, list[int]] = {}
    for marking in marked:
        numbers = sizes.setdefault(marking.hoop.outside_diameter, [])
        numbers += [marking.hoop.number] if marking.hoop.number not in numbers else []
    parts = []
    for place, (diameter, numbers) in enumerate(sizes.items()):
        radius = RADIUS * diameter / largest
        angle = 0.62 * pi + 0.06 * pi * place
        x, y = radius * sin(angle), -radius * cos(angle)
        parts.append(f'<circle r="{radius:.2f}" stroke-width="1"/>')
        parts.append(f'<circle cx="{x:.2f}" cy="{y:.2f}" r="5" fill="white" stroke-width="0.5"/>')
        parts.append(_text(x, y + 2.2, "-".join(map(str, _ends(numbers)))))
    return parts


def _ends(numbers: list[int]) -> list[int]:
    return numbers[:1] if len(numbers) == 1 else [numbers[0], numbers[-1]]


def _numbers(row: Row) -> str:
    shown = [number for number in range(1, row.count + 1) if number == 1 or number % EVERY == 0]
    angles = row.angles()
    return "".join(
        _text(
            (RADIUS + 7) * sin(angles[number - 1]), -(RADIUS + 7) * cos(angles[number - 1]) + 1.8, str(number)
        )
        for number in shown
        if number > 1 or row.phase > 0
    )


def _polar(angle: float, radius: float) -> str:
    """A point clockwise from the top."""
    return f"{radius * sin(angle):.2f} {-radius * cos(angle):.2f}"


def _text(x: float, y: float, words: str) -> str:
    style = 'font-family="Libertinus Serif" text-anchor="middle" fill="black" stroke="none"'
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="6.4" {style}>{words}</text>'


def _svg(view: str, parts: Iterable[str]) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}"><g fill="none" stroke="black">'
        f"{''.join(parts)}</g></svg>"
    )
