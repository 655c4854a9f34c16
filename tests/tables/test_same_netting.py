"""What is knitted, or cut and sewn, by the cut table is the netting of the model, bar by bar.

The table is read from its CSV; the graph is built from it by somebody who knows the diamond lattice and the
cuts of ISO 1532, and nothing of the plan.
"""

import pytest

from net3d.shop.tubes import tubes
from net3d.tables.cuts import cuts_sheet
from tests.tables.graphs import (
    bar_count,
    csv_rows,
    cut_flat,
    cut_steps,
    knitted_tubes,
    model_tubes,
    same_up_to_turning,
    sewn,
)
from tests.tables.nets import NETS, net, throat

pytestmark = pytest.mark.second_route


@pytest.mark.parametrize("name", NETS)
def test_knitting_by_the_table_gives_the_models_bars(name, tmp_path):
    tables, keys = NETS[name]
    made = net("hand-tied", *tables, **keys)
    rows = csv_rows(cuts_sheet(made.spec, made.plan), tmp_path)
    assert knitted_tubes(rows) == model_tubes(made)


@pytest.mark.parametrize("name", NETS)
def test_knots_of_the_knitting_table_are_the_models(name, tmp_path):
    """Apart from those of the first row, which the hoop's lacing makes."""
    tables, keys = NETS[name]
    made = net("hand-tied", *tables, **keys)
    rows = csv_rows(cuts_sheet(made.spec, made.plan), tmp_path)
    tied = sum(int(row["knots"]) for row in rows if row["knots"])
    assert tied == sum(len(row) for _, tube in model_tubes(made).values() for row in tube)


def sewn_tubes(made, tmp_path):
    """Every tube of the cut table, its pieces in the order in which the notes say that they are sewn."""
    sheet = cuts_sheet(made.spec, made.plan)
    rows = csv_rows(sheet, tmp_path)
    take_up = made.spec.lacing.take_up
    found = {}
    for row in rows:
        name, _, letter = row["piece"].partition(" ")
        width = float(row["across_first"]) - 2 * take_up
        flat = cut_flat(width, row["left_edge"], row["right_edge"])
        last = width - cut_lost(row["left_edge"]) - cut_lost(row["right_edge"])
        assert last == float(row["across_last"]) - 2 * take_up
        assert len(flat.rows) - 1 == 2 * float(row["meshes_deep"])
        assert sum(map(len, flat.rows)) == int(row["knots"])
        assert len(flat.rows[0]) == int(row["first_edge_knots"])
        found.setdefault(name, {})[letter] = (flat, int(row["pieces"]), row)
    return {name: _in_order(name, pieces, sheet.remarks) for name, pieces in found.items()}


def cut_lost(edge):
    return sum({"n": 0.0, "B": 0.5, "b": -0.5}[step] for step in cut_steps(edge))


def _in_order(name, pieces, notes):
    if list(pieces) == [""]:
        flat, count, row = pieces[""]
        return [(flat, row)] * count
    (line,) = [note for note in notes if note.startswith(f"{name}:")]
    order = line.partition("from the mouth: ")[2].split(", and back")[0].split(" - ")
    assert {letter: order.count(letter) for letter in order} == {
        letter: count for letter, (_, count, _) in pieces.items()
    }
    return [(pieces[letter][0], pieces[letter][2]) for letter in order]


@pytest.mark.parametrize("name", NETS)
def test_sewing_the_cut_pieces_gives_the_models_netting(name, tmp_path):
    tables, keys = NETS[name]
    made = net("sheet", *tables, **keys)
    model = model_tubes(made)
    cut = sewn_tubes(made, tmp_path)
    assert cut.keys() == model.keys()
    for part, pieces in cut.items():
        tube = sewn([flat for flat, _ in pieces])
        assert same_up_to_turning(model[part], tube), part
        assert bar_count(tube) == bar_count(model[part])


@pytest.mark.parametrize("name", NETS)
def test_edges_that_are_sewn_together_are_cut_alike(name, tmp_path):
    tables, keys = NETS[name]
    for pieces in sewn_tubes(net("sheet", *tables, **keys), tmp_path).values():
        for (_, row), (_, following) in zip(pieces, pieces[1:] + pieces[:1], strict=True):
            assert row["right_edge"] == following["left_edge"]


@pytest.mark.parametrize("panels", [1, 2, 4])
def test_throats_of_one_two_and_four_panels(panels, tmp_path):
    """40 meshes down to 34 over 8 deep can be lost at a single seam."""
    made = net("sheet", throat(tip=34, panels=panels))
    pieces = sewn_tubes(made, tmp_path)["throat-1"]
    assert len(pieces) == panels
    assert same_up_to_turning(model_tubes(made)["throat-1"], sewn([flat for flat, _ in pieces]))


def test_rolled_seams_need_wider_pieces_and_make_the_same_net(tmp_path):
    made = net("sheet", throat(tip=20), "[lacing]\ntake_up = 1")
    plain = net("sheet", throat(tip=20))
    rolled = csv_rows(cuts_sheet(made.spec, made.plan), tmp_path)
    flat = csv_rows(cuts_sheet(plain.spec, plain.plan), tmp_path)
    for wide, narrow in zip(rolled, flat, strict=True):
        assert float(wide["across_first"]) == float(narrow["across_first"]) + 2
    assert model_tubes(made) == model_tubes(plain)


def test_side_knots_laced_together_leave_the_models_knots():
    """Knots in all pieces, less one for every pair that a seam makes one of, are the knots of the tube."""
    made = net("sheet", throat(tip=20))
    for tube in tubes(made.plan):
        knots = sum(panel.knots for panel in tube.panels) - tube.seam_knots
        count, rows = model_tubes(made)[tube.name]
        assert knots == count + sum(map(len, rows))


def test_a_wrong_table_is_not_taken_for_the_net(tmp_path):
    """The comparison can fail: one bating moved by a loop is another net."""
    made = net("hand-tied", throat(taper=0.0))
    rows = csv_rows(cuts_sheet(made.spec, made.plan), tmp_path)
    row = next(row for row in rows if row["taken_together"])
    first, second = row["taken_together"].split(", ")[0].split("+")
    row["taken_together"] = row["taken_together"].replace(
        f"{first}+{second}", f"{int(first) + 1}+{int(second) + 1}", 1
    )
    assert not same_up_to_turning(knitted_tubes(rows)["throat-1"], model_tubes(made)["throat-1"])
