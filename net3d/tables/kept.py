"""The sheet of what a net keeps: every opening, and the fish that pass it."""

from __future__ import annotations

from net3d.catch import Kept, kept_by
from net3d.chain import Design
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted

NEARLY_ALL = 0.95
HOW = (
    "Stiff fish pass a hole of their own shape; soft ones pass until they are as large around as its inside, "
    "and those that struggle where they are a tenth larger. Take it for a range.",
    "Where a head goes in and the body does not, fish wedge, and suffer: look at the net often.",
)


def kept_of(design: Design) -> tuple[Kept, ...]:
    """What a design's openings keep; none where its spec names no fish, or it did not come to rest."""
    return kept_by(design.spec, design.plan, design.netting, design.shape)


def kept_sheet(design: Design, kept: tuple[Kept, ...]) -> Sheet:
    """A row an opening: at which length half of the fish pass, nearly all stay, and heads go in."""
    fish = design.spec.fish
    measure = "around" if fish is not None and fish.by_girth else "long"
    columns = (
        Column("opening", "opening"),
        Column("way", "fish go"),
        Column("around", "inside, around", "reading"),
        Column("half_stiff", f"half pass, {measure}: stiff", "reading"),
        Column("half", "likely", "reading"),
        Column("half_struggling", "struggling", "reading"),
        Column("nearly_all_stay", f"nearly all stay, {measure}", "reading"),
        Column("half_wedge", "heads go in up to", "reading"),
    )
    rows = tuple(_row(one) for one in kept)
    title = f"{design.spec.title}: what the mesh keeps"
    return Sheet("kept", title, design.spec.tape, columns, rows, (*noted("how", *HOW), *_source(kept)))


def _row(one: Kept) -> tuple[Cell, ...]:
    opening = one.opening
    halves = (_half(one, girth) for girth in (opening.stiff, opening.soft, opening.forced))
    way = "in" if opening.inward else "out"
    if opening.inward:
        return (opening.name, way, opening.soft, *halves, None, None)
    stay = one.length_at(NEARLY_ALL, opening.soft)
    return (opening.name, way, opening.soft, *halves, stay, _half(one, opening.soft / one.body.head))


def _half(one: Kept, girth: float) -> float | None:
    return one.length_at(0.5, girth) if girth > 0.0 else None


def _source(kept: tuple[Kept, ...]) -> tuple[Note, ...]:
    return noted("source", f"Girth at length: {kept[0].body.source}.") if kept else ()
