"""Every kind of finding: what is proposed for it, and what its cause is where nothing helps."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from net3d.advice import body, doubts, escapes, frames, guides, river, throats
from net3d.advice.trying import Case, Way


@dataclass(frozen=True)
class Kind:
    """A kind of finding: its cause, and its proposer; without one the cause says why there is none."""

    cause: str
    proposed: Callable[[Case], Iterable[Way]] | None = None


_ROUND = (
    "It is a matter of the hoop itself, not of the spec: measure it again, or bend it rounder and flatter."
)
_TURNS = "How hoops that are not true are best turned takes many solves: net3d align SPEC finds it."
_REACH = (
    "The throat fills the room it has: it is too deep, or too wide too far back, for the hoops it stands in."
)
_FRAMES = (
    "A frame has corners, and netting on it hangs slack there unless lines at the corners bear the pull."
)
_HOOPS = "Hoops, meshes around and mesh size do not go together."
_RODS = (
    "Twine hardly stretches under so little pull, so rods are right within less than the tape shows: leave "
    "them out, or make them to slide."
)
_BODY = "The section has more or less netting than its hoops and the pull can hold open."

_MEASURE = "If it is not meant, measure it again and put it right in the spec; if it is, leave it."
_FISH_MESH = "A smaller mesh changes every count: begin with the mesh that holds your smallest fish."
_HOLE = "It is torn, and no key mends it: net3d mend SPEC tells how one piece of twine does."

KINDS: dict[str, Kind] = {
    "doubt-rod": Kind(_MEASURE, doubts.other_rod),
    "doubt-twine": Kind(_MEASURE),
    "doubt-fish": Kind(_FISH_MESH),
    "mesh-passes": Kind(_FISH_MESH),
    "mesh-wedges": Kind(_FISH_MESH),
    "local-fish": Kind(
        "What lets short fish go is a larger mesh or rings in the tail: [fish] and [limits] stay."
    ),
    "doubt-hoop": Kind(_MEASURE),
    "doubt-mouth": Kind(_MEASURE, doubts.turned_about),
    "doubt-units": Kind(_MEASURE, doubts.other_units),
    "settled": Kind("The parts pull against each other in a way that no one key undoes.", body.come_to_rest),
    "out-of-reach": Kind(_RODS, body.other_rods),
    "hanging-ratio-low": Kind(_HOOPS, body.hang_narrower),
    "hanging-ratio-high": Kind(_HOOPS, body.hang_wider),
    "decreases-moved": Kind(
        "The seat is hung so wide that its first rows can take no two meshes together.", body.lose_later
    ),
    "sheet-too-small": Kind(
        "Four panels are the most: take a larger sheet, or one whose fixed size lies the other way.",
        body.cut_smaller,
    ),
    "hoops-touch": Kind("What is tied past the hoops is too short.", body.part_hoops),
    "section-slack": Kind("Something beside the netting carries the pull past it.", body.tighten),
    "section-uneven": Kind("Weight or legs pull at few meshes.", body.even_out),
    "section-loose": Kind(_BODY, body.tighten),
    "rods-strain": Kind(_RODS, body.other_rods),
    "twine-overload": Kind(
        "Nothing that is sold bears it: it is stretched over more than it reaches.", body.stronger
    ),
    "no-string-fits": Kind(_REACH, throats.tie_strings),
    "strings-carry-pull": Kind("Its strings are too short.", throats.tie_strings),
    "strings-loose": Kind("Its strings are too long, or stand across the net.", throats.tie_strings),
    "throat-touches": Kind(_REACH, throats.clear),
    "strings-touch": Kind(
        "The strings lead to a hoop that is wider than what they must pass.", throats.clear
    ),
    "throat-near-body": Kind(_REACH, throats.clear),
    "throat-lies-on-body": Kind(_REACH, throats.clear),
    "throat-tip-past": Kind(_REACH, throats.reach_less),
    "room-behind-throat": Kind("The throat takes the room that the fish need.", throats.more_room),
    "opening-tight": Kind("The throat has too few meshes to open so wide.", throats.open_wider),
    "opening-wide": Kind(
        "A tip that lets the largest fish in lets the smallest out: fish of so many sizes need two nets.",
        throats.open_less,
    ),
    "tip-uneven": Kind("The strings and the meshes of the tip have no common measure.", throats.part_tip),
    "opening-narrow": Kind("Its strings draw the corners of the tip together.", throats.open_square),
    "strength-left": Kind("It is worn: break some bars for a surer figure, or knit new netting."),
    "hole-opening": Kind(_HOLE),
    "hole-rest": Kind(_HOLE),
    "hole-bar": Kind(_HOLE),
    "escape-tight": Kind("The frame is smaller than the netting around it hangs.", escapes.lace_longer),
    "escape-apart": Kind("What keeps others out keeps these fish out too.", escapes.set_apart),
    "escape-girth": Kind("What lets others out lets these fish out too: their girths overlap."),
    "escape-seam": Kind("What thread holds is found by trying it: no key of the spec makes it stronger."),
    "escape-floats": Kind("The netting is heavy for floats.", escapes.more_floats),
    "escape-trial": Kind("Trials hold for the water and the animals that they were made with."),
    "bow-measured": Kind(_ROUND),
    "built-length": Kind("The net is as it was tied: only measuring ten of its meshes says more."),
    "bow-slack": Kind(_TURNS),
    "bow-uneven": Kind(_TURNS),
    "frame-bend": Kind("Netting and lines bend the frame.", body.thicker_hoops),
    "frame-stress": Kind("Netting and lines bend the frame.", body.thicker_hoops),
    "frame-slack": Kind(_FRAMES, frames.rib_lines),
    "rib-lines": Kind("The netting is too short for its lines, however hung.", frames.shorter_lines),
    "local-stretched-mesh": Kind("The mesh is smaller than your own rule.", body.keep_mesh_rule),
    "local-bar": Kind("The bar is smaller than your own rule.", body.keep_mesh_rule),
    "local-largest-hoop": Kind("Hoops are larger than your own rule.", body.keep_hoop_rule),
    "local-length": Kind("The net is longer than your own rule.", body.keep_length_rule),
    "local-hoops": Kind("A throat or its strings need the hoop that is one too many.", body.keep_count_rule),
    "river-shape": Kind("The river is stronger than what holds the net: more pull, or less current."),
    "river-twine": Kind("The river pulls harder than twine that is sold bears.", river.river_twine),
    "hoop-buckling": Kind("The netting squeezes the hoop.", river.stiffer_hoop),
    "hoop-bow": Kind("The legs bend the hoop.", river.stiffer_hoop),
    "hoop-stress": Kind("The legs bend the hoop.", river.stiffer_hoop),
    "hoop-sprung": Kind(
        "A straight rod so thick does not bend so far: have it bent hot, steamed or rolled.",
        river.thinner_rod,
    ),
    "line-load": Kind("The river pulls harder than rope that is sold bears.", river.stronger_rope),
    "anchor-light": Kind("No anchor of the table holds so much on this bottom.", river.heavier_anchor),
    "guide-rest": Kind("Its lines and meshes find no place: look at its numbers again."),
    "guide-stands": Kind("The current is too strong for it: set it along the flow.", guides.more_floats),
    "guide-gap": Kind("Peg its lead line down: no leads that are carried hold it.", guides.heavier_leads),
    "guide-twine": Kind("The current pulls harder than its twine bears: take heavier twine."),
    "guide-line": Kind("The current pulls harder than rope that is sold bears.", guides.thicker_line),
    "guide-crossing": Kind("An anchor lies where the netting is to be drawn.", guides.driven_stakes),
    "guide-anchor": Kind("No anchor of the table holds so much on this bottom.", guides.heavier_anchor),
    "guide-stake": Kind("Drive a stake that holds more, or two.", guides.more_slack),
    "drag-range": Kind(
        "The published models differ so much: only a spring scale on the net says more, and no key."
    ),
    "current-range": Kind(
        "The net and its water lie outside of what was measured: no key brings them in.", river.open_water
    ),
}
