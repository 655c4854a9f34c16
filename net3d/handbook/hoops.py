"""Hoop materials."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from net3d.handbook.table import read_table


@dataclass(frozen=True)
class HoopMaterial:
    """What a hoop is bent from."""

    name: str
    density: float  # kg/m^3
    modulus: float  # bending stiffness E, along the rod [Pa]
    source: str
    shear_modulus: float  # G, for twisting [Pa]
    strength: float  # in bending: where it breaks, or yields [Pa]
    wall_share: float  # thickness of its wall over its diameter; 0.5 for a solid rod
    bent_hot: bool  # whether it can be bent hot, steamed or rolled to stay bent


@cache
def hoop_materials() -> dict[str, HoopMaterial]:
    """The hoop materials by name.

    Examples
    --------
    >>> hoop_materials()["steel"].density
    7850.0
    """
    return {
        row["material"]: HoopMaterial(
            row["material"],
            float(row["density_kg_m3"]),
            float(row["modulus_GPa"]) * 1e9,
            row["source"],
            float(row["shear_modulus_GPa"]) * 1e9,
            float(row["strength_MPa"]) * 1e6,
            float(row["wall_share"]),
            row["bent_hot"] == "yes",
        )
        for row in read_table("hoop_materials")
    }


def other_names() -> dict[str, str]:
    """Other spellings, each with the name the table goes by.

    Examples
    --------
    >>> other_names()["fiberglass"]
    'fibreglass'
    """
    rows = read_table("hoop_materials")
    return {other: row["material"] for row in rows for other in row["also"].split("|") if other}
