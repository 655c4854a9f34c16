"""What the bars of one part of a net pull, and how evenly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.netting import Floats, Ints, Netting
from net3d.parts import Part
from net3d.statics.balance import bar_spans
from net3d.statics.equilibrium import Equilibrium

FLAT = 1e-12  # sum of a row's cosines: netting that lies flat around has no share in an axial pull
SLACK = 0.02  # of its full share: below it a bar is slack


@dataclass(frozen=True, eq=False)
class PartPulls:
    """The bars (k,) of a part: row, tension [N], cosine of the angle to the axis, looseness."""

    bars: Ints
    rows: Ints
    tensions: Floats
    cosines: Floats  # toward the tail above 0
    looseness: Floats  # 1 - |x_i - x_j| / L

    def axial(self) -> float:
        """Pull along the net that the part passes on, the mean of its rows [N]."""
        return float(np.bincount(self.rows, self.tensions * self.cosines).mean())

    def even_shares(self, pull: float) -> Floats:
        """Tension of each bar if the part alone took a pull, evenly over each row (k,) [N].

        ``T = P / sum of cos f`` over the bars of a row, f the angle of a bar to the axis. Source: balance.
        """
        sums = np.bincount(self.rows, np.abs(self.cosines))
        return np.asarray(pull / np.maximum(sums, FLAT))[self.rows]

    def slack_share(self, pull: float) -> float:
        """Part of the bars [-] that carry less than a fiftieth of their even share of a pull [N]."""
        return float(np.mean(self.tensions < SLACK * self.even_shares(pull)))


def part_pulls(netting: Netting, part: Part, found: Equilibrium) -> PartPulls:
    """The pulls of one part in an equilibrium."""
    bars = netting.bars_of(part)
    spans, distances = bar_spans(netting, found.positions)
    nonzero = np.maximum(distances[bars], np.finfo(float).tiny)
    return PartPulls(
        bars=bars,
        rows=netting.bar_rows[bars],
        tensions=found.tensions[bars],
        cosines=spans[bars, 0] / nonzero,
        looseness=1.0 - distances[bars] / found.rest_lengths[bars],
    )
