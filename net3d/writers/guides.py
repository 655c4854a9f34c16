"""Wings and leader as names and plain numbers in SI, for scripts."""

from __future__ import annotations

from typing import Any

from net3d.chain import Design
from net3d.plan.guides import GuidePlan, LinePlan
from net3d.water.guides import StandingWall


def guide_records(design: Design) -> list[dict[str, Any]]:
    """Each as it is planned, and how it stands in still water and in every current that the spec names."""
    standing = [design.guides, *(row.guides for row in design.loads)]
    return [
        _planned(guide)
        | {"standing": [_standing(one) for row in standing for one in row if one.wall.plan is guide]}
        for guide in design.plan.guides
    ]


def _planned(guide: GuidePlan) -> dict[str, Any]:
    return {
        "part": guide.part.name,
        "sides": list(guide.sides),
        "angle_degrees": guide.spec.angle,
        "bends": [{"after_meshes": bend.after, "angle_degrees": bend.angle} for bend in guide.spec.bends],
        "held_by": _held_by(guide),
        "meshes_long": guide.spec.long,
        "meshes_deep": guide.spec.deep,
        "stretched_mesh_m": guide.spec.stretched,
        "height_m": guide.height,
        "netting_weight_N": guide.weight,
        "twine": guide.twine.name,
        "twine_m": guide.twine_length,
        "twine_kg": guide.twine_mass,
        "knots": guide.knots,
        "float_line": _line(guide.float_line),
        "lead_line": _line(guide.lead_line),
    }


def _line(line: LinePlan) -> dict[str, Any]:
    return {
        "length_m": line.length,
        "hanging_ratio": line.hanging,
        "pieces": line.pieces,
        "each_in_water_N": line.each,
        "each_thick_m": line.thick,
        "each_long_m": line.long,
    }


def _held_by(guide: GuidePlan) -> dict[str, Any]:
    """What holds its far end and its bends."""
    anchor = guide.spec.anchor
    if guide.spec.pair:
        return {"what": "second net"}
    if anchor is None:
        return {"what": "stakes", "on_a_side": guide.holds}
    line = {"line_m": guide.anchor_line, "type": anchor.type, "weight_kg": anchor.weight}
    return {"what": "anchors", "on_a_side": guide.holds, **line}


def _standing(one: StandingWall) -> dict[str, Any]:
    return {
        "current_mps": one.current,
        "side": one.wall.side,
        "state": one.lying.state.value,
        "still": one.still,
        "meshes_solved": [one.wall.across, one.wall.deep],
        "height_m": one.height,
        "gap_m": one.gap,
        "sag_m": one.sag,
        "drag_vector_N": one.drag.tolist(),
        "mouth_pull_vector_N": one.mouth_pull.tolist(),
        "stake_pull_vector_N": one.stake_pull.tolist(),
        "handed_N": one.handed,
        "line_tension_N": one.line_tension,
        "twine_tension_N": one.twine_tension,
    }
