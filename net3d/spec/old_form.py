"""The form's tables of a net that was used: its holes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field

from net3d.spec.holes import BAR_SHAPE, RUN_SHAPE, BarEnds, KnotRun, read_bar, read_run
from net3d.spec.quantities import HoopNumber, Number, Reader, refusal
from net3d.spec.table import Table


@dataclass(frozen=True)
class Counted(Reader):
    """Knots or a bar, as a maker counts them."""

    take: Callable[[str], object]
    not_so: str  # why what cannot be read will not do

    def read(self, given: object, units: str | None) -> object:
        """What is counted so."""
        found = self.take(given) if isinstance(given, str) else None
        if found is None:
            raise refusal(given, self.not_so)
        return found

    def json_schema(self) -> dict[str, Any]:
        """Text with numbers in it."""
        return {"type": "string", "pattern": "[0-9]+ *: *[0-9]+"}


Knots = Annotated[KnotRun, Counted(read_run, f"is no row and knot: {RUN_SHAPE}")]
Bar = Annotated[BarEnds, Counted(read_bar, f"is no bar: {BAR_SHAPE}")]


class HoleForm(Table):
    """A hole: what is torn, rows and knots as net3d cuts numbers them."""

    throat: Annotated[int, Number(1, 1000, 1, "the number of a throat, counted from 1,")] | None = Field(
        default=None, description="The throat that is torn, as numbered here. The body unless given."
    )
    hoop: HoopNumber | None = Field(
        default=None,
        description="Rows of the body are counted from the knots on this hoop, toward the tail. From hoop 1 "
        "unless given.",
    )
    knots: tuple[Knots, ...] = Field(
        default=(), description="Knots that are torn out, such as 7:12-15, with all bars that end there."
    )
    bars: tuple[Bar, ...] = Field(
        default=(), description="Bars that are torn, by their ends, such as 7:12 to 8:12."
    )
