"""The form's tables of a net that was used: its age, and its holes."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field

from net3d.spec.holes import BAR_SHAPE, RUN_SHAPE, BarEnds, KnotRun, read_bar, read_run
from net3d.spec.quantities import Answer, Force, HoopNumber, Number, Reader, refusal
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


class OldForm(Table):
    """How old the netting of body and throats is, or better what is left of its strength."""

    months: Annotated[float, Number(0, 600, 0, "a number of months")] | None = Field(
        default=None, description="Months that it was out, set or hung up to dry."
    )
    kept: Literal["sun", "shade", "dark"] = Field(
        default="sun", description="Where it hangs between settings. In the sun unless given."
    )
    dipped: Answer | None = Field(
        default=None, description="Whether it was dipped. As stock.dipped says unless given."
    )
    broke: tuple[Force, ...] = Field(
        default=(),
        description="What bars of the body broke at, 3 or more, with their knots, on a spring scale: holds "
        "over months.",
    )
    wet: Answer = Field(default=False, description="Whether those bars were wet. false unless given.")


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
