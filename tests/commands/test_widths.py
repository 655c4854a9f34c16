"""Tables at every width that a terminal has, read back from an unrelated terminal emulator's screen (pyte).

Nothing outside says what must stand in a table; that no number and no word is broken or lost holds for all.
"""

import sys
from io import StringIO

import pyte
import pytest

from net3d.checks import told_once
from net3d.checks.river import check_river
from net3d.commands.printing import UNPRINTED_WIDTH, print_findings, print_sheet, tell
from net3d.commands.screen import bound
from net3d.tables.bearing import anchors_sheet, hoops_sheet, legs_sheet, netting_sheet
from net3d.tables.cautions import POINTER
from net3d.tables.cuts import cuts_sheet
from net3d.tables.lacing import lacing_sheet
from net3d.tables.loads import loads_sheet, models_sheet
from net3d.tables.marks import marks_sheet
from net3d.tables.materials import materials_sheet
from net3d.tables.standing import standing_sheet
from net3d.tables.throats import throat_sheet
from net3d.tables.twines import twines_sheet
from tests.nets import EACH_SAMPLE, sample

pytestmark = pytest.mark.law

WIDTHS = (60, 72, 80, 100, 127, 200)


@pytest.fixture(scope="module", params=EACH_SAMPLE)
def net(request):
    return sample(request.param)


@pytest.fixture(scope="module")
def sheets(net):
    spec, plan = net.spec, net.plan
    found = [
        marks_sheet(spec, plan),
        cuts_sheet(spec, plan),
        materials_sheet(spec, plan, net.string_lengths),
        lacing_sheet(spec, plan),
        standing_sheet(spec, plan, net.shape),
        twines_sheet(spec.tape),
        *([throat_sheet(net)] if net.shape.throats else []),
    ]
    if net.loads:
        at = net.loads[-1]
        found += [loads_sheet(net, net.loads), models_sheet(net, net.loads), netting_sheet(net, at)]
        found += [anchors_sheet(net, net.loads), hoops_sheet(net, at), legs_sheet(net, at)]
    return [sheet for sheet in found if sheet is not None]


class Terminal(StringIO):
    """What is printed to it, as it stands on a screen of so many columns."""

    def isatty(self):
        """Yes."""
        return True

    def lines(self, width):
        """The lines of its screen."""
        text = self.getvalue().replace("\n", "\r\n")
        screen = pyte.Screen(width, text.count("\n") * 3 + 1)
        pyte.Stream(screen).feed(text)
        return screen.display


def on_screen(monkeypatch, width, show):
    """The words and numbers on a screen, a mixed fraction being one; a line that is full runs on below."""
    terminal = Terminal()
    monkeypatch.setenv("COLUMNS", str(width))
    monkeypatch.setenv("TERM", "xterm-256color")
    with monkeypatch.context() as patch:
        patch.setattr(sys, "stdout", terminal)
        show()
    lines = terminal.lines(width)
    return {piece for line in lines for piece in bound(line).split()}


def pieces(texts):
    return {piece for text in texts for piece in bound(text).split()}


@pytest.mark.parametrize("width", WIDTHS)
def test_no_number_and_no_word_of_a_table_is_broken(sheets, width, monkeypatch):
    for sheet in sheets:
        grid = sheet.grid()
        written = pieces([sheet.title, *(cell for line in grid.lines for cell in line)])
        written |= pieces([note.text for note in sheet.notes])
        shown = on_screen(monkeypatch, width, lambda: print_sheet(sheet))  # noqa: B023 - called at once
        assert written <= shown, (sheet.name, width, written - shown)


@pytest.mark.parametrize("width", WIDTHS)
def test_no_number_and_no_word_of_a_finding_is_broken(net, width, monkeypatch):
    findings = [*net.findings, *(check_river(net.spec, net.plan, net.loads[-1]) if net.loads else ())]
    written = pieces([text for finding in told_once(findings) for text in (finding.where, finding.message)])
    shown = on_screen(monkeypatch, width, lambda: print_findings(findings, everything=True))
    assert written <= shown, (width, written - shown)


@pytest.mark.parametrize("width", WIDTHS)
def test_no_number_and_no_word_of_a_sentence_is_broken(width, monkeypatch):
    text = f"{POINTER} 62 3/8 in from the first hoop to the last, 2 1/16 in either way. " * 3
    shown = on_screen(monkeypatch, width, lambda: tell(text))
    assert pieces([text]) <= shown, (width, pieces([text]) - shown)


def test_a_path_longer_than_a_line_stays_whole(monkeypatch):
    """A terminal lets it run on and gives it back whole when it is copied."""
    path = "/".join(["a-folder-of-nets"] * 5)
    terminal = Terminal()
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setattr(sys, "stdout", terminal)
    tell(f"Written to {path}")
    assert path in terminal.getvalue()


@pytest.mark.parametrize(("told", "width"), [("72", 72), ("", UNPRINTED_WIDTH), ("wide", UNPRINTED_WIDTH)])
def test_what_is_piped_is_as_wide_as_columns_says(sheets, told, width, monkeypatch, capsys):
    monkeypatch.setenv("COLUMNS", told)
    print_sheet(sheets[2])
    widest = max(map(len, capsys.readouterr().out.splitlines()))
    assert width - 12 < widest <= width


def test_a_mixed_fraction_ends_no_line():
    assert len(bound("26 13/16 in and 3 1/2 in").split()) == 5
