"""What the steps say, done by a mender who knows nothing else, makes the netting whole."""

import random

import pytest

from net3d.mending import Hole, HoleError, lattice_of, mended
from net3d.plan.decreases import Edge, share_out, tie_down
from net3d.plan.joins import Row
from net3d.tables.mending import mend_steps
from tests.mending.by_hand import knit, netting_of

PLAIN = lattice_of(tie_down(Edge(Row(20), 0.3, 0.05), (0,) * 14))
TAPERED = lattice_of(tie_down(Edge(Row(24), 0.3, 0.05), share_out(12, 14, 0.0)))


def holes_by_chance(lattice, chance, most):
    """Blocks, and bars that hang together, torn one after the other where the last left off."""
    if chance.random() < 0.4:
        across, deep, row, place = (chance.randrange(1, 6) for _ in range(4))
        return lattice.bars_at({lattice.knot(row + r, place + k) for r in range(deep) for k in range(across)})
    bars = {chance.randrange(60, 200)}
    for _ in range(chance.randrange(most)):
        beside = lattice.bars_at(set(lattice.ends[sorted(bars)].ravel().tolist()))
        bars.add(chance.choice(sorted(beside)))
    return frozenset(bars)


@pytest.mark.law
@pytest.mark.parametrize("lattice", [PLAIN, TAPERED], ids=["plain", "losing meshes"])
def test_the_netting_is_whole_and_every_knot_tied_once(lattice):
    chance, every, done = random.Random(7), range(len(lattice.ends)), 0
    whole = netting_of(lattice, every)
    for _ in range(60):
        torn = holes_by_chance(lattice, chance, 30)
        try:
            found = mended(Hole(1, None, lattice, torn))
        except HoleError:
            continue
        left, tied, last = knit(netting_of(lattice, set(every) - torn), mend_steps(found))
        assert left == whole
        touched = {name for ends in netting_of(lattice, found.way.trim.bars) for name in ends}
        assert sorted(tied) == sorted(touched)
        assert tied[-1] == last
        done += 1
    assert done > 40
