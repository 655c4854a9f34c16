"""More pull is advised by the key that pulls the net where it hangs, whether or not the spec has it."""

from types import SimpleNamespace

import pytest

from net3d.advice.body import more_pull
from net3d.spec import parse_spec, vary
from tests.nets import spec_text


@pytest.mark.parametrize("line", ['pull = "60.0 N"\nbench', "current = 0.3\nbench"])
def test_a_net_is_pulled_half_as_hard_again_by_the_first_way(line):
    """A net that a river stretches hangs in still water by the bench's pull: more is typed as its pull."""
    spec = parse_spec(spec_text().replace('pull = "60.0 N"\nbench', line))
    assert spec.rigging.still_pull == 60.0
    first = more_pull(SimpleNamespace(base=SimpleNamespace(spec=spec)))[0]
    assert set(first) == {"rigging.pull"}
    changed = vary(spec, first).rigging
    assert changed.still_pull == pytest.approx(90.0)
    assert changed.bench_pull == spec.rigging.bench_pull  # strings are tied as before
