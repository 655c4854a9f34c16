"""Random nets: cut or knitted by the table, they are the model; nothing is lost or gained on the way."""

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from net3d.errors import SpecError
from net3d.plan.cutting import PANELS, cut_down, first_seams, panels_of, seam_knots
from net3d.plan.decreases import Edge, share_out
from net3d.plan.joins import Row, join_rows
from net3d.tables.cuts import cuts_sheet
from tests.tables.graphs import (
    csv_rows,
    cut_flat,
    knitted_tubes,
    model_tubes,
    same_up_to_turning,
    sewn,
)
from tests.tables.nets import net, throat

pytestmark = pytest.mark.law

THROATS = st.builds(
    throat,
    hoop=st.sampled_from([1, 2]),
    deep=st.integers(6, 24).map(lambda rows: rows / 2),
    tip=st.integers(6, 30),
    taper=st.sampled_from([0.0, 0.5, 1.0]),
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(table=THROATS, around=st.integers(31, 60), deep=st.tuples(*[st.integers(2, 24)] * 2))
def test_random_nets_are_knitted_as_they_are_modelled(table, around, deep, tmp_path):
    try:
        made = net("hand-tied", table, around=around, deep=[rows / 2 for rows in deep])
    except SpecError:
        assume(False)
    assert knitted_tubes(csv_rows(cuts_sheet(made.spec, made.plan), tmp_path)) == model_tubes(made)


EDGES = st.integers(12, 60).flatmap(
    lambda count: st.tuples(
        st.just(count), st.sampled_from([0.0, 0.5, 0.25]), st.integers(6, 30), st.integers(-10, count - 4)
    )
)


def test_panels_that_run_out_to_a_point_are_refused():
    # Found by chance: two of four seams met, and the panel between them was taken to go all the way around.
    row = Row(18, 0.0)
    for taper in (0.0, 1.0):
        piece = cut_down(Edge(row, 0.01, 0.05), share_out(14, 6, taper), first_seams(row, 4))
        assert piece is None or all(panel.across_last > 0 for panel in panels_of((piece,)))
        if piece is not None:
            assert sum(panel.across_last for panel in panels_of((piece,))) == 4


@settings(max_examples=200, deadline=None)
@given(edge=EDGES, panels=st.sampled_from(PANELS), taper=st.sampled_from([0.0, 1.0]))
def test_random_panels_are_sewn_to_the_piece_they_were_read_from(edge, panels, taper):
    """Of any count, with the first row on the reference mark, half a pitch off it, or anywhere."""
    count, phase, rows, lost = edge
    row = Row(count, phase * Row(count).pitch)
    wanted = share_out(lost, rows, taper)
    piece = cut_down(Edge(row, 0.01, 0.05), wanted, first_seams(row, panels))
    assume(piece is not None)
    assert sum(change.gain for change in piece.changes) == -lost
    cut = panels_of((piece,))
    flats = [cut_flat(panel.across_first, str(panel.left), str(panel.right)) for panel in cut]
    assert sum(panel.across_first for panel in cut) == count
    assert sum(panel.across_last for panel in cut) == count - lost
    assert sum(panel.knots for panel in cut) - seam_knots((piece,)) == sum(one.count for one in piece.rows)
    assert same_up_to_turning((count, _tied(piece)), sewn(flats))


def _tied(piece):
    """The piece as rows of knots, each with the knots above that its bars come from."""
    rows = []
    for row, change in zip(piece.rows, piece.changes, strict=False):
        upper, lower = join_rows(row, change).bars()
        rows.append([tuple(sorted(upper[lower == knot].tolist())) for knot in range(lower.max() + 1)])
    return rows
