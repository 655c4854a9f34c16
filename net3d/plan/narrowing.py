"""Pieces of netting that lose meshes as the spec asks, or the reason why they cannot and what would work."""

from __future__ import annotations

from collections.abc import Callable

from net3d.errors import Problem, SpecError
from net3d.plan.decreases import Edge, Piece, share_out, tie_down

MOST_ROWS = 4  # times the rows asked for, or
LEAST_ROWS = 40  # in all: further is no use to anyone


def narrow(edge: Edge, wanted: tuple[int, ...], key: str, taper: float | None = 0.0) -> Piece:
    """The piece that hangs from an edge and loses ``wanted`` meshes, row by row.

    With a ``taper`` [-] the rows were worked out from it, 0 even to 1 late; None: they are the maker's own.

    Raises SpecError for the spec's ``key`` when its decreases cannot stand, with more rows or fewer meshes
    lost that could.
    """
    piece = tie_down(edge, wanted, exact=taper is None)
    if piece is not None:
        return piece
    lost, joins = sum(wanted), len(wanted)
    message = (
        f"{lost} of {edge.row.count} meshes cannot be lost in a depth of {meshes_deep(joins)}: two are taken "
        f"together only where three knots lie within reach of two bars"
    )
    raise SpecError("decreases", (Problem(key, f"{message}. {_remedy(edge, (lost, joins), taper or 0.0)}"),))


def meshes_deep(rows: int) -> str:
    """A depth in meshes, given in rows of bars.

    >>> meshes_deep(1), meshes_deep(2), meshes_deep(5)
    ('half a mesh', '1 mesh', '2.5 meshes')
    """
    return {1: "half a mesh", 2: "1 mesh"}.get(rows, f"{rows / 2:g} meshes")


def _remedy(edge: Edge, asked: tuple[int, int], taper: float) -> str:
    lost, joins = asked
    most = max(MOST_ROWS * joins, LEAST_ROWS)
    deeper = _first(range(joins + 1, most + 1), lambda rows: share_out(lost, rows, taper), edge)
    fewer = _first(range(lost - 1, 0, -1), lambda fewer: share_out(fewer, joins, taper), edge)
    ways = []
    if deeper is not None:
        ways.append(f"make it {meshes_deep(deeper)} deep")
    if fewer is not None:
        ways.append(f"lose {fewer}, down to {edge.row.count - fewer} meshes around")
    return (
        f"What would work: {', or '.join(ways)}." if ways else "Hang the hoop narrower: more meshes around."
    )


def _first(numbers: range, wanted: Callable[[int], tuple[int, ...]], edge: Edge) -> int | None:
    return next((number for number in numbers if tie_down(edge, wanted(number)) is not None), None)
