"""Whether the meshes keep the fish that are wanted, and let go those that must not be kept."""

from __future__ import annotations

from net3d.catch.kept import Kept, kept_by
from net3d.checks.checks import Finding
from net3d.checks.grading import graded
from net3d.netting.netting import Netting
from net3d.outline.girth import diameter_of
from net3d.plan.plan import Plan
from net3d.spec.spec import FishSpec, NetSpec
from net3d.statics.shape import Shape

JUST_UNDER = 0.9  # of the shortest fish that may be kept: those that are least easily told by eye
NEARLY_ALL = 0.95  # of the fish at a length
RINGS = "Put them back alive at once; a ring of {} inside in the tail lets them go by themselves."
SEEN = {True: 0.0254 / 8, False: 0.001}  # steps to which rings are made [m]


def check_kept(spec: NetSpec, plan: Plan, netting: Netting, shape: Shape) -> list[Finding]:
    """What the meshes do with the fish of the spec; none where it names none."""
    kept, fish = kept_by(spec, plan, netting, shape), spec.fish
    if fish is None or not kept:
        return []
    return [
        *([] if 2 * spec.netting.stretched > fish.girth_min else [_passing(spec, fish, kept[0])]),
        *(_passing(spec, fish, one) for one in kept if _of_throat(one)),
        _wedging(spec, fish, kept[0]),
        *_too_short(spec, fish, kept),
    ]


def _of_throat(one: Kept) -> bool:
    """Whether they are a throat's meshes, by which fish that are in get out past its tip."""
    return one.opening.part is not None and one.opening.part.kind.throat and not one.opening.inward


def _passing(spec: NetSpec, fish: FishSpec, meshes: Kept) -> Finding:
    """What becomes of the smallest fish that are wanted, in meshes of the body or a throat."""
    of = f" of {meshes.opening.part.place}" if meshes.opening.part else ""
    struggling, likely, _ = (1.0 - float(share) for share in meshes.shares(fish.lengths[0]))
    size = told(spec, fish, fish.lengths[0])
    stay = spec.tape.rough(meshes.length_at(NEARLY_ALL, meshes.opening.soft))
    return graded(
        "mesh-passes",
        meshes.opening.part or "netting",
        likely,
        spec.limits.threshold("mesh_passes"),
        (
            f"The meshes{of} keep your smallest fish, {size}: {likely:.0%} get through, {struggling:.0%} of "
            "those that struggle.",
            f"Of your smallest fish, {size}, {likely:.0%} get through the meshes{of}, {struggling:.0%} where "
            f"they struggle. Nearly all stay from {stay} on.",
        ),
    )


def _wedging(spec: NetSpec, fish: FishSpec, meshes: Kept) -> Finding:
    share = float(meshes.wedged(fish.lengths[0]))
    size = told(spec, fish, fish.lengths[0])
    head = spec.tape.rough(meshes.length_at(0.5, meshes.opening.soft / fish.body.head))
    return graded(
        "mesh-wedges",
        "netting",
        share,
        spec.limits.threshold("mesh_wedges"),
        (
            f"Of your smallest fish, {size}, {share:.0%} would wedge in the meshes by the head.",
            f"Of your smallest fish, {size}, {share:.0%} wedge in the meshes by the head, which hurts them; "
            f"heads go in up to {head}.",
        ),
    )


def _too_short(spec: NetSpec, fish: FishSpec, kept: tuple[Kept, ...]) -> list[Finding]:
    """Fish that the maker's local rules want out: the widest way out is what counts."""
    shortest = spec.limits.fish_min
    if shortest is None or fish.by_girth:
        return []
    ways = [one for one in kept if not one.opening.inward]
    share = min(float(one.shares(JUST_UNDER * shortest)[1]) for one in ways)
    widest = max(ways, key=lambda one: one.opening.soft)
    out = spec.tape.rough(widest.length_at(0.5, widest.opening.soft))
    message = (
        f"Your own limit is fish of {spec.tape.length(shortest)}. Of fish a tenth shorter {share:.0%} stay "
        f"in the net; half get out at {out}."
    )
    limit = spec.limits.threshold("short_fish")
    finding = graded(
        "local-fish", "net", share, limit, (message, f"{message} {RINGS.format(_ring(spec, fish))}")
    )
    return [finding]


def _ring(spec: NetSpec, fish: FishSpec) -> str:
    """Inside diameter of a ring through which half of the fish at the limit pass."""
    girth = float(fish.body.girth(spec.limits.fish_min or 0.0))
    return spec.tape.length(diameter_of(girth), SEEN[spec.tape.in_inches])


def told(spec: NetSpec, fish: FishSpec, size: float) -> str:
    """A size of fish [m] in words: their length, or their girth where that alone is known."""
    return f"{spec.tape.length(size)} {'around' if fish.by_girth else 'long'}"
