"""Rules of what stretches the net, the water it stands in, and what was measured of it as built."""

from __future__ import annotations

from collections.abc import Iterator

from net3d.spec.draft import Draft
from net3d.spec.faults import Fault, hoop_count, hoops
from net3d.spec.form import HoopForm
from net3d.spec.measures import known_diameter, known_frame, planned_mesh
from net3d.units import Tape

AT = {"mean": "the mean over the depth", "surface": "the surface"}
FAR_OFF = 1.25  # times the planned mesh: no gauge, water or dip is so far off


def _depth_is_known(draft: Draft) -> Iterator[Fault]:
    """Where currents are not meant at the net, the depth of the water says how fast it runs there."""
    if not draft.fine("water"):
        return
    water = draft.form.water
    if water.current_at != "net" and water.depth is None:
        message = (
            f"currents at {AT[water.current_at]} need the depth of the water: write depth, or current_at = "
            '"net" for what runs at the net itself'
        )
        yield Fault(("water", "current_at"), message)


def _water_covers_the_net(draft: Draft) -> Iterator[Fault]:
    """The law of speed over the depth is for a net that is under water."""
    if not draft.given("water", "depth") or draft.form.water.depth is None:
        return
    known = (_height(draft, number, hoop) for number, hoop in hoops(draft))
    tall = max((height for height in known if height is not None), default=0.0)
    if draft.form.water.depth < tall:
        size = Tape(draft.form.units).length(tall)
        message = f"the water does not cover hoops of {size}: it must be that deep or deeper"
        yield Fault(("water", "depth"), message)


def _height(draft: Draft, number: int, hoop: HoopForm) -> float | None:
    """How high a hoop stands [m], where that is known."""
    frame = known_frame(draft, ("hoop", number), hoop)
    return known_diameter(draft, ("hoop", number), hoop) if frame is None else frame.height


def _built_as_planned(draft: Draft) -> Iterator[Fault]:
    """A measure for each hoop, section and throat, and none that cannot be of the net that was planned."""
    built = getattr(draft.form, "built", None)
    count, throats = hoop_count(draft), getattr(draft.form, "throat", None)
    if built is None or count is None:
        return
    wanted = {
        "hoops": (count, "hoops"),
        "apart": (count - 1, "sections"),
        "throats": (len(throats or ()), "throats"),
    }
    for key, (least, what) in wanted.items():
        given = len(getattr(built, key, None) or ()) if draft.fine("built", key) else 0
        if given not in (0, least):
            yield Fault(("built", key), f"{given} measures are given for {least} {what}: write {least}")
    mesh, ten = planned_mesh(draft), built.ten_meshes if draft.given("built", "ten_meshes") else None
    if mesh is not None and ten is not None and not 1 / FAR_OFF < ten / (10 * mesh) < FAR_OFF:
        tape = Tape(draft.form.units)
        message = (
            f"{tape.length(ten)} is another net: ten meshes of {tape.mesh(mesh)} measure about "
            f"{tape.length(10 * mesh)}. Measure again, or put netting.stretched right"
        )
        yield Fault(("built", "ten_meshes"), message)


def _something_stretches(draft: Draft) -> Iterator[Fault]:
    """A net is stretched by a pull on its other end, or by the current."""
    rigging = getattr(draft.form, "rigging", None)
    if rigging is None or not draft.fine("rigging", "pull") or not draft.fine("rigging", "current"):
        return
    if not rigging.pull and rigging.current is None:
        message = (
            "nothing stretches the net: it must be more than zero, or name the current it is to stand in"
        )
        yield Fault(("rigging", "pull"), message)


SITE_RULES = (_depth_is_known, _water_covers_the_net, _built_as_planned, _something_stretches)
