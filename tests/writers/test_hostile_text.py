"""Hostile text in titles and names: harmless in every file, and still to be read there.

Every file is read back by a reader that has nothing to do with net3d. What must not happen follows from the
formats: HTML Living Standard (script and event handlers), XML 1.0 (legal characters), RFC 8259, RFC 4180, and
OWASP's page on CSV injection (cells that start with = + - @ tab or carriage return).
"""

import csv
import io
import json
import re
import unicodedata
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from types import SimpleNamespace
from xml.etree import ElementTree

import pdfplumber
import pytest
import trimesh

from net3d.cli import main
from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec
from net3d.tables.sheet import Column, Sheet
from net3d.units import Tape
from net3d.writers.csv_tables import write_table
from tests.nets import spec_text

TEXTS = {
    "html": "</title></script><script>alert(1)</script><img src=x onerror=alert(2)>]]><svg onload='x'>&lt;",
    "typst": '#read("/etc/passwd") #import "x" @ref $x$ *b* `c` <l> \\ // ../../etc/passwd%00 ..\\x C:\\',
    "formula": "=cmd|'/c calc'!A0",
    "markup": "[red]x[/red] [link=http://a.example]y[/link] :fish: [/] \\[b] {{ 7*7 }} {title} %s $(id) \\",
    "letters": "שלום Ünïcödé ½ \N{FISH} العربية 漁網 e\u0301",
    "long": "W" * 120,
}
REFUSED = {
    "escape": "\x1b]0;owned\x07\x1b[2J",
    "c1": "\x9b31m",
    "nul": "a\x00b",
    "lines": "a\nb",
    "return": "a\rb",
    "tab": "a\tb",
    "override": "\u202egpj.exe",
    "isolate": "\u2066x",
    "no letter": "\ufffe",
    "delete": "a\x7fb",
    "too long": "W" * 10_000,
}
NET = {
    "around": 12, "diameters": (0.3, 0.3, 0.3), "deep": (2.5, 3), "tail": 4, "legs": 3,
    "throats": [{"hoop": 1, "deep": 3.5, "tip": 6, "strings": {"to_hoop": 3}}],
}  # fmt: skip


def hostile_spec(text, **keys):
    """A net with a text wherever a maker may write one of his own."""
    typed = json.dumps(text, ensure_ascii=False)
    extra = (
        f"[twine.{typed}]\ndiameter = 0.001\ntex = 1500\nstrength = 600\nfibre = 'PA'\n"
        f"[prices]\ncurrency = {json.dumps(text[:12].strip(), ensure_ascii=False)}\nhour = 20\nprice = 480\n"
        f"[[pile]]\nname = {typed}\ndiameter = 0.3\nrod = 0.01\nmaterial = 'steel'\n"
    )
    written = spec_text(**NET | keys, extra=extra).replace(
        "#15", text.replace("\\", "\\\\").replace('"', '\\"')
    )
    return written.replace('"Test net"', typed).replace("[statics]", "current = 0.4\n[statics]")


def run(*arguments):
    """A command as the program runs it; its exit code."""
    with pytest.raises(SystemExit) as ending:
        main([str(argument) for argument in arguments])
    return ending.value.code or 0


@pytest.fixture(
    scope="module",
    params=[pytest.param(text, id=name, marks=pytest.mark.xdist_group(name)) for name, text in TEXTS.items()],
)
def made(request, tmp_path_factory):
    """Everything that net3d writes of a net with one of the texts."""
    folder = tmp_path_factory.mktemp("hostile")
    spec = folder / "net.toml"
    spec.write_text(hostile_spec(request.param), encoding="utf-8")
    assert run("build", spec, "-o", folder) == 0
    assert run("sheet", spec, "-o", folder, "--strip", "1", "--quote", "costs") == 0
    assert run("cfd", spec, "-o", folder) == 0
    assert run("loads", spec, "--plot", folder / "drag.svg") == 0
    assert run("usdz", spec, "-o", folder / "net.usdz") == 0
    return SimpleNamespace(text=request.param, folder=folder, net=folder / "net", spec=spec)


def test_nothing_is_written_elsewhere(made):
    beside = {path.name for path in made.folder.iterdir()}
    assert beside == {
        "net", "net.toml", "net-sheet.pdf", "net-strip-1.pdf", "net-quote.pdf", "net-cfd.stl", "net-cfd.txt",
        "drag.svg", "net.usdz",
    }  # fmt: skip


class Page(HTMLParser):
    """The elements and the text of a page."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.starts, self.handlers, self.titles, self._in, self.scene = [], [], [], "", ""

    def handle_starttag(self, tag, attrs):  # noqa: D102 - as HTMLParser says
        self.starts.append(tag)
        self.handlers += [name for name, _ in attrs if name.startswith("on")]
        self.handlers += [
            value for name, value in attrs if name in ("href", "src") and "script:" in (value or "")
        ]
        self._in = "scene" if ("id", "scene") in attrs else tag

    def handle_endtag(self, tag):  # noqa: D102
        self._in = ""

    def handle_data(self, data):  # noqa: D102
        if self._in in ("title", "h1"):
            self.titles.append(data)
        if self._in == "scene":
            self.scene += data


@pytest.fixture(scope="module")
def plain_page(tmp_path_factory):
    folder = tmp_path_factory.mktemp("plain")
    (folder / "net.toml").write_text(hostile_spec("Plain"), encoding="utf-8")
    assert run("build", folder / "net.toml", "-o", folder) == 0
    return read_page(folder / "net")


def read_page(folder):
    page = Page()
    page.feed((folder / "page.html").read_text("utf-8"))
    page.close()
    return page


def test_the_page_holds_the_text_and_no_element_of_it(made, plain_page):
    page = read_page(made.net)
    assert page.titles == [made.text, made.text]
    assert not page.handlers
    assert page.starts == plain_page.starts
    assert json.loads(page.scene).keys() == json.loads(plain_page.scene).keys()


def test_tables_hold_the_text_and_no_formula(made):
    seen = ""
    for path in made.net.glob("*.csv"):
        rows = list(csv.reader(io.StringIO(path.read_bytes().decode("utf-8"), newline="")))
        assert len({len(row) for row in rows}) == 1
        for cell in (cell for row in rows for cell in row if not is_number(cell)):
            assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))
            seen += f"{cell}\n"
    assert made.text in seen


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_no_cell_of_a_table_starts_a_formula(tmp_path, start):
    """Headers are keys and units, and of a maker's words only the currency comes near them."""
    columns = (Column("what", f"{start}1"), Column("price", "each", "money"), Column("kg", "kg"))
    sheet = Sheet("odd", "Odd", Tape("in", currency=start), columns, ((f"{start}1+1", 2.0, -1.5),))
    write_table(sheet, tmp_path / "odd.csv")
    head, row = csv.reader(io.StringIO((tmp_path / "odd.csv").read_bytes().decode("utf-8"), newline=""))
    assert (head, row[0]) == (["what", "price", "kg"], f"'{start}1+1")
    assert float(row[2]) == -1.5


def is_number(cell):
    try:
        return cell == "" or float(cell) == float(cell)
    except ValueError:
        return False


def test_the_report_holds_the_text(made):
    def refuse(constant):
        raise AssertionError(constant)

    report = json.loads((made.net / "report.json").read_text("utf-8"), parse_constant=refuse)
    assert report["title"] == made.text
    assert report["materials"]["twine"] == made.text


@pytest.mark.parametrize("name", ["net/side.svg", "drag.svg"])
def test_drawings_are_xml_that_holds_the_text(made, name):
    drawing = ElementTree.parse(made.folder / name).getroot()
    tags = {element.tag.partition("}")[2] for element in drawing.iter()}
    assert tags <= {"svg", "title", "rect", "path", "g", "text", "circle", "polygon", "polyline", "line"}
    assert not [key for element in drawing.iter() for key in element.attrib if key.startswith("on")]
    title = next(element for element in drawing.iter() if element.tag.endswith("title"))
    assert made.text in title.text


@pytest.mark.parametrize("name", ["net/sheet.pdf", "net-strip-1.pdf", "net-quote.pdf"])
def test_paper_holds_the_text_within_its_edges(made, name):
    with pdfplumber.open(made.folder / name) as book:
        assert made.text in book.metadata["Title"]
        page = book.pages[0]
        read = "".join(page.extract_text().split())
        for char in page.chars:
            assert -1 <= char["x0"] <= char["x1"] <= page.width + 1
        assert not book.annots
    assert "root:" not in read
    typed = filter(str.isalnum, filter(str.isascii, made.text))
    assert Counter(typed) <= Counter(read)  # a long word is broken, and the date stands beside it


def test_the_explanation_holds_the_text(made):
    assert (made.folder / "net-cfd.txt").read_text("utf-8").startswith(f"{made.text}: ")


def test_models_name_their_parts_by_the_plan_alone(made):
    from pxr import Usd  # noqa: PLC0415

    scene = trimesh.load(made.net / "net.glb")
    stage = Usd.Stage.Open(str(made.folder / "net.usdz"))
    names = [prim.GetName() for prim in stage.Traverse()] + list(scene.geometry)
    assert names
    assert all(re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*( \([0-9.]+ m\)(_[0-9]+)?)?", name) for name in names)
    solids = re.findall(r"^solid (.*)$", (made.folder / "net-cfd.stl").read_text("ascii"), re.MULTILINE)
    assert all(re.fullmatch(r"[a-z0-9-]+", name) for name in solids)


@pytest.mark.parametrize("command", [("check", "--all"), ("marks",), ("cuts",), ("materials",), ("loads",)])
def test_a_terminal_shows_the_text_and_is_not_steered(made, capsys, command):
    assert run(command[0], made.spec, *command[1:]) in (0, 1)
    out = capsys.readouterr().out
    assert harmless(out)
    assert "".join(made.text.split()) in "".join(out.split())


def harmless(text):
    """Nothing in a text steers a terminal or turns it around."""
    return not any(unicodedata.category(letter) in ("Cc", "Cf") and letter != "\n" for letter in text)


@pytest.mark.parametrize("text", REFUSED.values(), ids=REFUSED.keys())
@pytest.mark.parametrize("place", ["title", "twine", "pile", "currency"])
def test_what_cannot_be_printed_is_refused_harmlessly(text, place):
    typed = json.dumps(text).replace("\x7f", "\\u007F").replace("\x9b", "\\u009b")
    sound = hostile_spec("Sound")
    changed = {
        "title": sound.replace('title = "Sound"', f"title = {typed}"),
        "twine": sound.replace('[twine."Sound"]', f"[twine.{typed}]"),
        "pile": sound.replace('name = "Sound"', f"name = {typed}"),
        "currency": sound.replace('currency = "Sound"', f"currency = {typed}"),
    }[place]
    assert changed != sound
    with pytest.raises(SpecError) as caught:
        parse_spec(changed)
    assert harmless(str(caught.value))
    assert all(len(line) < 400 for line in str(caught.value).splitlines())
    assert any(place in problem.key for problem in caught.value.problems)


@pytest.mark.parametrize("key", ["\x1b[31m", "\u202ex", "=1", "<b>", "k" * 10_000, ""])
def test_keys_and_values_are_shown_harmlessly(key):
    typed = json.dumps(key)
    for line in (f"{typed} = 1", f"start = {typed}", f"[{typed}]", f"[hoop.{typed}]\nx = {typed}"):
        with pytest.raises(SpecError) as caught:
            parse_spec(f"{line}\n{hostile_spec('Sound')}")
        assert harmless(str(caught.value))
        assert all(len(line) < 1500 for line in str(caught.value).splitlines())


def test_a_file_name_in_a_message_steers_nothing():
    with pytest.raises(SpecError) as caught:
        read_spec(Path("\x1b[31m\u202egnp.toml"))
    assert harmless(str(caught.value))
