"""report.json: every number of a design in SI, for scripts."""

from __future__ import annotations

import json
import math
from typing import Any

from net3d.chain import Design
from net3d.checks.checks import Finding
from net3d.outline.frames import Frame
from net3d.outline.pose import Pose, bow_left
from net3d.plan.parts import has_anchor_line
from net3d.plan.plan import HoopPlan, SectionPlan, ThroatPlan
from net3d.shop.amounts import hoop_rod_length
from net3d.statics.shape import SectionShape, ThroatShape
from net3d.tables.kept import kept_of
from net3d.version import __version__
from net3d.writers.guides import guide_records
from net3d.writers.kept import kept_record
from net3d.writers.loads import load_records

FORMAT, VERSION = "net3d-report", 1


def report_of(design: Design) -> dict[str, Any]:
    """The report of a design: names and numbers only, SI, NaN and infinity as None.

    Keys are never renamed within a version; more may be added.
    """
    spec, plan, shape = design.spec, design.plan, design.shape
    kept = kept_of(design)
    report = {
        "format": FORMAT,
        "version": VERSION,
        "generator": f"net3d {__version__}",
        "title": spec.title,
        "settled": shape.state.value,
        "settled_sentence": shape.state.sentence,
        "residual": shape.residual,
        "iterations": shape.iterations,
        "symmetry": {"turns": shape.symmetry.turns, "mirrored": shape.symmetry.mirrored},
        "length_m": shape.length,
        "length_either_way_m": shape.length_follows.either_way(spec.tolerances),
        "knots": len(shape.knot_positions),
        "bars": len(design.netting.bars),
        "pull_N": design.netting.pull,
        "meshes_around": plan.meshes_around,
        "stretched_mesh_m": plan.stretched_mesh,
        "bar_m": plan.bar,
        "hoops": [_hoop(hoop, pose) for hoop, pose in zip(plan.hoops, shape.poses, strict=True)],
        "sections": [
            _section(planned, section) | {"either_way_m": section.follows.either_way(spec.tolerances)}
            for planned, section in zip(plan.sections, shape.sections, strict=True)
        ],
        "shortfalls_m": list(shape.shortfalls),
        "tail": {"meshes_deep": plan.tail_rows / 2, "end_m": shape.tail_end} if plan.tail_rows else None,
        "throats": [
            _throat(planned, throat)
            | {"string_either_way_m": throat.string_follows.either_way(spec.tolerances)}
            for planned, throat in zip(plan.throats, shape.throats, strict=False)
        ],
        "guides": guide_records(design),
        "materials": _materials(design),
        "loads": load_records(design.loads),
        **({"kept": kept_record(design.spec.fish, kept)} if design.spec.fish and kept else {}),
        "findings": [_finding(finding) for finding in design.findings],
    }
    return {key: finite(value) for key, value in report.items()}


def report_text(design: Design) -> str:
    """The report as JSON text: two spaces in, a newline at the end."""
    return json.dumps(report_of(design), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _frame(frame: Frame) -> dict[str, Any]:
    sizes = {"width_m": frame.width, "height_m": frame.height, "corner_m": frame.corner}
    sides = {"sides": list(frame.sides)} if frame.sides else {}
    return {"shape": frame.shape, **sizes, "girth_m": frame.girth, **sides}


def _hoop(hoop: HoopPlan, pose: Pose) -> dict[str, Any]:
    return {
        "number": hoop.number,
        "outside_diameter_m": hoop.outside_diameter,
        **({} if hoop.frame is None else {"frame": _frame(hoop.frame)}),
        "rod_diameter_m": hoop.rod_diameter,
        "material": hoop.material,
        "knot_circle_diameter_m": hoop.knot_circle_diameter,
        "knot_row": hoop.knot_row,
        "pitch_m": hoop.pitch,
        "hanging_ratio": hoop.hanging_ratio,
        "depth_ratio": hoop.depth_ratio,
        "position_m": pose.place,
        "bow_m": hoop.outline.bow.height,
        "bow_as_it_stands_m": bow_left(hoop.outline, pose),
        "half_pitch_off": hoop.half_pitch_off,
        "mark_offset_m": hoop.mark_offset,
        "marks_m": hoop.marks.tolist(),
        "stepped_pitch_m": hoop.stepped_pitch,
        "stepping_error_m": hoop.stepping_error,
    }


def _section(planned: SectionPlan, section: SectionShape) -> dict[str, Any]:
    return {
        "from_hoop": section.from_hoop,
        "to_hoop": section.to_hoop,
        "meshes_deep": planned.meshes_deep,
        "spacing_m": planned.spacing,
        "length_m": section.length,
        "waist_diameter_m": section.waist_diameter,
        "tension_min_N": section.tension_min,
        "tension_mean_N": section.tension_mean,
        "tension_max_N": section.tension_max,
        "full_share_N": section.full_share,
        "body_share": section.body_share,
        "slack_share": section.slack_share,
        "looseness_max": section.looseness_max,
        "looseness_twentieth": section.looseness_twentieth,
    }


def _throat(planned: ThroatPlan, throat: ThroatShape) -> dict[str, Any]:
    strings = planned.strings
    return {
        "number": throat.number,
        "hoop": throat.hoop,
        "meshes_around": planned.piece.rows[0].count,
        "tip_meshes": planned.tip,
        "meshes_deep": len(planned.piece.changes) / 2,
        "meshes_lost": [-change.gain for change in planned.piece.changes],
        "tip_position_m": throat.tip_position,
        "length_m": throat.length,
        "strings_to_hoop": strings.to_hoop,
        "string_points": strings.points,
        "string_length_m": throat.string_length,
        "string_length_to_tie_m": throat.strings.to_tie,
        "string_length_per_mesh": throat.string_follows.meshes / planned.stretched_mesh,
        "string_length_tight_m": throat.strings.tight,
        "string_length_loose_m": throat.strings.loose,
        "string_tension_N": throat.string_tension,
        "string_tension_max_N": throat.string_tension_max,
        "pull_share": throat.pull_share,
        "opening_girth_m": throat.opening_girth,
        "opening_clear_m": throat.opening_clear,
        "clearance_m": throat.clearance,
        "slack_share": throat.slack_share,
        "looseness_max": throat.looseness_max,
        "lying_share": throat.lying_share,
        "passages": [
            {"part": p.part.name, "past": p.place, "radius_m": p.radius, "room_m": p.room}
            for p in throat.passages
        ],
        "twine": planned.twine.name,
        "twine_m": planned.twine_length,
        "twine_kg": planned.twine_mass,
        "knots": planned.knots,
    }


def _materials(design: Design) -> dict[str, Any]:
    spec, plan = design.spec, design.plan
    bridle = spec.rigging.bridle
    return {
        "twine": plan.twine.name,
        "twine_source": plan.twine.source,
        "twine_diameter_m": plan.twine.diameter,
        "twine_m": plan.twine_length,
        "twine_kg": plan.twine_mass,
        "knots": plan.knots,
        "rods_m": [hoop_rod_length(hoop) for hoop in plan.hoops],
        "bridle_m": bridle.legs * bridle.length if bridle else 0.0,
        "anchor_line_m": spec.rigging.line if has_anchor_line(spec, plan) else 0.0,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "level": finding.level.value,
        "where": finding.where,
        "part": finding.part.name if finding.part else None,
        "message": finding.message,
        "value": finding.value,
        "limit": finding.limit,
        "source": finding.source,
        "cause": finding.cause,
        "remedies": [
            {"number": one.number, "changes": dict(one.changes), "also": list(one.also)}
            for one in finding.remedies
        ],
    }


def finite(value: Any) -> Any:  # noqa: ANN401
    """JSON has no NaN and no infinity: both become null, however deep they stand."""
    if isinstance(value, dict):
        return {key: finite(part) for key, part in value.items()}
    if isinstance(value, list):
        return [finite(part) for part in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value
