"""Tension of every bar as a byte on a scale that the page's legend shows."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

import numpy as np

from net3d.chain import Design
from net3d.netting.netting import Bools, Floats, Ints
from net3d.netting.sorting import quantile
from net3d.parts import Part
from net3d.statics.pulls import SLACK, PartPulls
from net3d.units import read_quantity, three_figures

FULL_BYTE, EASE_BYTE, SLACK_BYTE = 250, 254, 255
NICE = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0)
TIGHTEST_SHOWN = 0.995  # of the twine's bars lie within the scale; the few above it get its last colour


@dataclass(frozen=True)
class Legend:
    """The scale of the tensions: its unit, ticks from 0 to the top, and how many bars are slack.

    Body and strings are judged by that; the netting of a throat is not, most of which hangs at ease.
    """

    unit: str
    ticks: tuple[str, ...]
    slack: int
    bars: int
    ease: int
    throats: int


def scale_top(design: Design) -> float:
    """Tension at the top of the scale, a round number in the spec's units [N]."""
    pulls = design.shape.bar_tensions[_twine(design)]
    most = design.spec.tape.number(quantile(pulls, TIGHTEST_SHOWN), "force")
    power = 10.0 ** floor(log10(max(most, 1e-6)))
    nice = next(step * power for step in NICE if step * power >= most)
    return read_quantity(float(f"{nice:.3g}"), "force", design.spec.units)


def pull_bytes(design: Design, top: float) -> Ints:
    """A byte for every bar (m,): 0 to 250 up to ``top`` [N], 255 for slack twine; ropes are never slack.

    254 is for netting of a throat that carries next to nothing, as most of it does.
    """
    steps = np.rint(FULL_BYTE * design.shape.bar_tensions / top).clip(0, FULL_BYTE).astype(np.int64)
    slack = slack_bars(design)
    steps[slack] = np.where(_throats(design)[slack], EASE_BYTE, SLACK_BYTE)
    return steps


def slack_bars(design: Design) -> Ints:
    """Numbers of the bars that carry less than a fiftieth of their full share.

    Of a throat and its strings, the full share is an even part of what the spec has its strings pull.
    """
    throats = {
        part: throat.strings.share
        for throat in design.plan.throats
        for part in (throat.part, throat.strings_part)
    }
    parts = [part for part in design.netting.parts if part.kind.twine and not part.kind.guide]
    return np.concatenate([_slack(design, part, throats.get(part, 1.0)) for part in parts])


def legend_of(design: Design, top: float) -> Legend:
    """The scale up to a pull [N] in the spec's units, with three ticks."""
    tape = design.spec.tape
    most = tape.number(top, "force")
    ticks = tuple(three_figures(most * share) for share in (0.0, 0.5, 1.0))
    throats = _throats(design)
    ease = int(throats[slack_bars(design)].sum())
    slack, twine, netting = len(slack_bars(design)) - ease, int(_twine(design).sum()), int(throats.sum())
    return Legend(tape.unit("force"), ticks, slack, twine - netting, ease, netting)


def _twine(design: Design) -> Bools:
    return design.netting.bars_that(lambda kind: kind.twine and not kind.guide)


def _throats(design: Design) -> Bools:
    return design.netting.bars_that(lambda kind: kind.throat and kind.netting)


def _slack(design: Design, part: Part, share: float) -> Ints:
    netting, shape = design.netting, design.shape
    bars = netting.bars_of(part)
    spans: Floats = np.subtract(*shape.knot_positions[netting.bars[bars][:, ::-1].T])
    lengths = np.maximum(np.linalg.norm(spans, axis=1), np.finfo(float).tiny)
    pulls = PartPulls(
        bars=bars,
        rows=netting.bar_rows[bars],
        tensions=shape.bar_tensions[bars],
        cosines=spans[:, 0] / lengths,
        looseness=1.0 - lengths / shape.bar_rest_lengths[bars],
    )
    return bars[pulls.tensions < SLACK * pulls.even_shares(share * netting.pull)]
