"""The form's table of the net as it was built: what the maker measures on it."""

from pydantic import Field

from net3d.spec.quantities import Answer, Length
from net3d.spec.table import Table


class BuiltForm(Table):
    """What was measured on the finished net: each takes the place of what was planned."""

    ten_meshes: Length | None = Field(
        default=None, description="Ten meshes of the body, stretched: from a knot to the tenth after it."
    )
    throats: tuple[Length, ...] = Field(
        default=(),
        description="Ten meshes of each throat, likewise. As many parts off as the body unless given.",
    )
    wet: Answer = Field(default=False, description="Whether meshes were measured wet. false unless given.")
    hoops: tuple[Length, ...] = Field(
        default=(), description="A tape around the outside of each hoop as it is sewn in, mouth first."
    )
    length: Length | None = Field(
        default=None, description="From the first hoop to the last, hung under bench_pull."
    )
    apart: tuple[Length, ...] = Field(
        default=(), description="From each hoop to the next, hung likewise: one less than there are hoops."
    )
