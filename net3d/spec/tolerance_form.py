"""The form's table of how far what is measured and tied may be off, either way."""

from pydantic import Field

from net3d.handbook.tolerances import tolerance
from net3d.spec.quantities import Off, OffLength, OffStretch
from net3d.spec.table import Table


class TolerancesForm(Table):
    """How far what is measured and tied may be off, either way: each a part of the whole, or a length."""

    gauge: Off = Field(
        default=tolerance("gauge"),
        description="The mesh of the whole net, by its gauge. 1 % unless given.",
    )
    knot_to_knot: Off = Field(
        default=tolerance("knot_to_knot"), description="Each bar by itself. 3 % unless given."
    )
    wet: Off = Field(
        default=tolerance("wet"),
        description="What the mesh grows or shrinks from dry to wet. 1 % unless given.",
    )
    dip: Off = Field(
        default=tolerance("dip"),
        description="What a dipped net's mesh grows or shrinks from dip and drawn knots. 1 % unless given.",
    )
    stretch: OffStretch | None = Field(
        default=None,
        description="Stretch of the twine under the pull. Unless given, 50 % of it for nylon and where the "
        "twine's stiffness is given, 150 % for other fibres, of which nothing was measured at small loads.",
    )
    pull: Off = Field(
        default=tolerance("pull"), description="The pull on the net, as a part of it. 50 % unless given."
    )
    tape: OffLength | None = Field(
        default=None, description="A tape around a hoop. 1/8 in or 3 mm unless given."
    )
    string: OffLength | None = Field(
        default=None,
        description="A string or rib line as it is tied, knot to knot. 1/8 in or 3 mm unless given.",
    )
