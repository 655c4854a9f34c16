"""Keys of the tables: what scripts and the other rooms find columns by, frozen; headings are free.

Nothing outside says what the keys must be. They are held here so that nobody's script breaks unnoticed: keys
may be added to the text below, none may be changed.
"""

import json
import re

import pytest

from net3d import design
from net3d.align import align
from net3d.paper.bench import bench_pages
from net3d.plan import lay_out
from net3d.spec import parse_spec
from net3d.tables.align import align_sheet, turns_sheet
from net3d.tables.bearing import anchors_sheet, hoops_sheet, legs_sheet, netting_sheet
from net3d.tables.costs import hours_sheet, shopping_sheet
from net3d.tables.cuts import cuts_sheet
from net3d.tables.guides import guides_sheet, standing_guides_sheet
from net3d.tables.kept import kept_of, kept_sheet
from net3d.tables.lacing import lacing_sheet
from net3d.tables.loads import loads_sheet, models_sheet
from net3d.tables.marks import marks_sheet
from net3d.tables.materials import materials_sheet
from net3d.tables.nesting import nesting_sheets
from net3d.tables.sheet import Column
from net3d.tables.standing import standing_sheet
from net3d.tables.strings import string_sheet
from net3d.tables.throats import throat_sheet
from net3d.writers.json_tables import sheet_records
from tests.nets import spec_text

FROZEN = """
align: way hoops turns tension_ratio slack_share looseness unevenness
anchors: anchor holds weight_*
cuts, cut from sheet: piece pieces twine across_first across_last meshes_deep stretched_width stretched_length
    left_edge right_edge first_edge_to last_edge_to first_edge_knots knots
cuts, knitted: part from_row to_row knots_in_row first_loop taken_together extra_loop_knots knots then
guides: guide pieces meshes_long meshes_deep stretched_mesh hanging_ratio float_line float_line_cut
    lead_hanging_ratio lead_line lead_line_cut taken_up height netting_weight floats float_lift float_spacing
    leads lead_weight lead_spacing float_size lead_size held_by
hoops: hoop material compression buckling_factor sprung_share
hours: work amount rate hours
lacing: hoop takes knot_row knots hitches_per_knot hitches twine
kept: opening way around half_stiff half half_struggling nearly_all_stay half_wedge
legs: legs bow bow_share stress stress_share
loads: current drag_low drag drag_high anchor_pull_high anchor line_tension leg_tension twine_tension
    twine_share twine_part length waist guide_drag set_drag
marks: hoop outside_diameter outside_circumference marks pitch hanging_ratio row_starts stepped_pitch
    stepping_error takes ties sewn_in mark_*
materials: item what pieces length cut_length total_length weight knots needle_fills
models: model drag_* range
nesting: pieces start_across start_deep meshes_across meshes_deep
netting: part outline twine solidity solidity_with_debris
shopping: item what needed sold_by count price cost
standing: hoops meshes_deep length either_way waist tension_min tension_mean tension_max body_share
    slack_share
standing_guides: guide current height gap sag drag mouth_pull stake_pull line_tension rest
strings: ten_meshes string_*
throats: throat hoop length tip string_to_tie either_way string_meshes string_tight string_loose opening_girth
    opening_clear clearance pull_share
turns, places changed: place hoop outside_diameter bow gaps_off_waves meshes along_outside turned_over
turns, places kept: place bow gaps_off_waves meshes along_outside turned_over worst_meshes worst_along_outside
"""
NET = {
    "around": 16, "diameters": (0.3, 0.3, 0.3), "deep": (3, 3.5), "tail": 3, "legs": 3,
    "throats": [{"hoop": 1, "deep": 3, "tip": 8, "strings": {"to_hoop": 3, "points": 4}}],
}  # fmt: skip
GUIDES = "[[wing]]\nlong = 40\ndeep = 4\n"
SHOP = "[prices]\nhour = 20\nspool = 18\n[stock]\nwebbing_across = 200\n[fish]\ngirth = 0.3\n"
GAPS = 'material = "fibreglass"\ngaps = [0.01, 0.0, 0.0, 0.01, 0.0, 0.0]\n'
PILE = '[[pile]]\nname = "spare"\ndiameter = 0.3\nrod = "0.01 m"\nmaterial = "fibreglass"\n'


def river_net():
    """A net of which every table can be made: throat, bridle, a turned hoop, currents, a shop's figures."""
    river = "current = 0.4\n[water]\ncurrents = [0.2]\n[statics]"
    text = spec_text(**NET, extra=SHOP + GUIDES).replace("[statics]", river)
    return design(parse_spec(text.replace('material = "fibreglass"', 'material = "fibreglass"\nturn = 2', 1)))


def sheets_of(made):
    """The tables of a net, by what the frozen text calls them."""
    spec, plan, shape, rows = made.spec, made.plan, made.shape, made.loads
    strings, at = made.string_lengths, rows[0]
    sheets = [
        anchors_sheet(made, rows), guides_sheet(spec, plan), standing_guides_sheet(made),
        hoops_sheet(made, at), hours_sheet(spec, plan), kept_sheet(made, kept_of(made)),
        lacing_sheet(spec, plan),
        legs_sheet(made, at), loads_sheet(made, rows), marks_sheet(spec, plan), models_sheet(made, rows),
        materials_sheet(spec, plan, strings), netting_sheet(made, at), throat_sheet(made),
        shopping_sheet(spec, plan, strings), standing_sheet(spec, plan, shape), string_sheet(made),
    ]  # fmt: skip
    return {sheet.name: sheet for sheet in sheets} | {"cuts, knitted": cuts_sheet(spec, plan)}


def cut_sheets():
    spec = parse_spec(spec_text(**NET, extra=SHOP).replace("[netting]\n", '[netting]\nmade = "sheet"\n'))
    plan = lay_out(spec)
    (nesting,) = nesting_sheets(spec, plan)
    return {"cuts, cut from sheet": cuts_sheet(spec, plan), "nesting": nesting}


def align_sheets():
    plain = spec_text(around=12, diameters=(0.3, 0.3), deep=(3,), extra=PILE)
    spec = parse_spec(plain.replace('material = "fibreglass"\n', GAPS, 1))
    kept, changed = align(spec), align(spec, order=True)
    return {
        "align": align_sheet(spec, changed),
        "turns, places kept": turns_sheet(spec, kept),
        "turns, places changed": turns_sheet(spec, changed),
    }


@pytest.fixture(scope="module")
def made():
    return river_net()


@pytest.fixture(scope="module")
def sheets(made):
    return sheets_of(made) | cut_sheets() | align_sheets()


def test_every_key_of_every_table_is_as_it_was(sheets):
    lines = re.sub(r"\n +", " ", FROZEN).strip().splitlines()
    frozen = {name: keys.split() for name, keys in (line.split(": ") for line in lines)}
    found = {
        name: list(
            dict.fromkeys(f"{column.key}_*" if column.number else column.key for column in sheet.columns)
        )
        for name, sheet in sheets.items()
    }
    assert found == frozen


def test_keys_are_names_and_no_two_columns_of_a_table_share_one(sheets):
    for sheet in sheets.values():
        names = [column.name for column in sheet.columns]
        assert len(set(names)) == len(names)
        assert all(re.fullmatch(r"[a-z][a-z0-9_]*", name) for name in names)


def test_rewording_every_heading_changes_neither_scripts_nor_paper(made, sheets, monkeypatch):
    before = [sheet_records(sheet)["rows"] for sheet in sheets.values()]
    pages = [_cells(page) for page in bench_pages(made, {})]
    plain = Column.__init__

    def reworded(self, key, heading, *more, **others):
        plain(self, key, f"~{heading[::-1]}", *more, **others)

    monkeypatch.setattr(Column, "__init__", reworded)
    after = sheets_of(made) | cut_sheets() | align_sheets()
    assert all(column.heading.startswith("~") for column in after["loads"].columns)
    assert [sheet_records(sheet)["rows"] for sheet in after.values()] == before
    assert [_cells(page) for page in bench_pages(made, {})] == pages


def _cells(page):
    """Everything on a page but what stands above the columns of its tables and beside their rows."""
    tables = [block for block in page.blocks if block.kind == "listing"]
    others = [block for block in page.blocks if block.kind not in {"listing", "beside"}]
    values = [
        value
        for block in page.blocks
        if block.kind == "beside"
        for facts in block.left.blocks
        if facts.kind == "facts"
        for _, value in facts.facts
    ]
    return (
        others,
        values,
        [[line[1:] for line in table.rows] for table in tables],
        [[(column.align, column.width) for column in table.columns] for table in tables],
    )


def test_scripts_are_told_units_and_kinds_of_notes(sheets):
    printed = json.loads(json.dumps(sheet_records(sheets["materials"])))
    assert printed["columns"]["total_length"] == {"heading": "length in all", "unit": "m"}
    assert printed["columns"]["weight"]["unit"] == "kg"
    assert printed["columns"]["knots"]["unit"] == ""
    assert {note["kind"] for note in printed["notes"]} == {"how", "caution"}


def test_cautions_are_known_by_their_kind(sheets):
    """What can hurt on the work of each table: common practice, no source."""
    words = {
        "marks": ["springs back"],
        "lacing": ["springs back", "melts"],
        "guides": ["entangle", "local code"],
        "cuts, knitted": ["wear gloves"],
        "cuts, cut from sheet": ["melts"],
        "materials": ["flammable", "wear gloves", "life jacket", "turtles", "local code"],
        "loads": ["flood", "drift", "bight", "local code"],
    }
    for name, sheet in sheets.items():
        assert len(sheet.cautions) == len(words.get(name, []))
        for caution, word in zip(sheet.cautions, words.get(name, []), strict=True):
            assert word in caution


def test_a_key_that_a_table_lacks_is_refused_by_name(sheets):
    with pytest.raises(KeyError, match="marks has no column sewn, mark 1"):
        sheets["marks"].picked(["hoop", "sewn", "mark 1"])
