"""net3d sheet: what it writes, and what it refuses."""

import pdfplumber
import pytest


def test_sheets_go_to_the_folder_that_is_named(run, spec, tmp_path):
    ended = run("sheet", spec, "-o", "paper", "--date", "2026-03-01", "--paper", "a4")
    assert ended.code == 0
    with pdfplumber.open(tmp_path / "paper/small-sheet.pdf") as pdf:
        assert "2026-03-01" in pdf.pages[0].extract_text()
        assert round(pdf.pages[0].height / 72 * 25.4) == 297  # A4, ISO 216


def test_a_strip_and_a_quote_are_files_of_their_own(run, small_net, tmp_path):
    path = tmp_path / "priced.toml"
    path.write_text(f"{small_net}\n[prices]\nprice = 480\n", encoding="utf-8")
    assert run("sheet", path, "--strip", "2", "--quote").code == 0
    names = {file.name for file in (tmp_path / "outputs").iterdir()}
    assert names == {"priced-sheet.pdf", "priced-strip-2.pdf", "priced-quote.pdf"}


@pytest.mark.parametrize("hoop", ["0", "4", "-1"])
def test_a_hoop_that_is_not_there_has_no_strip(run, spec, hoop, tmp_path):
    ended = run("sheet", spec, "--strip", hoop)
    assert ended.code == 2
    assert "hoops 1 to 3" in ended.err
    assert not (tmp_path / "outputs").exists()


def test_no_quote_without_a_price(run, spec, tmp_path):
    ended = run("sheet", spec, "--quote")
    assert ended.code == 2
    assert "[prices]" in ended.err
    assert not (tmp_path / "outputs").exists()


def test_a_folder_that_cannot_be_written_is_no_traceback(run, spec, tmp_path):
    (tmp_path / "outputs").write_text("a file")
    ended = run("sheet", spec)
    assert ended.code == 2
    assert "cannot be written" in ended.err


@pytest.mark.parametrize("command", ["picture", "print", "sheet", "cfd"])
def test_what_is_written_goes_to_a_file_by_suffix_and_else_into_a_folder(run, spec, tmp_path, command):
    suffix = {"picture": ".png", "sheet": ".pdf"}.get(command, ".stl")
    own = {"picture": "small-quarter", "print": "small-print", "sheet": "small-sheet", "cfd": "small-cfd"}
    assert run(command, spec, "-o", f"made/this{suffix}").code == 0
    assert run(command, spec, "-o", "folder").code == 0
    assert (tmp_path / f"made/this{suffix}").is_file()
    assert (tmp_path / f"folder/{own[command]}{suffix}").is_file()
