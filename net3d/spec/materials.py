"""What rods are bent from, as it is typed."""

from __future__ import annotations

from typing import Annotated

from net3d.handbook.hoops import hoop_materials, other_names
from net3d.spec.quantities import Choice

Material = Annotated[str, Choice(lambda: tuple(hoop_materials()), other_names)]
