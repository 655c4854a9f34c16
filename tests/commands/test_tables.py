"""Sheets as CSV, read back with Python's csv module, and the little rules of printing them."""

import csv

from net3d.tables.sheet import Column, Sheet, cell_text
from net3d.units import Tape
from net3d.writers.csv_tables import write_table

INCH = 0.0254


def column(key, kind="", number=0):
    return Column(key, f"{key} in words", kind, number)


def write(tmp_path, rows, columns, units="in"):
    path = tmp_path / "sheet.csv"
    write_table(Sheet("sheet", "A sheet", Tape(units), tuple(columns), tuple(rows)), path)
    return path


def test_csv_is_utf8_with_one_header_and_rfc_4180_line_ends(tmp_path):
    path = write(tmp_path, [("Flügel, lang", 3.5 * INCH)], [column("part"), column("length", "length")])
    assert path.read_bytes() == 'part,length_in\r\n"Flügel, lang",3.5\r\n'.encode()


def test_csv_headers_are_keys_with_their_unit(tmp_path):
    """Numbers are in the unit that is named: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.45359237 kg."""
    columns = [
        column("mark", "reading", 2),
        column("twine", "run"),
        column("weight", "mass"),
        column("knots"),
    ]
    row = (25.4e-3, 0.3048, 0.45359237, 7)
    inches = write(tmp_path, [row], columns).read_text("utf-8").splitlines()
    assert inches == ["mark_2_in,twine_ft,weight_lb,knots", "1,1,1,7"]
    metric = write(tmp_path, [row], columns, "mm").read_text("utf-8").splitlines()
    assert metric == ["mark_2_mm,twine_m,weight_kg,knots", "25.4,0.3048,0.453592,7"]


def test_csv_survives_quotes_commas_and_line_breaks(tmp_path):
    texts = ['1/2 in "rod"', "a, b", "two\nlines"]
    path = write(tmp_path, [(text,) for text in texts], [column("what")])
    with path.open(encoding="utf-8", newline="") as file:
        assert [row["what"] for row in csv.DictReader(file)] == texts


def test_csv_texts_are_never_formulas(tmp_path):
    """The signs a spreadsheet starts a formula with: OWASP, CSV injection."""
    texts = ["=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", "plain"]
    path = write(tmp_path, [(text,) for text in texts], [column("what")])
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert rows == [["what"], *[[f"'{text}"] for text in texts[:-1]], ["plain"]]


def test_csv_numbers_stay_numbers(tmp_path):
    columns = [column(name, "length" if name == "a" else "") for name in "abcd"]
    path = write(tmp_path, [(-0.375 * INCH, 12, None, 0.0)], columns)
    assert path.read_text("utf-8").splitlines()[1] == "-0.375,12,,0"


def test_tape_readings_are_printed_as_the_tape_shows_them():
    inches = Tape("in", INCH / 16)
    assert cell_text(3.4375 * INCH, "reading", inches) == "3 7/16"
    assert cell_text(-0.375 * INCH, "reading", inches) == "-3/8"
    assert cell_text(0.087, "reading", Tape("mm", 0.001)) == "87"
    assert cell_text(1.6764, "reading", Tape("ft", INCH / 16)) == "5 ft 6 in"
    assert cell_text(None, "reading", inches) == ""


def test_a_column_of_several_units_has_none_in_its_heading():
    # 118 1/8 in is 9 ft 10 1/8 in, and 0.1 kg is 3.53 oz: arithmetic.
    columns = (Column("length", "length", "cut"), Column("weight", "weight", "mass"), Column("hoop", "hoop"))
    sheet = Sheet("s", "S", Tape("in"), columns, ((0.9144, 2 * 0.45359237, 1), (118.125 * INCH, 0.1, 2)))
    grid = sheet.grid()
    assert grid.headings == ("length", "weight", "hoop")
    assert grid.lines == (("36 in", "2 lb", "1"), ("9 ft 10 1/8 in", "3.53 oz", "2"))
    short = Sheet("s", "S", Tape("in"), columns, ((0.9144, 2 * 0.45359237, 1),)).grid()
    assert (short.headings[:2], short.lines[0][:2]) == (("length (in)", "weight (lb)"), ("36", "2"))
