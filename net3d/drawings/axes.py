"""Two axes with round numbers, for small drawings of a curve (SVG)."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from math import ceil, floor, log10

from net3d.drawings.palette import GRID, INK
from net3d.units import three_figures

WIDTH, HEIGHT = 480, 300
LEFT, RIGHT, TOP, BOTTOM = 64, 16, 34, 48
STEPS = 5  # about as many ticks on an axis


@dataclass(frozen=True)
class Axes:
    """Ticks across and up, the first and the last at the ends."""

    across: list[float]
    up: list[float]

    def place(self, across: float, up: float) -> str:
        """Where a point stands, as SVG writes it.

        Parameters
        ----------
        across, up : what it stands for, in the units of the ticks [-]
        """
        x = LEFT + (across - self.across[0]) / (self.across[-1] - self.across[0]) * (WIDTH - LEFT - RIGHT)
        y = HEIGHT - BOTTOM - (up - self.up[0]) / (self.up[-1] - self.up[0]) * (HEIGHT - TOP - BOTTOM)
        return f"{x:.1f},{y:.1f}"

    def drawn(self, title: str, words: tuple[str, str], curves: str) -> str:
        """The whole drawing: title, ticks, words beside the two axes, and curves over them."""
        first, last, foot, top = self.across[0], self.across[-1], self.up[0], self.up[-1]
        return "".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
                f'font-family="sans-serif" font-size="12" fill="{INK}">',
                f"<title>{escape(title)}</title>",
                f'<text x="{LEFT}" y="20" font-size="14">{escape(title)}</text>',
                "".join(
                    _rule(self.place(first, tick), self.place(last, tick), tick, "end") for tick in self.up
                ),
                "".join(
                    _rule(self.place(tick, foot), self.place(tick, top), tick, "middle")
                    for tick in self.across
                ),
                curves,
                f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 12}" text-anchor="middle">'
                f"{words[0]}</text>",
                f'<text transform="translate(16 {(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)" '
                f'text-anchor="middle">{words[1]}</text>',
                "</svg>",
            ]
        )


def ticks(most: float, least: float = 0.0) -> list[float]:
    """Round numbers from just below one value to just above another.

    Parameters
    ----------
    most, least : the values, in any one unit [-]

    >>> ticks(1.9), ticks(19.0, 11.0)
    ([0.0, 0.5, 1.0, 1.5, 2.0], [10.0, 12.0, 14.0, 16.0, 18.0, 20.0])
    """
    span = most - least
    power = 10.0 ** floor(log10(span / STEPS))
    step = next(power * factor for factor in (1.0, 2.0, 5.0, 10.0) if span / (power * factor) <= STEPS)
    numbers = range(floor(least / step + 1e-9), ceil(most / step - 1e-9) + 1)
    return [round(step * number, 10) for number in numbers]


def _rule(start: str, end: str, tick: float, anchor: str) -> str:
    (x1, y1), (x2, y2) = (place.split(",") for place in (start, end))
    x, y = (float(x1) - 6, float(y1) + 4) if anchor == "end" else (float(x1), float(y1) + 16)
    label = f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{three_figures(tick)}</text>'
    return f'<path d="M{x1},{y1}L{x2},{y2}" stroke="{GRID}"/>{label}'
