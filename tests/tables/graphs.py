"""Netting as a graph, row by row: from a table as the maker reads it, and from the model.

A tube is a list of rows; a row is a list of knots around, each with the knots of the row above that its bars
come from, as sorted numbers, twice where two bars do.
"""

import csv
import re
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from net3d.writers.csv_tables import write_table


def csv_rows(sheet, tmp_path):
    """A sheet as another program reads it: written as CSV and read back."""
    path = tmp_path / "sheet.csv"
    write_table(sheet, path)
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def model_tubes(net):
    """The model's body and throats: number of knots in the first row, then the rows."""
    netting, tubes = net.netting, {}
    part_of = [
        "body" if netting.parts[part].name.startswith(("section", "tail")) else netting.parts[part].name
        for part in netting.bar_parts
    ]
    first_of_ring = {}
    for knot, ring in enumerate(netting.knot_rings):
        first_of_ring.setdefault(int(ring), knot)
    place = [knot - first_of_ring[int(ring)] for knot, ring in enumerate(netting.knot_rings)]
    for (above, below), part in zip(netting.bars, part_of, strict=True):
        if part != "body" and not part.startswith("throat"):
            continue
        row = int(netting.knot_rows[below])
        tubes.setdefault(part, {}).setdefault(row, {}).setdefault(place[below], []).append(place[above])
    counts = {"body": net.plan.hoops[0].meshes_around}
    counts |= {throat.part.name: throat.piece.rows[0].count for throat in net.plan.throats}
    return {
        part: (
            counts[part],
            [[tuple(sorted(rows[row][knot])) for knot in sorted(rows[row])] for row in sorted(rows)],
        )
        for part, rows in tubes.items()
    }


def knitted_tubes(rows):
    """Body and throats as somebody knits them who knows nothing but the knitting table."""
    tubes = {}
    for row in rows:
        first, last, knots = int(row["from_row"]), int(row["to_row"]), int(row["knots_in_row"])
        if last == 0:
            tubes[row["part"]] = (knots, [])
            continue
        count, done = tubes[row["part"]]
        starts = re.findall(r"x?\d+", row["first_loop"])
        for number in range(last - first + 1):
            above = len(done[-1]) if done else count
            done.append(_knit(above, row, starts[number % len(starts)]))
            assert len(done) == first + number
            assert len(done[-1]) == knots
    return tubes


def _knit(above, row, start):
    extras = [int(knot) for knot in re.findall(r"\d+", row["extra_loop_knots"])]
    loops = []
    for knot in range(1, above + 1):
        loops += [f"x{knot}"] * extras.count(knot) + [str(knot)]
    turn = loops.index(start)
    together = [group.split("+") for group in filter(None, row["taken_together"].split(", "))]
    knots = []
    for loop in loops[turn:] + loops[:turn]:
        joins_last = any(loop in group[1:] for group in together)
        ends = (int(loop[1:]),) * 2 if loop.startswith("x") else (int(loop), int(loop) % above + 1)
        if joins_last:
            knots[-1] += ends
        else:
            knots.append(ends)
    return [tuple(sorted(end - 1 for end in knot)) for knot in knots]


@dataclass
class Flat:
    """A piece cut from sheet: its knots by row and place across in half meshes, and where its edges run."""

    rows: list
    left: list  # place of the side knot of each row, None where the edge passes between two knots
    right: list


def cut_steps(text):
    """An edge as it is written, row by row: n is half an N, B and b one bar inward and outward."""
    steps = []
    for word in text.split(", "):
        pattern, _, times = word.partition(" x ")
        runs = re.findall(r"(\d+ 1/2|1/2|\d+)([NTB])( out)?", pattern)
        once = []
        for count, cut, out in runs:
            number = sum(0.5 if "/" in part else int(part) for part in count.split())
            assert cut != "T"
            once += ["n"] * round(2 * number) if cut == "N" else ["b" if out else "B"] * round(number)
        steps += once * int(times or 1)
    return steps


def _starts_on(text):
    """Whether an edge starts at a side knot: half an N of its own says that it starts between two."""
    return not text.startswith("1/2N")


def cut_flat(width, left_text, right_text):
    """A piece of the diamond lattice, so many meshes wide at its first edge, cut along both edges."""
    left, right = cut_steps(left_text), cut_steps(right_text)
    assert len(left) == len(right)
    on = [_starts_on(left_text), _starts_on(right_text)]
    line = [0, round(2 * width)]
    flat = Flat([], [], [])
    for row in range(len(left) + 1):
        first, last = line[0] + (not on[0]), line[1] - (not on[1])
        assert (last - first) % 2 == 0, "the edges do not fit the lattice"
        flat.rows.append(list(range(first, last + 1, 2)))
        flat.left.append(first if on[0] else None)
        flat.right.append(last if on[1] else None)
        if row == len(left):
            return flat
        for side, step in enumerate((left[row], right[row])):
            if step == "n":
                on[side] = not on[side]
            else:
                assert on[side]
                line[side] += (1 if step == "B" else -1) * (1 if side == 0 else -1)
    raise AssertionError


def sewn(flats):
    """The tube of pieces sewn one to the next around, side knots made one: first row's count, and rows."""
    numbers = [_numbered(flats, row) for row in range(len(flats[0].rows))]
    tube = []
    for row, (above, below) in enumerate(pairwise(numbers)):
        knots = {}
        for piece, flat in enumerate(flats):
            for place in flat.rows[row + 1]:
                upper = [above[piece, end] for end in (place - 1, place + 1) if end in flat.rows[row]]
                knots.setdefault(below[piece, place], []).extend(upper)
        tube.append([tuple(sorted(knots[knot])) for knot in sorted(knots)])
    return len(set(numbers[0].values())), tube


def _numbered(flats, row):
    """Numbers around of a row's knots, by piece and place: the side knots of a seam share one."""
    number, count = {}, 0
    for piece, flat in enumerate(flats):
        for place in flat.rows[row]:
            if piece > 0 and place == flat.left[row]:
                number[piece, place] = number[piece - 1, flats[piece - 1].right[row]]
            else:
                number[piece, place] = count
                count += 1
    first, last = flats[0].left[row], flats[-1].right[row]
    assert (first is None) == (last is None)
    if last is not None:
        number[len(flats) - 1, last] = number[0, first]
    return number


def same_up_to_turning(one, other):
    """Whether two tubes are the same netting, counted from another knot.

    Knots of a row keep their order around; where a row starts is tried, row after row.
    """
    (count, rows), (other_count, other_rows) = one, other
    if count != other_count or [len(row) for row in rows] != [len(row) for row in other_rows]:
        return False
    return any(_follows(rows, other_rows, turn, count) for turn in range(count))


def _follows(rows, other_rows, turn, above):
    """Whether the rows agree when knot k above in the one is knot k + turn in the other."""
    for row, other in zip(rows, other_rows, strict=True):
        wanted = [tuple(sorted((end + turn) % above for end in ends)) for ends in row]
        turn = next((t for t in range(len(row)) if wanted == other[t:] + other[:t]), None)
        if turn is None:
            return False
        above = len(row)
    return True


def bar_count(tube):
    """Bars in a tube."""
    return int(np.sum([len(ends) for row in tube[1] for ends in row]))
