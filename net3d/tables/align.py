"""The align sheets: what turning bowed hoops does to the net, and how each hoop is best sewn in."""

from __future__ import annotations

from math import atan2, hypot
from typing import TYPE_CHECKING

from net3d.outline.waves import Waves
from net3d.plan.plan import HoopPlan
from net3d.spec.spec import NetSpec
from net3d.tables.sheet import Cell, Column, Note, Sheet, noted

if TYPE_CHECKING:  # the bench tables need no solver, and this would load it
    from net3d.align.estimate import Turn
    from net3d.align.search import Alignment, Trial

HARDLY = 0.05  # part of the tightest bar's pull that a change saves to be worth the trouble
FLAT_ENOUGH = 1e-3  # m; a tape on a floor reads a gap no better

SCOPE = (
    (
        "Unevenness is the root mean square of (tension over its section's mean, less 1) over all bars of "
        "the body: 0 where all pull alike. Looseness is what one bar in twenty exceeds. Throats are left out."
        " Ways are judged by the tightest bar, as net3d check does."
    ),
    (
        "Ways are ranked as if the lines of twine did not hold one another at their knots, which is right "
        "within about a tenth; those above are solved in full. One better by less may not be among them."
    ),
)
NOT_EXACT = (
    "With so many hoops not every order was ranked: at each place the likeliest ways so far were followed."
)

BENT = (
    Column("bow", "bow, lowest to highest", "reading"),
    Column("gaps_off_waves", "gaps off its waves (rms)", "reading"),
)
TURNED = (
    Column("along_outside", "along the outside", "reading"),
    Column("turned_over", "turned over"),
)


def align_sheet(spec: NetSpec, found: Alignment) -> Sheet:
    """Marks in line, the best ways found and the worst tried, side by side; one row each."""
    columns = (
        Column("way", "way"),
        *((Column("hoops", "hoops, place by place"),) if found.reordered else ()),
        Column("turns", "turns, place by place (meshes)"),
        Column("tension_ratio", "largest to mean tension"),
        Column("slack_share", "bars slack", "share"),
        Column("looseness", "bars too long by", "share"),
        Column("unevenness", "spread of the pull", "share"),
    )
    rows = tuple(
        (
            name,
            *((", ".join(_names(spec, trial)),) if found.reordered else ()),
            " ".join(_turn_text(turn) for turn in trial.way.turns),
            trial.tension_ratio,
            trial.slack_share,
            max(trial.looseness, 0.0),
            trial.unevenness,
        )
        for name, trial in _ways(found)
    )
    notes = (
        *noted("fact", f"{found.tried} ways were solved in full."),
        *noted("how", *SCOPE, *(() if found.exact else (NOT_EXACT,))),
    )
    title = f"{spec.title}: bowed hoops sewn in {len(rows)} ways"
    return Sheet("align", title, spec.tape, columns, rows, notes)


def _ways(found: Alignment) -> list[tuple[str, Trial]]:
    if found.reordered is None:
        best = [("best found", found.best)]
    else:
        best = [("best found, places kept", found.best), ("best found, places changed", found.reordered)]
    return [("marks in line", found.in_line), *best, ("worst tried", found.worst)]


def turns_sheet(spec: NetSpec, found: Alignment) -> Sheet:
    """How far each hoop is turned, best and worst, or which goes where; one row a place. Cells are SI [m]."""
    columns, rows = _places(spec, found.reordered) if found.reordered else _best_and_worst(found)
    title = "which hoop goes where, and how it is turned" if found.reordered else "how to turn each hoop"
    return Sheet("turns", f"{spec.title}: {title}", spec.tape, columns, rows, _advice(spec, found))


def _best_and_worst(found: Alignment) -> tuple[tuple[Column, ...], tuple[tuple[Cell, ...], ...]]:
    columns = (
        Column("place", "hoop"),
        *BENT,
        Column("meshes", "best: meshes clockwise"),
        *TURNED,
        Column("worst_meshes", "worst: meshes clockwise"),
        Column("worst_along_outside", "along its outside", "reading"),
    )
    hoops = found.best.hoops
    rows = tuple(
        (*_turned(hoop, best), worst.meshes, worst.meshes * hoop.pitch)
        for hoop, best, worst in zip(hoops, found.best.way.turns, found.worst.way.turns, strict=True)
    )
    return columns, rows


def _places(spec: NetSpec, best: Trial) -> tuple[tuple[Column, ...], tuple[tuple[Cell, ...], ...]]:
    columns = (
        Column("place", "place"),
        Column("hoop", "hoop"),
        Column("outside_diameter", "outside diameter", "reading"),
        *BENT,
        Column("meshes", "meshes clockwise"),
        *TURNED,
    )
    rows = tuple(
        (hoop.number, name, hoop.outside_diameter, *_turned(hoop, turn)[1:])
        for hoop, name, turn in zip(best.hoops, _names(spec, best), best.way.turns, strict=True)
    )
    return columns, rows


def _names(spec: NetSpec, trial: Trial) -> list[str]:
    every = (*spec.hoops, *spec.pile)
    return [every[number].name for number in trial.way.order]


def _turned(hoop: HoopPlan, turn: Turn) -> tuple[Cell, ...]:
    far = turn.meshes * hoop.pitch
    turned_over = "yes" if turn.flipped else "no"
    return (hoop.number, hoop.outline.bow.height, hoop.outline.bow.residual, turn.meshes, far, turned_over)


def _turn_text(turn: Turn) -> str:
    return f"{turn.meshes}f" if turn.flipped else str(turn.meshes)


def _advice(spec: NetSpec, found: Alignment) -> tuple[Note, ...]:
    best = found.reordered or found.best
    mouth = best.hoops[0]  # it is never turned
    flips = any(turn.flipped for _, trial in _ways(found) for turn in trial.way.turns)
    turned = ("An f after a turn: the hoop is turned over first.",) if flips else ()
    where = (
        "Turns are clockwise as seen from the mouth, from the top to the hoop's own reference mark; "
        "distances are measured with a tape along the outside of the hoop."
    )
    return (
        *noted("how", where, *turned),
        *noted("fact", _verdict(found, best)),
        *noted("how", *_to_type(spec, best), *_bridle(spec, mouth)),
    )


def _verdict(found: Alignment, liked: Trial) -> str:
    line, best, worst = (trial.tension_ratio for trial in (found.in_line, liked, found.worst))
    if worst <= (1 + HARDLY) * best:
        return (
            "It hardly matters how these hoops are sewn in: the tightest bar carries "
            f"{line:.1f} times the mean with the marks in line."
        )
    chance = f"{worst:.1f} in the worst way tried"
    if line <= (1 + HARDLY) * best:
        return (
            f"Keep the marks in line: the tightest bar carries {line:.1f} times its section's mean, hardly "
            f"less in any way tried, and {chance}."
        )
    return (
        f"{_deed(found)} as best found takes {1 - best / line:.0%} off the tightest bar: it carries "
        f"{best:.1f} times its section's mean against {line:.1f} with the marks in line and {chance}."
    )


def _deed(found: Alignment) -> str:
    return "Placing and turning the hoops" if found.reordered else "Turning the hoops"


def _to_type(spec: NetSpec, best: Trial) -> tuple[str, ...]:
    """The keys of every hoop that is not left as it is, and whose table goes where."""
    keys = [
        f"hoop {number}: turn = {turn.meshes}" + (", flip = true" if turn.flipped else "")
        for number, turn in enumerate(best.way.turns, start=1)
        if turn.meshes or turn.flipped
    ]
    names = enumerate(_names(spec, best), start=1)
    moved = [f"{name} as hoop {place}" for place, name in names if best.way.order[place - 1] != place - 1]
    order = (f"Move the tables of the hoops: {', '.join(moved)}.",) if moved else ()
    if not keys:
        return (*order, "Type no turn into the spec for it, and take out any turn and flip that stand there.")
    return (
        *order,
        f"To keep the best found, type into the [[hoop]] tables {'; '.join(keys)}. Take turn and flip out of "
        "the other hoops; hoops that share a table with repeat need one each.",
    )


def _bridle(spec: NetSpec, mouth: HoopPlan) -> tuple[str, ...]:
    """Where the bridle's legs go next season, so that they bend the mouth hoop back."""
    bridle = spec.rigging.bridle
    shift = None if bridle is None else bridle_shift(mouth.outline.bow, bridle.legs)
    if bridle is None or shift is None:
        return ()
    far = spec.tape.length(mouth.outline.length(abs(shift)))
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
    ``a cos(n t) + b sin(n t)`` stands farthest back at ``t = atan2(b, a) / n``. None where the bow
    has no such wave, or one too small to measure. Source: geometry.

    >>> bridle_shift(Waves((2,), (-0.01,), (0.0,)), 2), bridle_shift(Waves((2,), (0.01,), (0.0,)), 3)
    (1.5707963267948966, None)
    """
    for number, cosine, sine in zip(bow.numbers, bow.cosines, bow.sines, strict=True):
        if number == legs and hypot(cosine, sine) >= FLAT_ENOUGH:
            return atan2(sine, cosine) / number
    return None
