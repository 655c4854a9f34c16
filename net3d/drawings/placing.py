"""Where words go so that none stands on another."""

from __future__ import annotations

from collections.abc import Sequence


def spread(places: Sequence[float], widths: Sequence[float], least: float, most: float) -> list[float]:
    """Middles of words in a row, in the given order, each as near its own place as their widths allow.

    The least squares fit in which neighbours stand at least half of both widths apart: places less the widths
    before them are averaged where they would run backward (pool adjacent violators). What would stand beyond
    ``least`` or ``most`` is moved in, as far as there is room.

    Parameters
    ----------
    places : of their things [mm]
    widths : of the words [mm]
    least, most : where the row begins and ends [mm]

    >>> spread([0.0, 1.0, 9.0], [4.0, 4.0, 4.0], -10.0, 20.0)
    [-1.5, 2.5, 9.0]
    """
    starts = [sum(widths[:number]) + widths[number] / 2 for number in range(len(widths))]
    pools: list[tuple[float, int]] = []
    for place, start in zip(places, starts, strict=True):
        value, count = place - start, 1
        while pools and pools[-1][0] > value:
            before, many = pools.pop()
            value, count = (before * many + value * count) / (many + count), many + count
        pools.append((value, count))
    shifts = [value for value, count in pools for _ in range(count)]
    low, high = least, max(least, most - sum(widths))
    return [min(max(shift, low), high) + start for shift, start in zip(shifts, starts, strict=True)]


def rows_of(spans: Sequence[tuple[float, float]], gap: float) -> list[int]:
    """The first row in which each span finds room, taken in the order given.

    Parameters
    ----------
    spans : where each begins and ends [mm]
    gap : between neighbours in a row [mm]

    >>> rows_of([(0, 4), (5, 9), (3, 6)], 0.5)
    [0, 0, 1]
    """
    rows: list[list[tuple[float, float]]] = []
    found = []
    for start, end in spans:
        number = next(
            (
                number
                for number, taken in enumerate(rows)
                if all(end + gap <= other or start >= stop + gap for other, stop in taken)
            ),
            len(rows),
        )
        if number == len(rows):
            rows.append([])
        rows[number].append((start, end))
        found.append(number)
    return found
