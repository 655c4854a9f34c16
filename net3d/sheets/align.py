"""The align sheets: what turning bowed hoops does to the net, and how each hoop is best sewn in."""

from __future__ import annotations

from math import atan2, hypot, pi
from typing import TYPE_CHECKING

from net3d.plan.bow import Waves
from net3d.plan.plan import HoopPlan, Plan
from net3d.sheets.sheets import Column, Sheet
from net3d.spec.spec import NetSpec
from net3d.units import format_length

if TYPE_CHECKING:  # the bench tables need no solver, and this would load it
    from net3d.align.estimate import Turn
    from net3d.align.search import Alignment, Trial

HARDLY = 0.05  # part of the unevenness that a change must save to be worth the trouble
FLAT_ENOUGH = 1e-3  # m; a tape on a floor reads a gap no better

SCOPE = (
    (
        "Unevenness is the root mean square of (tension over its section's mean, less 1) over all bars of "
        "the body: 0 where all pull alike. Looseness is what one bar in twenty exceeds. Throats are left out."
    ),
    (
        "Turns are ranked by an estimate that holds for small bows and does not know ovals; the ways above "
        "are solved in full. With large bows a better way, or a worse one, may not be among those tried."
    ),
)


def align_sheet(spec: NetSpec, found: Alignment) -> Sheet:
    """Marks in line, the best way found and the worst tried, side by side; one row each."""
    columns = (
        Column("way"),
        Column("turns, hoop by hoop (meshes)"),
        Column("largest to mean tension"),
        Column("slack share"),
        Column("looseness"),
        Column("unevenness"),
    )
    ways = (("marks in line", found.in_line), ("best found", found.best), ("worst tried", found.worst))
    rows = tuple(
        (
            name,
            " ".join(_turn_text(turn) for turn in trial.turns),
            trial.tension_ratio,
            trial.slack_share,
            max(trial.looseness, 0.0),
            trial.unevenness,
        )
        for name, trial in ways
    )
    notes = (f"{found.tried} ways were solved in full.", *SCOPE)
    return Sheet("align", f"{spec.title}: bowed hoops turned three ways", columns, rows, notes)


def turns_sheet(spec: NetSpec, plan: Plan, found: Alignment) -> Sheet:
    """How far each hoop is turned, best and worst; one row a hoop. Cells are SI [m]."""
    units, step = spec.units, spec.marking.round
    columns = (
        Column("hoop"),
        Column("bow, lowest to highest", units, step),
        Column("best: meshes clockwise"),
        Column("along the outside", units, step),
        Column("turned over"),
        Column("worst: meshes clockwise"),
        Column("along its outside", units, step),
    )
    rows = tuple(
        (
            hoop.number,
            hoop.bow.height,
            best.meshes,
            best.meshes * hoop.pitch,
            "yes" if best.flipped else "no",
            worst.meshes,
            worst.meshes * hoop.pitch,
        )
        for hoop, best, worst in zip(plan.hoops, found.best.turns, found.worst.turns, strict=True)
    )
    return Sheet(
        "turns", f"{spec.title}: how to turn each hoop", columns, rows, _advice(spec, plan.hoops[0], found)
    )


def _turn_text(turn: Turn) -> str:
    return f"{turn.meshes}f" if turn.flipped else str(turn.meshes)


def _advice(spec: NetSpec, mouth: HoopPlan, found: Alignment) -> tuple[str, ...]:
    flips = any(turn.flipped for trial in (found.best, found.worst) for turn in trial.turns)
    turned = ("An f after a turn: the hoop is turned over first.",) if flips else ()
    where = (
        "Turns are clockwise as seen from the mouth, from the top to the hoop's own reference mark; "
        "distances are measured with a tape along the outside of the hoop."
    )
    return (
        where,
        *turned,
        _verdict(found),
        *_to_type(found.best),
        *_bridle(spec, mouth),
    )


def _verdict(found: Alignment) -> str:
    line, best, worst = (trial.unevenness for trial in (found.in_line, found.best, found.worst))
    ratios = f"{found.in_line.tension_ratio:.1f} times the mean with the marks in line"
    if worst <= (1 + HARDLY) * best:
        return f"It hardly matters how these hoops are turned: the tightest bar carries {ratios}."
    chance = f"{found.worst.tension_ratio:.1f} times in the worst way tried"
    if line <= (1 + HARDLY) * best:
        return (
            f"Keep the marks in line: no way that was tried is much better. The tightest bar carries "
            f"{ratios}, and {chance}."
        )
    return (
        f"Turning the hoops as best found takes {1 - best / line:.0%} off the unevenness: the tightest bar "
        f"carries {found.best.tension_ratio:.1f} times the mean, against {ratios} and {chance}."
    )


def _to_type(best: Trial) -> tuple[str, ...]:
    """The keys of every hoop that is not left as it is."""
    keys = [
        f"hoop {number}: turn = {turn.meshes}" + (", flip = true" if turn.flipped else "")
        for number, turn in enumerate(best.turns, start=1)
        if turn.meshes or turn.flipped
    ]
    if not keys:
        return ("Type nothing into the spec for it, and take out any turn and flip that stand there.",)
    return (
        f"To keep the best found, type into the [[hoop]] tables {'; '.join(keys)}. Take turn and flip out of "
        "the other hoops; hoops that share a table with repeat need one each.",
    )


def _bridle(spec: NetSpec, mouth: HoopPlan) -> tuple[str, ...]:
    """Where the bridle's legs go next season, so that they bend the mouth hoop back."""
    bridle = spec.rigging.bridle
    shift = None if bridle is None else bridle_shift(mouth.bow, bridle.legs)
    if bridle is None or shift is None:
        return ()
    far = format_length(abs(shift) / (2 * pi) * mouth.circumference, spec.units, spec.marking.round)
    if abs(shift) < mouth.row.pitch / 2:
        return ("Leave the bridle's legs where they are: they pull where hoop 1 stands back from the mouth.",)
    way = "clockwise" if shift >= 0 else "counter-clockwise"
    return (
        f"Next season move the bridle's {bridle.legs} legs {far} {way} along hoop 1, counted from one at the "
        "top: there it stands back from the mouth, and a hoop bends toward the mouth where a leg pulls and "
        "back between the legs, so the legs straighten it (common practice, no source).",
    )


def bridle_shift(bow: Waves, legs: int) -> float | None:
    """Angle from the top to the nearest place where a bow of as many waves as legs stands back [rad].

    A leg pulls its place of the hoop toward the mouth, so that ``legs`` legs bend it in as many waves;
    ``a cos(n t) + b sin(n t)`` stands farthest back at ``t = atan2(b, a) / n``. None where the bow has no
    such wave, or one too small to measure.

    >>> bridle_shift(Waves((2,), (-0.01,), (0.0,)), 2), bridle_shift(Waves((2,), (0.01,), (0.0,)), 3)
    (1.5707963267948966, None)
    """
    for number, cosine, sine in zip(bow.numbers, bow.cosines, bow.sines, strict=True):
        if number == legs and hypot(cosine, sine) >= FLAT_ENOUGH:
            return atan2(sine, cosine) / number
    return None
