"""What a net keeps over the length of fish, as a small drawing (SVG)."""

from __future__ import annotations

from net3d.catch.kept import Kept, curve_lengths
from net3d.drawings.axes import RIGHT, TOP, WIDTH, Axes, ticks
from net3d.drawings.palette import BAND, HOOPS, LINE, ROPE, THROATS
from net3d.netting.netting import Floats
from net3d.parts.palette import WHITE
from net3d.spec.spec import FishSpec
from net3d.units import Tape

PERCENT = 100.0
LEGEND, ROW = 200, 15  # how wide a line of the legend is, and how high
Styled = tuple[str, str, str, Floats]  # words, colour, dashes, shares


def kept_plot(title: str, tape: Tape, fish: FishSpec, kept: tuple[Kept, ...]) -> str:
    """Part of the fish that stay, over their length: the likely one in a band of doubt, and what wedges.

    Parameters
    ----------
    title : what stands above it
    tape : what its numbers are in
    fish : of the spec; the smallest and the largest are marked
    kept : the openings, the body's meshes first
    """
    lengths = curve_lengths(fish, kept)
    told = [tape.number(float(length), "length") for length in lengths]
    axes = Axes(ticks(told[-1], told[0]), ticks(PERCENT))
    least, _, most = kept[0].shares(lengths)
    band = [axes.place(x, PERCENT * y) for x, y in zip(told, most, strict=True)]
    band += [axes.place(x, PERCENT * y) for x, y in zip(reversed(told), reversed(least), strict=True)]
    curves = [f'<polygon points="{" ".join(band)}" fill="{BAND}" stroke="none"/>']
    curves += [_mark(axes, tape.number(size, "length")) for size in dict.fromkeys(fish.lengths)]
    drawn = _curves(lengths, kept)
    curves += [_curve(axes, told, styled) for styled in drawn]
    curves += [_legend(row, styled) for row, styled in enumerate(drawn)]
    measure = "girth of fish" if fish.by_girth else "length of fish"
    across = f"{tape.header(measure, 'length')}; upright: your smallest and largest"
    return axes.drawn(title, (across, "of 100 fish"), "".join(curves))


def _curves(lengths: Floats, kept: tuple[Kept, ...]) -> list[Styled]:
    ways_in = [one for one in kept if one.opening.inward]
    out = [one for one in kept if not one.opening.inward]
    drawn: list[Styled] = [("stay; band: struggling to stiff", LINE, "", kept[0].shares(lengths)[1])]
    drawn.append(("of these wedge in a mesh", ROPE, "5 3", kept[0].wedged(lengths)))
    drawn += [(f"stay by {one.opening.name}", HOOPS, "8 3", one.shares(lengths)[1]) for one in out[1:]]
    if ways_in:
        narrow = min(ways_in, key=lambda one: one.opening.soft)
        drawn.append((f"get in by {narrow.opening.name}", THROATS, "2 2", 1.0 - narrow.shares(lengths)[1]))
    return drawn


def _curve(axes: Axes, told: list[float], styled: Styled) -> str:
    _, colour, dashes, shares = styled
    places = " ".join(axes.place(x, PERCENT * float(y)) for x, y in zip(told, shares, strict=True))
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<polyline points="{places}" fill="none" stroke="{colour}" stroke-width="2"{dashed}/>'


def _legend(row: int, styled: Styled) -> str:
    words, colour, dashes, _ = styled
    x, y = WIDTH - RIGHT - LEGEND, TOP + 90 + ROW * row
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    ground = f'<rect x="{x}" y="{y - ROW / 2}" width="{LEGEND}" height="{ROW}" fill="{WHITE}"/>'
    line = f'<path d="M{x + 4},{y}h22" stroke="{colour}" stroke-width="2"{dashed}/>'
    return f'{ground}{line}<text x="{x + 32}" y="{y + 4}" font-size="11">{words}</text>'


def _mark(axes: Axes, size: float) -> str:
    foot, top = axes.place(size, 0.0), axes.place(size, PERCENT)
    return f'<path d="M{foot}L{top}" stroke="{HOOPS}" stroke-width="1"/>'
