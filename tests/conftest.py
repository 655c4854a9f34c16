"""What tests of several rooms read."""

from __future__ import annotations

import pytest

from tests.solids.nets import net_of_tube, solids_for


@pytest.fixture(scope="session")
def small_net():
    return net_of_tube()


@pytest.fixture(scope="session")
def small_solids(small_net):
    return solids_for(small_net)
