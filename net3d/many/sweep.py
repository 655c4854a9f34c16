"""A sweep: the nets of a grid or a draw, solved by an engine, each a row with its inputs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from net3d.chain import design
from net3d.errors import EngineError, Problem, SpecError
from net3d.many.engine import Engine, answers
from net3d.many.row import COUNTED, USUAL, Cell, Row, Task, keyed, row_of, wanted_of
from net3d.many.ways import Draw, Points, Typed, Way, points_of, ways_of
from net3d.spec import vary as varied
from net3d.spec.spec import NetSpec
from net3d.writers.report import report_of

REASON = "reason"


@dataclass(frozen=True)
class Sweep:
    """Every net that is to be worked out, in order, and what is wanted of each."""

    spec: NetSpec
    ways: tuple[Way, ...]
    points: Points
    keys: tuple[str, ...]
    wanted: tuple[str, ...]

    @property
    def header(self) -> tuple[str, ...]:
        """Names of the columns, units at their ends: key, inputs as typed, numbers in SI, and the reason."""
        return ("key", *(way.heading for way in self.ways), *self.wanted, *COUNTED, REASON)

    def line(self, number: int, row: Row) -> tuple[Cell, ...]:
        """The cells of a net's row, by the net's number from 0."""
        units = [way.unit for way in self.ways]
        given = zip(self.points[number].values(), units, strict=True)
        inputs = [_without(value, unit) for value, unit in given]
        cells = (self.keys[number], *inputs, *row.cells, row.reason)
        return tuple(" ".join(cell.split()) if isinstance(cell, str) else cell for cell in cells)

    def tasks(self, done: Iterable[str] = ()) -> Iterator[Task]:
        """The nets whose keys are not done yet."""
        known = set(done)
        for key, point in zip(self.keys, self.points, strict=True):
            if key not in known:
                yield Task(key, self.spec, point, self.wanted)

    def rows(self, engine: Engine, done: Iterable[str] = ()) -> Iterator[tuple[int, Row]]:
        """The number of every net that is not done yet with its row, as they are worked out."""
        numbers = {key: number for number, key in enumerate(self.keys)}
        for task, row in answers(engine, row_of, self.tasks(done)):
            empty = (None,) * (len(self.wanted) + len(COUNTED))
            yield numbers[task.key], Row(empty, str(row)) if isinstance(row, EngineError) else row


def _without(value: Typed, unit: str) -> Cell:
    """An input for its cell: a number without the unit that its heading has, else as it was typed."""
    if unit and isinstance(value, str):
        return float(value.removesuffix(f" {unit}"))
    return value if isinstance(value, str | int | float | None) else str(value)


def sweep_of(
    spec: NetSpec,
    vary: Mapping[str, str | Sequence[Typed]],
    want: Sequence[str] = (),
    draw: Draw | None = None,
) -> Sweep:
    """The sweep that is asked for, every key and name in it tried. Raises ``SpecError`` with what is wrong.

    The spec itself is worked out once, to know what its report holds.
    """
    ways = ways_of(vary)
    if not ways:
        raise SpecError("--vary", (Problem("", "nothing is varied: name a key and its values"),))
    _refuse_useless(spec, ways)
    points = points_of(ways, draw)
    wanted = wanted_of(want or USUAL, report_of(design(spec)))
    return Sweep(spec, ways, points, tuple(keyed(spec, point) for point in points), wanted)


def _refuse_useless(spec: NetSpec, ways: Sequence[Way]) -> None:
    """Refuse keys none of whose values the spec takes; what single nets do not take is told in their rows."""
    problems: list[Problem] = []
    for way in ways:
        refusals = [refusal for value in way.values[:100] if (refusal := _refusal(spec, way.key, value))]
        if len(refusals) == len(way.values[:100]):
            problems += [Problem(problem.key, problem.message) for problem in refusals[0].problems]
    if problems:
        raise SpecError("--vary", tuple(dict.fromkeys(problems)))


def _refusal(spec: NetSpec, key: str, value: Typed) -> SpecError | None:
    try:
        varied(spec, {key: value})
    except SpecError as error:
        return error
    return None


def sweep(
    spec: NetSpec,
    vary: Mapping[str, str | Sequence[Typed]],
    want: Sequence[str] = (),
    draw: Draw | None = None,
    engine: Engine | None = None,
) -> dict[str, NDArray[Any]]:
    """Work out the nets of a grid or a draw: arrays by column, one entry a net, in the order of the grid.

    Parameters
    ----------
    vary : by key what is tried: a list of values, or text as for ``net3d sweep``, such as ``"36:60:2"``
    want : names of numbers of report.json, ``*`` for all entries; the usual ones unless given
    draw : a Latin hypercube instead of the whole grid
    engine : from ``net3d.processes()`` or ``net3d.cluster(address)``; one net after the other in this process
        unless given

    Returns
    -------
    Arrays by heading. Numbers are in SI [SI] where the heading names no other unit, NaN where a net has none;
    words stay words, and ``reason`` says why a net has no numbers, empty where it has.

    Raises
    ------
    SpecError : with every key, value and name that cannot be used
    """
    asked = sweep_of(spec, vary, want, draw)
    with ThreadPoolExecutor(1) as here:
        rows = asked.rows(engine or Engine(lambda: here, 1))
        lines = [(number, asked.line(number, row)) for number, row in rows]
    columns = zip(*(line for _, line in sorted(lines, key=lambda one: one[0])), strict=True)
    return {name: _array(column) for name, column in zip(asked.header, columns, strict=True)}


def _array(column: tuple[Cell, ...]) -> NDArray[Any]:
    if any(isinstance(cell, str) for cell in column):
        return np.array(["" if cell is None else str(cell) for cell in column])
    if all(isinstance(cell, int) for cell in column):
        return np.array(column)
    return np.array([np.nan if cell is None else cell for cell in column], dtype=float)
