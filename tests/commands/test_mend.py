"""net3d mend, as a maker runs it: a hole of the sample, what is refused, and the drawing read back."""

import json
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pdfplumber
import pytest

from net3d.handbook.twine import find_twine
from tests.nets import spec_text

SPEC = Path(__file__).parents[2] / "specs" / "backwater-36.toml"
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.closed_form
def test_a_block_of_two_rows_is_told_as_a_mender_counts_it(run):
    """Two rows of three knots: 24 ends less 5 shared bars are 19 out; two more cut, 21 to knit, 16 knots."""
    ended = run("mend", SPEC, "--torn", "7:12-14", "--torn", "8:12-14")
    assert ended.code == 0, ended.err
    words = " ".join(ended.out.split())
    assert "19 bars are torn. Cut first: 6:12 to 7:11, 8:15 to 9:14." in words
    assert "Start at 6:15, finish at 9:11: 21 bars and 16 knots" in words
    # 21 bars of 1 3/4 in, 16 knots of 16 diameters, a twentieth for waste; 350 knots and 900 cuts an hour
    metres = 1.05 * (21 * 1.75 * 0.0254 + 16 * 16 * find_twine("#15").diameter)
    assert f"{metres / 0.3048:.3g} ft of twine, about {60 * (16 / 350 + 2 / 900):.0f} min." in words


def test_scripts_are_told_every_pass(run):
    told = json.loads(run("mend", SPEC, "--throat", "1", "--torn", "9:4", "--json").out)
    rows = told["rows"]
    assert sum(row["bars"] for row in rows) == 6
    assert [row["pass"] for row in rows] == list(range(1, len(rows) + 1))


def test_what_is_no_knot_is_told_at_once(run):
    ended = run("mend", SPEC, "--torn", "99:1", "--torn", "7:45", "--torn", "here")
    assert ended.code == 2
    for word in ("no row 99", "row 7 has knots 1 to 44", "'here' is no row and knot"):
        assert word in ended.err
    assert "There is no throat 3" in run("mend", SPEC, "--throat", "3", "--torn", "7:1").err
    assert "mend them one by one" in run("mend", SPEC, "--torn", "7:1", "--torn", "20:20").err


def test_the_drawing_shows_the_way_of_the_twine_and_what_is_cut(run, tmp_path):
    target = tmp_path / "hole.svg"
    ended = run(
        "mend", SPEC, "--torn", "7:44-1", "--torn", "8:44-1", "-o", target
    )  # across the reference mark
    assert ended.code == 0, ended.err
    root = ElementTree.parse(target).getroot()
    way = root.find(f"{SVG}polyline").get("points").split()
    assert len(way) == 15 + 1  # 4 knots, 16 ends less 3 shared bars, and two more cut
    assert len(root.findall(f"{SVG}path[@class='cut']")) == 2
    numbers = [text.text for text in root.iter(f"{SVG}text") if text.text.isdecimal()]
    tied = len(set(way))
    assert {str(number) for number in range(1, tied + 1)} <= set(numbers)
    steps = [tuple(map(float, place.split(","))) for place in way]
    spans = [abs(ax - bx) + abs(ay - by) for (ax, ay), (bx, by) in pairwise(steps)]
    assert max(spans) < 2 * min(spans)  # from knot to neighbour, never across the sheet
    width, height = float(root.get("width")[:-2]), float(root.get("height")[:-2])
    assert all(0 <= x <= width and 0 <= y <= height for x, y in steps)


def test_a_mend_stands_on_one_page_with_its_drawing_and_steps(run, tmp_path):
    target = tmp_path / "hole.pdf"
    torn = ["--torn", "7:12-15", "--torn", "8:12-15", "--torn", "9:13-15"]
    assert run("mend", SPEC, *torn, "-o", target).code == 0
    with pdfplumber.open(target) as pdf:
        assert len(pdf.pages) == 1
        words = " ".join(pdf.pages[0].extract_text().split())
        inside = pdf.pages[0].bbox
        assert all(inside[0] <= one["x0"] and one["x1"] <= inside[2] for one in pdf.pages[0].chars)
    for text in ("Mending hole 1, in the body", "Make the twine fast at 6:16.", "start, 6:16", "mended on"):
        assert text in words


def test_the_bench_book_of_a_torn_net_ends_with_its_mends(run, tmp_path):
    """The last hole is two that share no knot: its page says what to do about it."""
    spec, target = tmp_path / "torn.toml", tmp_path / "sheet.pdf"
    holes = '[[hole]]\nknots = ["5:7"]\n\n[[hole]]\nknots = ["3:4", "9:12"]\n'
    spec.write_text(spec_text(around=16, diameters=(0.36, 0.36), deep=(6,), extra=holes), "utf-8")
    assert run("sheet", spec, "-o", target).code == 0
    with pdfplumber.open(target) as pdf:
        one, two = (" ".join(page.extract_text().split()) for page in pdf.pages[-2:])
    for words in ("Mending hole 1, in the body", "mended on"):
        assert words in one
    for words in ("Mending hole 2, in the body", "mend them one by one"):
        assert words in two


@pytest.mark.closed_form
def test_a_worn_hoop_is_laced_anew_by_itself(run):
    """44 knots of 2 hitches at hoop 3, cut at 900 and sewn at 300 an hour: 88 / 900 + 88 / 300 h."""
    told = json.loads(run("mend", SPEC, "--lacing", "3", "--json").out)
    (row,) = told["rows"]
    assert (row["takes"], row["hitches"], row["minutes"]) == ("body", 88, round(60 * (88 / 900 + 88 / 300)))
    assert run("mend", SPEC, "--lacing", "9").code == 2
