"""The form's table of rib lines, on which netting is hung between frames."""

from pydantic import Field

from net3d.spec.quantities import HoopNumber, HungOn, Legs
from net3d.spec.table import Table


class LineForm(Table):
    """Rib lines from hoop to hoop along the net, which carry the pull past its netting."""

    from_hoop: HoopNumber = Field(description="Frame or hoop at which they begin, counted from the mouth.")
    to_hoop: HoopNumber = Field(description="Frame or hoop at which they end.")
    count: Legs | None = Field(
        default=None,
        description="How many, evenly from the reference mark. One at every corner of the frame where they "
        "begin unless given.",
    )
    hanging: HungOn | None = Field(
        default=None,
        description="Hanging ratio: length of line over the stretched length of the netting laced to it. A "
        "little less than the netting would hang by itself unless given.",
    )
