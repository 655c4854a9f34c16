"""net3d align and net3d gauge: what they print, and what they refuse."""

import io
import json

import pdfplumber
import pytest

BOWED = 'gaps = [0, "1/4", "1/2", "1/4", 0, "1/4", "1/2", "1/4"]'
OTHER = 'gaps = [0, 0, "1/4", "1/2", "1/4", 0, "1/4", "1/2"]'
RATIO = "tension_ratio"  # what the checks fail on, and ways are judged by
HOOP = '[[hoop]]\ncircumference = 96\nrod = "1/2"\nmaterial = "fibreglass"\n'


@pytest.fixture
def bowed(spec, small_net):
    hoops = "".join(f"{HOOP}{gaps}\n" for gaps in (BOWED, OTHER, BOWED))
    text = small_net.replace(f"{HOOP}repeat = 3\n", hoops).replace("legs = 3", "legs = 2")
    assert text.count("gaps") == 3
    spec.write_text(text, encoding="utf-8")
    return spec


def test_three_ways_side_by_side_and_what_to_type(run, bowed, monkeypatch):
    monkeypatch.setenv("COLUMNS", "200")  # wide enough that no heading wraps
    ended = run("align", bowed)
    assert ended.code == 0
    for words in ("marks in line", "best found", "worst tried", "clockwise as seen from the mouth"):
        assert words in ended.out
    records = json.loads(run("align", bowed, "--json").out)
    line, best, worst = records["align"]["rows"]
    assert best[RATIO] <= line[RATIO] <= worst[RATIO]
    assert records["turns"]["rows"][0]["meshes"] == 0  # to turn all hoops turns the net
    for row in records["turns"]["rows"]:
        # 96 in around and 24 meshes: 4 in a mesh
        assert row["along_outside"] == pytest.approx(row["meshes"] * 4 * 0.0254)
        if row["meshes"]:
            assert f"hoop {row['place']}: turn = {row['meshes']}" in " ".join(ended.out.split())


def test_what_it_says_to_type_gives_what_it_promises(run, bowed):
    before = json.loads(run("align", bowed, "--json").out)
    turns = [row["meshes"] for row in before["turns"]["rows"]]
    head, *hoops = bowed.read_text(encoding="utf-8").split(HOOP)
    typed = head + "".join(f"{HOOP}turn = {turn}\n{rest}" for turn, rest in zip(turns, hoops, strict=True))
    bowed.write_text(typed, encoding="utf-8")
    sections = json.loads(run("build", bowed, "--json").out)["sections"]
    ratio = max(section["tension_max_N"] / section["tension_mean_N"] for section in sections)
    assert ratio == pytest.approx(before["align"]["rows"][1]["tension_ratio"], rel=1e-3)


def test_legs_stay_where_the_mouth_hoop_stands_back(run, bowed):
    # Mouth side up, the gap is least at 12 and 6 o'clock: there it stands back, and there the two legs are.
    assert "Leave the bridle's legs where they are" in run("align", bowed).out


def test_legs_move_a_quarter_when_they_pull_where_it_stands_forward(run, bowed):
    gaps = 'gaps = ["1/2", "1/4", 0, "1/4", "1/2", "1/4", 0, "1/4"]'
    bowed.write_text(bowed.read_text(encoding="utf-8").replace(BOWED, gaps), encoding="utf-8")
    assert "move the bridle's 2 legs 24 in" in " ".join(run("align", bowed).out.split())  # of 96 in around


@pytest.fixture
def even(bowed):
    """The same held by so many legs that they bend nothing: two of them alone would pull unevenly."""
    bowed.write_text(bowed.read_text(encoding="utf-8").replace("legs = 2", "legs = 8"), encoding="utf-8")
    return bowed


def test_leave_to_turn_hoops_over_never_ends_worse(run, even):
    kept, free = (
        json.loads(run("align", even, *flip, "--json").out)["align"]["rows"][1] for flip in ([], ["--flip"])
    )
    assert free[RATIO] <= kept[RATIO] * (1 + 1e-6)  # the same solve, run again


def test_order_says_which_hoop_goes_where(run, even):
    spares = "".join(
        f'{HOOP.replace("hoop", "pile")}name = "{name}"\n' for name in ("the red one", "a [new] one")
    )
    even.write_text(even.read_text(encoding="utf-8") + spares, encoding="utf-8")
    ended = run("align", even, "--order")
    assert ended.code == 0
    assert "Move the tables of the hoops: " in ended.out
    records = json.loads(run("align", even, "--order", "--json").out)
    _, kept, changed, _ = records["align"]["rows"]
    assert changed[RATIO] < kept[RATIO]
    hoops = [row["hoop"] for row in records["turns"]["rows"]]
    assert {"the red one", "a [new] one"} < set(hoops)  # true ones, and there is one place for a even one
    assert ", ".join(hoops) == changed["hoops"]
    assert all(row["meshes"] == 0 for row in records["turns"]["rows"] if "one" in row["hoop"])


def test_hoops_that_nobody_measured_are_refused(run, spec):
    ended = run("align", spec)
    assert ended.code == 2
    assert "no hoop has gaps or across" in ended.err
    assert "net3d gauge" in ended.err


def test_gauge_writes_a_form_with_a_table_for_each_hoop(run, tmp_path):
    ended = run("gauge", "--stations", 12, "--hoops", 3, "-o", "form.pdf")
    assert ended.code == 0
    assert "mouth side up" in ended.out
    assert "springs back" in " ".join(ended.out.split())
    with pdfplumber.open(io.BytesIO((tmp_path / "form.pdf").read_bytes())) as form:
        text = "\n".join(page.extract_text() for page in form.pages)
    assert [f"Hoop {number}" in text for number in (1, 2, 3, 4)] == [True, True, True, False]
    assert text.count("11/12") == 3  # the last station of each
    assert text.count("around the outside: ") == 3


def test_odd_stations_have_none_opposite(run):
    ended = run("gauge", "--stations", 7)
    assert ended.code == 2
    assert "even number" in ended.err
