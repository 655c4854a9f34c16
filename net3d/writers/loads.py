"""Loads in the river as names and plain numbers in SI, for scripts."""

from __future__ import annotations

from typing import Any

from net3d.water.holding import anchor_needs
from net3d.water.loads import Loads


def load_records(rows: tuple[Loads, ...]) -> list[dict[str, Any]]:
    """Loads as names and plain numbers in SI."""
    return [
        {
            "current_mps": loads.current,
            "angle_rad": loads.standing.stream.angle,
            "drag_low_N": loads.drag_low,
            "drag_N": loads.drag,
            "drag_high_N": loads.drag_high,
            "drag_vector_N": loads.standing.drag.total.tolist(),
            "models": [
                {"name": m.name, "drag_N": m.drag, "counts": m.counts, "remark": m.remark, "source": m.source}
                for m in loads.models
            ],
            "state": loads.standing.state.value,
            "still": loads.standing.still,
            "length_m": loads.standing.length,
            "waist_diameter_m": loads.waist,
            "anchor_pull_N": loads.anchor_pull,
            "anchor_pull_high_N": loads.anchor_pull_high,
            "anchors": [
                {"type": need.holding.type, "bottom": need.holding.bottom, "weight_kg": need.weight}
                for need in anchor_needs(loads.anchor_pull_high, loads.line.rise if loads.line else 0.0)
            ],
            "line_tension_N": loads.line_tension,
            "line_needed_strength_N": loads.line.needed_strength if loads.line else None,
            "line_strength_N": loads.line.rope.strength if loads.line else None,
            "leg_tension_N": loads.leg_tension,
            "twine_part": loads.twine_part.name,
            "twine_tension_N": loads.twine_tension,
            "twine_share": loads.twine_share,
            "hoops": [
                {
                    "number": hoop.number,
                    "line_load_N_per_m": hoop.line_load,
                    "compression_N": hoop.compression,
                    "buckling_factor": hoop.buckling_factor,
                    "legs": hoop.legs.count if hoop.legs else None,
                    "bow_m": hoop.legs.bow if hoop.legs else None,
                    "stress_Pa": hoop.legs.stress if hoop.legs else None,
                }
                for hoop in loads.hoops
            ],
        }
        for loads in rows
    ]
