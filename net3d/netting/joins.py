"""How one row of knots is tied to the next: which loop of the row above each knot takes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from net3d.netting.netting import Ints


@dataclass(frozen=True, eq=False)
class Join:
    """The loops that hang from one row and the knots of the next row that take them.

    Loop l hangs from the knots ``left[l]`` and ``right[l]`` of the row above and is taken by knot
    ``owner[l]`` of the row below: two bars, one from each.
    """

    left: Ints  # (loops,)
    right: Ints  # (loops,)
    owner: Ints  # (loops,)

    def bars(self) -> tuple[Ints, Ints]:
        """Places of the upper and lower end of every bar, two bars to a loop side by side, (2 loops,) each."""
        upper = np.stack([self.left, self.right], axis=1).ravel()
        return upper, np.repeat(self.owner, 2)


def plain_join(count: int, half_pitch_off: bool) -> Join:
    """Every knot takes one loop: the same number of knots in both rows.

    A row that stands ``half_pitch_off`` is followed by one that does not: its knot k hangs below the
    knots k - 1 and k, otherwise below k and k + 1.

    >>> [places.tolist() for places in plain_join(3, False).bars()]
    [[0, 1, 1, 2, 2, 0], [0, 0, 1, 1, 2, 2]]
    """
    places = np.arange(count)
    left = (places - half_pitch_off) % count
    return Join(left, (left + 1) % count, places)
