"""Which parts of a wanted net the whole pieces of an old one make."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from net3d.mending.pieces import LEAST_CELLS, Whole
from net3d.parts import TAIL, Part
from net3d.plan.cutting import PANELS
from net3d.plan.decreases import Piece
from net3d.plan.plan import Plan

ALIKE = 0.03  # of a mesh: wider or narrower netting is another; common practice, no source


@dataclass(frozen=True)
class Wanted:
    """A part of the wanted net, in half meshes."""

    part: Part
    around: int  # where it is widest
    deep: int
    stretched: float  # [m]
    plain: bool  # whether it is a tube as wide at both ends

    @property
    def meshes(self) -> float:
        """Meshes of the tube that it is cut from [-]."""
        return self.around * self.deep / 4


@dataclass(frozen=True)
class Made:
    """What a part is made of: numbers of the old pieces, from 1; none where it is to be knit or bought."""

    wanted: Wanted
    pieces: tuple[int, ...]
    seams: int


def wanted_parts(plan: Plan) -> tuple[Wanted, ...]:
    """The netting of a plan, part by part."""
    body = [(section.part, section.piece) for section in plan.sections]
    body += [(TAIL, plan.tail)] if plan.tail else []
    throats = [(throat.part, throat.piece, throat.stretched_mesh) for throat in plan.throats]
    return tuple(
        _wanted(part, piece, mesh)
        for part, piece, mesh in [*((part, piece, plan.stretched_mesh) for part, piece in body), *throats]
    )


def _wanted(part: Part, piece: Piece, mesh: float) -> Wanted:
    counts = [row.count for row in piece.rows]
    return Wanted(part, 2 * max(counts), len(piece.changes), mesh, len(set(counts)) == 1)


def made_of(
    wanted: Sequence[Wanted], pieces: Sequence[Whole], stretched: float, take_up: int
) -> tuple[Made, ...]:
    """Every part by the old pieces that make it, the largest parts first served.

    A tube of the same meshes around is taken as it is; else a part is cut in 1, 2 or 4 panels, as few as do,
    each with what its two edges lose in seams, from the least piece that holds it. What is left of a piece
    beside and below a panel is used on.

    Parameters
    ----------
    wanted, pieces : parts, and what the old net gives
    stretched : mesh of the old net [m]
    take_up : meshes of each edge that a seam takes
    """
    stock = [(number, one) for number, one in enumerate(pieces, start=1)]
    made = {}
    for part in sorted(wanted, key=lambda one: -one.meshes):
        alike = abs(part.stretched / stretched - 1.0) <= ALIKE
        made[part], stock = _served(part, stock, take_up) if alike else (Made(part, (), 0), stock)
    return tuple(made[part] for part in wanted)


Stock = list[tuple[int, Whole]]


def _served(part: Wanted, stock: Stock, take_up: int) -> tuple[Made, Stock]:
    """A part, and what is left of the stock."""
    for at, (number, one) in enumerate(stock):
        if part.plain and one.ring and one.across == part.around and one.deep >= part.deep:
            left = replace(one, row=one.row + part.deep, deep=one.deep - part.deep)
            return Made(part, (number,), 0), [*stock[:at], *_large((number, left)), *stock[at + 1 :]]
    for panels in PANELS:
        across = ceil(part.around / panels) + 4 * take_up
        taken, left_over = list[int](), list(stock)
        for _ in range(panels):
            fits = [one for one in left_over if one[1].across >= across and one[1].deep >= part.deep]
            if not fits:
                break
            chosen = min(fits, key=lambda one: one[1].meshes)
            left_over = [*(one for one in left_over if one is not chosen), *_cut(chosen, across, part.deep)]
            taken.append(chosen[0])
        else:
            return Made(part, tuple(taken), panels), left_over
    return Made(part, (), 0), stock


def _cut(piece: tuple[int, Whole], across: int, deep: int) -> Stock:
    """What is left of a piece beside a panel, as deep as it, and below both; a tube that was cut is none."""
    number, one = piece
    beside = replace(one, left=one.left + across, across=one.across - across, deep=deep, ring=False)
    below = replace(one, row=one.row + deep, deep=one.deep - deep)
    return [*_large((number, beside)), *_large((number, below))]


def _large(piece: tuple[int, Whole]) -> Stock:
    return [piece] if min(piece[1].across, piece[1].deep) >= LEAST_CELLS else []
