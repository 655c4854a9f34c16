"""What a 3D file says of its parts beside their surfaces: sizes in metres, for programs that open it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from net3d.chain import Design
from net3d.parts import Part
from net3d.plan.plan import HoopPlan
from net3d.units import Tape


def about_parts(design: Design) -> dict[str, dict[str, Any]]:
    """Sizes [m] by the names of the parts, and under ``net`` what is said of all of it."""
    plan, shape = design.plan, design.shape
    net = {
        "title": design.spec.title,
        "units": "m",
        "spec_units": design.spec.units,
        "length_m": round(shape.length, 6),
        "outside_diameters_m": [round(hoop.widest, 6) for hoop in plan.hoops],
        "stretched_mesh_m": round(plan.stretched_mesh, 6),
    }
    places = shape.hoop_positions.tolist()
    hoops = {Part.hoop(h.number).name: _hoop(h, place) for h, place in zip(plan.hoops, places, strict=True)}
    netting = {part.part.name: {"stretched_mesh_m": round(plan.stretched_mesh, 6)} for part in plan.sections}
    throats = {part.part.name: {"stretched_mesh_m": round(2 * part.bar, 6)} for part in plan.throats}
    return {"net": net, **hoops, **netting, **throats}


def node_name(part: str, whole: float = 0.0) -> str:
    """The name of a part's node, with the length [m] of a line of which only a stub is drawn.

    >>> node_name("anchor-line", 3.0), node_name("hoop-1")
    ('anchor-line (3.000 m)', 'hoop-1')
    """
    return f"{part} ({Tape('m').length(whole)})" if whole else part


def said_of(part: str, about: Mapping[str, dict[str, Any]], whole: float = 0.0) -> dict[str, Any]:
    """What is said of a part, with the length [m] of a line of which only a stub is drawn.

    >>> said_of("anchor-line", {}, 3.0)
    {'length_m': 3.0, 'drawn': 'a stub'}
    """
    return about.get(part, {}) | ({"length_m": round(whole, 6), "drawn": "a stub"} if whole else {})


def _hoop(hoop: HoopPlan, place: float) -> dict[str, float]:
    frame = hoop.frame
    across = {"outside_diameter_m": hoop.outside_diameter}
    if frame is not None:
        across = {"outside_width_m": frame.width, "outside_height_m": frame.height}
    return {
        **{key: round(size, 6) for key, size in across.items()},
        "rod_diameter_m": round(hoop.rod_diameter, 6),
        "behind_the_mouth_m": round(place, 6),
    }
