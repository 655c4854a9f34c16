"""report.json: the keys scripts rely on, and numbers that any JSON reader takes."""

import dataclasses
import json
import math

import pytest

from net3d import vary
from net3d.writers.report import report_of, report_text
from tests.nets import sample

# The interface: keys may be added, none renamed or dropped within version 1.
KEYS = {
    "format", "version", "title", "settled", "length_m", "knots", "bars",
    "hoops", "sections", "throats", "materials", "loads", "findings",
}  # fmt: skip
HOOP_KEYS = {
    "number", "outside_diameter_m", "knot_circle_diameter_m", "pitch_m", "hanging_ratio", "position_m",
    "mark_offset_m", "marks_m",
}  # fmt: skip
SECTION_KEYS = {
    "from_hoop", "to_hoop", "meshes_deep", "length_m", "waist_diameter_m", "tension_min_N", "tension_mean_N",
    "tension_max_N", "body_share", "slack_share", "looseness_max",
}  # fmt: skip
FINDING_KEYS = {"code", "level", "where", "message", "value", "limit", "source"}
INCH = 0.0254


@pytest.fixture(scope="module")
def net():
    return sample("backwater-36")


@pytest.fixture(scope="module")
def report(net):
    return json.loads(report_text(net))


def test_the_keys_that_scripts_rely_on(report):
    assert report["format"] == "net3d-report"
    assert report["version"] == 1
    assert set(report) >= KEYS
    assert all(set(hoop) >= HOOP_KEYS for hoop in report["hoops"])
    assert all(set(section) >= SECTION_KEYS for section in report["sections"])
    assert all(set(finding) >= FINDING_KEYS for finding in report["findings"])
    assert {"twine_m", "twine_kg", "knots"} <= set(report["materials"])


def test_counts_of_the_sample(report):
    """44 meshes around, 31 1/2 deep with the tail: 63 rows of 88 bars, 3 legs and a line; arithmetic.

    In a throat two bars hang from every knot but those of its tip, and there a string from each.
    """
    throats = 0
    for throat in report["throats"]:
        rows = [44 - sum(throat["meshes_lost"][:row]) for row in range(len(throat["meshes_lost"]) + 1)]
        assert (rows[0], rows[-1]) == (throat["meshes_around"], throat["tip_meshes"])
        throats += 2 * sum(rows[:-1]) + rows[-1]
    assert report["bars"] == 63 * 88 + 3 + 1 + throats
    assert report["materials"]["knots"] == 63 * 44
    assert [len(hoop["marks_m"]) for hoop in report["hoops"]] == [44] * 5


def test_numbers_are_si(report):
    """36 in outside, 1/2 in rod, 44 around: pitch pi 36 / 44, knot circle 35, rod pi 35.5 in."""
    mouth = report["hoops"][0]
    assert mouth["outside_diameter_m"] == pytest.approx(36 * INCH)
    assert mouth["pitch_m"] == pytest.approx(math.pi * 36 / 44 * INCH)
    assert mouth["knot_circle_diameter_m"] == pytest.approx(35 * INCH)
    assert mouth["hanging_ratio"] == pytest.approx(math.pi * 35 / (44 * 3.5))
    assert report["materials"]["rods_m"][0] == pytest.approx(math.pi * 35.5 * INCH)
    assert report["materials"]["bridle_m"] == pytest.approx(90 * INCH)


def test_loads_of_a_named_current_are_reported():
    """brook-50.toml names a current for the net; the range of its drag holds the middle."""
    net = sample("brook-50")
    rows = json.loads(report_text(net))["loads"]
    (row,) = (row for row in rows if row["current_mps"] == pytest.approx(net.spec.rigging.current))
    assert 0 < row["drag_low_N"] <= row["drag_N"] <= row["drag_high_N"]
    assert "river-twine" in {finding.code for finding in net.findings}


def test_sections_add_up_to_the_length(report):
    assert sum(section["length_m"] for section in report["sections"]) == pytest.approx(report["length_m"])
    positions = [hoop["position_m"] for hoop in report["hoops"]]
    assert positions[0] == 0
    assert positions[-1] == pytest.approx(report["length_m"])


def test_no_number_is_left_that_json_does_not_know(net):
    broken = dataclasses.replace(net.findings[0], value=math.nan, limit=math.inf)
    report = report_of(dataclasses.replace(net, findings=(broken,)))
    assert report["findings"][0]["value"] is None
    assert report["findings"][0]["limit"] is None
    json.dumps(report, allow_nan=False)


def test_texts_are_utf8_as_typed(net):
    titled = dataclasses.replace(net, spec=vary(net.spec, {"title": 'Flügel "36" ½'}))
    text = report_text(titled)
    assert "Flügel" in text
    assert json.loads(text)["title"] == 'Flügel "36" ½'
