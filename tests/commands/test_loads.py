"""net3d loads and net3d cfd, as a maker runs them."""

import json
import re
import sys
from contextlib import nullcontext
from pathlib import Path
from xml.etree import ElementTree

import pytest

loads = sys.modules["net3d.commands.loads"]  # the module: cli imports its command under the same name
CAUTIONS = ("flood", "Leaves", "Never a line around the body", "local code")
CURRENTS = '\n[water]\ncurrents = ["1 ft/s", "2 ft/s"]\n'


@pytest.fixture
def river(tmp_path, small_net):
    path = tmp_path / "river.toml"
    path.write_text(small_net.replace("[rigging]\n", '[rigging]\ncurrent = "2 ft/s"\n') + CURRENTS, "utf-8")
    return path


def test_loads_prints_the_range_the_anchor_and_the_cautions(run, river, monkeypatch):
    monkeypatch.setenv("COLUMNS", "200")  # wide enough that no cell wraps
    ended = run("loads", river)
    assert ended.code == 0, ended.err
    # The answer first, the models last.
    order = [
        "what the river pulls",
        "the anchor, weight in air",
        "hoops at",
        "netting in the flow",
        "drag by model",
    ]
    places = [ended.out.index(word) for word in order]
    assert places == sorted(places)
    for word in ("concrete", "hoop 1", "solidity"):
        assert word in ended.out
    table, sources = ended.out[places[-1] :].split("\n- ", 1)
    assert "plane netting, flume" in table
    assert "bag nets" in table
    for person in ("Loland", "Aarsnes", "Kristiansen", "Milne", "Kim"):
        assert person not in table
        assert person in sources


def test_a_bridle_is_compared_with_those_of_two_to_six_legs(run, tmp_path, small_net):
    path = tmp_path / "river.toml"
    path.write_text(small_net.replace("[rigging]\n", '[rigging]\ncurrent = "2 ft/s"\n'), "utf-8")
    legs = run("loads", path).out.partition("legs (in)")[2].partition("\n\n")[0]
    # As they are tied: common practice, no source. Our own bridle has three.
    assert re.findall(r"^ +(\d+) ", legs, re.MULTILINE) == ["2", "3", "4", "6"]


def test_an_inch_spec_has_no_metric_unit_on_its_sheets(run, tmp_path, monkeypatch):
    monkeypatch.setenv("COLUMNS", "200")
    sample = (Path(__file__).parents[2] / "specs" / "backwater-36.toml").read_text("utf-8")
    path = tmp_path / "inch.toml"
    path.write_text(sample + '\n[water]\ncurrents = ["2 ft/s"]\n', "utf-8")
    ended = run("loads", path)
    assert ended.code == 0, ended.err
    models = ended.out.index("drag by model")
    told = ended.out[: ended.out.index("\n- ", models)]  # below it stand the models' sources
    assert "psi" in told
    assert not re.search(r"\b(MPa|m/s|mm|kg|N)\b", told)
    for caution in CAUTIONS:
        assert caution in ended.out
    assert "checks in this current are fine" in ended.out


def test_loads_as_json_and_as_a_drawing(run, river, tmp_path):
    ended = run("loads", river, "--json", "--plot", tmp_path / "drag.svg")
    assert ended.code == 0, ended.err
    printed = json.loads(ended.out)
    rows = printed["loads"]
    assert all(any(word in caution for caution in printed["cautions"]) for word in CAUTIONS)
    assert [round(row["current_mps"] / 0.3048, 6) for row in rows] == [1, 2]
    for row in rows:
        assert row["drag_low_N"] <= row["drag_N"] <= row["drag_high_N"]
    # Twice the speed, four times the drag, times what the coefficients change by: 0.86 for this twine (Re 370
    # to 740), 1.09 for the rods (Re 3400 to 6800), off the cylinder table.
    assert 4 * 0.86 < rows[1]["drag_N"] / rows[0]["drag_N"] < 4 * 1.09
    drawing = ElementTree.fromstring((tmp_path / "drag.svg").read_text("utf-8"))
    assert drawing.tag.endswith("svg")
    band = drawing.find("{http://www.w3.org/2000/svg}polygon").get("points").split()
    assert len(band) >= 2 * (len(rows) + 1)


def test_a_plot_that_cannot_be_written_is_said_so(run, river, tmp_path):
    ended = run("loads", river, "--plot", tmp_path / "nowhere" / "drag.svg")
    assert ended.code == 2
    assert "cannot be written" in ended.err


def test_every_bad_value_of_the_river_is_told_at_once(run, tmp_path, small_net):
    path = tmp_path / "bad.toml"
    bad = (
        small_net.replace("[rigging]\n", '[rigging]\ncurrent = "40 ft/s"\n')
        + '[water]\ncurrents = ["2 lbf"]\nangle = 200\nblocked = 2\nbottom = "sandy"\nwind = 3\n'
        + '[anchor]\ntype = "concrete"\nweight = -1\n'
    )
    path.write_text(bad, "utf-8")
    ended = run("loads", path)
    assert ended.code == 2
    for key in (
        "rigging.current",
        "water.currents",
        "water.angle",
        "water.blocked",
        "water.bottom",
        "water.wind",
    ):
        assert f"{key}" in ended.err, key
    assert "anchor.type" in ended.err
    assert "anchor.weight" in ended.err


def test_cfd_writes_the_surfaces_and_says_what_they_are(run, spec, tmp_path):
    ended = run("cfd", spec, "-o", tmp_path / "out", "--sides", 3)
    assert ended.code == 0, ended.err
    about = (tmp_path / "out" / "small-cfd.txt").read_text("utf-8")
    assert "overlap" in about
    assert "Metres" in about
    assert "hoop-1: 1 closed shell" in about
    assert (tmp_path / "out" / "small-cfd.stl").read_text("ascii").startswith("solid hoop-1\n")


def test_progress_tells_how_many_currents_the_spec_names(run, river, monkeypatch):
    told, steps = [], []

    def bar(count):
        steps.append(count)
        return nullcontext(told.append)

    monkeypatch.setattr(loads, "progress", bar)
    assert run("loads", river, "--json").code == 0
    assert told == ["Working out the shape", "Current 1 of 2: 1 ft/s", "Current 2 of 2: 2 ft/s"]
    assert steps == [len(told)]


def test_progress_is_told_in_the_specs_own_units(run, river, monkeypatch):
    """Where a spec names no current the usual ones are worked out: 0.25 m/s = 0.82 ft/s (0.3048 m a foot)."""
    told = []
    monkeypatch.setattr(loads, "progress", lambda steps: nullcontext(told.append))
    plain = river.read_text("utf-8").replace(CURRENTS, "").replace('current = "2 ft/s"\n', "")
    river.write_text(plain, "utf-8")
    assert run("loads", river, "--json").code == 0
    assert told[:2] == ["Working out the shape", "Current 1 of 8: 0.82 ft/s"]
    assert told[-1] == "Current 8 of 8: 6.56 ft/s"
    assert not [text for text in told if "m/s" in text]
