"""The work at the bench, one step at a time: what the page shows in letters as large as the screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from net3d.chain import Design
from net3d.plan.parts import planned_parts
from net3d.tables.cautions import BENDING, HOT_KNIFE, RUNNING_TWINE
from net3d.tables.knitting import knitting_sheet
from net3d.tables.marks import NOTES
from net3d.tables.panels import panels_sheet
from net3d.tables.sheet import Cell
from net3d.tables.steps import steps


@dataclass(frozen=True)
class BenchStep:
    """One thing to do: which it is, what is read from afar, what else is said, and what can hurt."""

    label: str
    large: str
    more: str = ""
    caution: str = ""


@dataclass(frozen=True)
class Chapter:
    """Work that is done in one go."""

    name: str
    steps: tuple[BenchStep, ...]


def bench_of(design: Design) -> dict[str, Any]:
    """The chapters for the page's script: every text once, a step as the places of its texts.

    The marks of the hoops are not among them: the script reads them off the page's own blocks.
    """
    texts: dict[str, int] = {"": 0}
    packed = [
        [
            chapter.name,
            *(
                [
                    texts.setdefault(text, len(texts))
                    for text in (step.label, step.large, step.more, step.caution)
                ]
                for step in chapter.steps
            ),
        ]
        for chapter in chapters_of(design)
    ]
    return {"measuring": [NOTES[0], BENDING], "texts": list(texts), "chapters": packed}


def chapters_of(design: Design) -> tuple[Chapter, ...]:
    """The order of work, then the netting to knit or cut."""
    order = tuple(
        BenchStep(f"step {number}", step.work, step.numbers, step.caution)
        for number, step in enumerate(steps(design), start=1)
    )
    sheet = design.spec.netting.made == "sheet"
    return (Chapter("Order of work", order), *(_cutting(design) if sheet else _knitting(design)))


def _knitting(design: Design) -> list[Chapter]:
    titles = {part.name: part.title for part in planned_parts(design.spec, design.plan)}
    rows = knitting_sheet(design.spec, design.plan, each=True).records
    return [
        Chapter(f"Knit {titles.get(str(part), part)}", tuple(step for row in own for step in _row_steps(row)))
        for part, own in groupby(rows, key=lambda row: row["part"])
    ]


def _row_steps(row: dict[str, Cell]) -> Iterator[BenchStep]:
    """Every row by itself: a maker at the bench loses count first of all."""
    first, last, then = row["from_row"], row["to_row"], f"Then: {row['then']}." if row["then"] else ""
    if not last:
        yield BenchStep(
            "cast on", f"{row['knots_in_row']} knots", f"{row['first_loop']}. {then}", RUNNING_TWINE
        )
        return
    extra = f"extra loop on {row['extra_loop_knots']}" if row["extra_loop_knots"] else ""
    large = ", ".join(filter(None, (str(row["taken_together"]), extra))) or "plain"
    told = f"{row['knots_in_row']} knots; knot 1 takes loop {row['first_loop']}."
    assert isinstance(first, int)
    assert isinstance(last, int)
    for number in range(first, last + 1):
        yield BenchStep(f"row {number}", large, f"{told} {then if number == last else ''}".strip())


def _cutting(design: Design) -> list[Chapter]:
    sheet = panels_sheet(design.spec, design.plan)
    beside = sheet.without("piece", "pieces", "across_first", "across_last", "meshes_deep").filled().grid()
    return [
        Chapter(
            "Cut the pieces",
            tuple(
                BenchStep(
                    f"{row['piece']}, {row['pieces']} alike",
                    f"{row['across_first']} to {row['across_last']} meshes, {row['meshes_deep']} deep",
                    "; ".join(
                        f"{heading} {cell}" for heading, cell in zip(beside.headings, line, strict=True)
                    ),
                    HOT_KNIFE,
                )
                for row, line in zip(sheet.records, beside.lines, strict=True)
            ),
        )
    ]
