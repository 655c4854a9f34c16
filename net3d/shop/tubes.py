"""The tubes of a net: its body and its throats, each seamed from the panels that it is cut from."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.handbook.twine import Twine
from net3d.plan.cutting import Panel, panels_of, seam_knots
from net3d.plan.decreases import Piece
from net3d.plan.plan import Plan, ThroatPlan


@dataclass(frozen=True)
class Tube:
    """Netting that is seamed from panels."""

    name: str
    pieces: tuple[Piece, ...]  # from first to last, each hung from the one before
    stretched_mesh: float  # m
    twine: Twine
    throat: ThroatPlan | None = None  # None: the body

    @property
    def panels(self) -> tuple[Panel, ...]:
        """As they are cut."""
        return panels_of(self.pieces)

    @property
    def seam_knots(self) -> int:
        """How many pairs of side knots the seams make one of."""
        return seam_knots(self.pieces)

    @property
    def seam_length(self) -> float:
        """Along all seams, their meshes pulled long [m]."""
        rows = sum(len(piece.changes) for piece in self.pieces)
        return len(self.pieces[0].seams) * rows * self.stretched_mesh / 2


def tubes(plan: Plan) -> tuple[Tube, ...]:
    """The body and the throats of a net that is cut from sheet."""
    throats = (
        Tube(throat.part.name, (throat.piece,), throat.stretched_mesh, throat.twine, throat)
        for throat in plan.throats
    )
    return (Tube("body", plan.body, plan.stretched_mesh, plan.twine), *throats)
