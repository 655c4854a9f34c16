"""A net that is worked on: what is typed, undone, kept, changed by others and given back."""

import json
from datetime import date

import pytest

from net3d.errors import OutputError, SpecError
from net3d.spec.log import Entry, read_log
from net3d.workshop.work import Work
from net3d.writers.log import add_entry
from tests.workshop.conftest import NET


@pytest.fixture
def asked():
    return []


@pytest.fixture
def work(folder, asked):
    return Work(folder / "weir.toml", asked.append)


def look(work):
    """Look at the files twice, as the server does: what rests meanwhile was saved."""
    work.look()
    work.look()


def state(work):
    return json.loads(work.told["state"][1])


def test_keeping_changes_what_was_typed_and_no_other_byte(folder, work, asked):
    work.change({"hoop.2.circumference": "95", "rigging.bridle.length": "2 ft 8 in"})
    assert (folder / "weir.toml").read_text("utf-8") == NET
    assert work.keep() == "weir.toml"
    expected = NET.replace('"95 1/2"', "95").replace("length = 30 }", 'length = "2 ft 8 in" }')
    assert (folder / "weir.toml").read_bytes() == expected.encode()
    assert [path.name for path in folder.iterdir()] == ["weir.toml"]
    assert len(asked) == 2  # when it was opened, and after the change


def test_line_ends_stay_as_they_are(folder):
    path = folder / "weir.toml"
    path.write_bytes(NET.replace("\n", "\r\n").encode())
    work = Work(path, lambda _: None)
    work.change({"tail.deep": "4.5"})
    work.keep()
    assert path.read_bytes() == NET.replace("deep = 4\n", "deep = 4.5\n").replace("\n", "\r\n").encode()


def test_what_will_not_do_is_told_by_its_key_and_changes_nothing(folder, work, asked):
    with pytest.raises(SpecError) as refused:
        work.change({"hoop.1.rod": "thick", "tail.deep": "5"})
    assert [problem.key for problem in refused.value.problems] == ["hoop[1].rod"]
    with pytest.raises(SpecError, match="not a key"):
        work.change({"hoop.1.colour": "red"})
    assert (work.text, len(asked), state(work)["undo"]) == (NET, 1, 0)
    assert (folder / "weir.toml").read_text("utf-8") == NET


def test_a_text_that_would_not_do_outlives_its_server_and_hinders_no_other(folder, work):
    """It goes with the draft, also where that holds nothing else, until it is set right."""

    def refused(one):
        return state(one)["refused"], [wrong["key"] for wrong in state(one)["wrong"]]

    with pytest.raises(SpecError):
        work.change({"hoop.1.rod": "thick"})
    again = Work(folder / "weir.toml", lambda _: None)
    assert refused(again) == ({"hoop.1.rod": "thick"}, ["hoop.1.rod"])
    assert state(again)["kept"]
    with pytest.raises(SpecError, match="thick"):
        again.change({"hoop.1.rod": "thick", "tail.deep": "6"})
    assert again.text == NET.replace("deep = 4\n", "deep = 6\n")
    again.keep()
    again.undo()
    assert refused(again) == ({"hoop.1.rod": "thick"}, ["hoop.1.rod"])
    again.redo()
    again.change({"hoop.1.rod": "1/2"})
    assert refused(again) == ({}, [])
    assert [path.name for path in folder.iterdir()] == ["weir.toml"]


def test_a_text_that_would_not_do_goes_with_its_box(work):
    for deed, left in (("up", {"tail.deep": "far"}), ("copy", {"tail.deep": "far"})):
        with pytest.raises(SpecError):
            work.change({"hoop.2.rod": "thick", "sections.deep.1": "long", "tail.deep": "far"})
        work.row(deed, 2)
        assert state(work)["refused"] == left


def test_what_is_no_box_is_not_remembered(folder, work):
    for boxes in ({"colour": "red"}, {"title": "a" * 1001}, {"tail.deep": "x" * 1001}):
        with pytest.raises(SpecError):
            work.change(boxes)
    assert state(work)["refused"] == {}
    assert [path.name for path in folder.iterdir()] == ["weir.toml"]


def test_two_boxes_that_only_do_together(work):
    with pytest.raises(SpecError):
        work.change({"hoop.1.circumference": ""})
    work.change({"hoop.1.circumference": "", "hoop.1.diameter": "30 1/2"})
    assert 'diameter      = "30 1/2"' in work.text or 'diameter = "30 1/2"' in work.text


def test_undo_and_redo_step_by_step(work):
    for deep in ("5", "6", "7"):
        work.change({"tail.deep": deep})
    seven = work.text
    for deep in ("deep = 6\n", "deep = 5\n", "deep = 4\n"):
        work.undo()
        assert deep in work.text
    assert work.text == NET
    assert state(work)["kept"]
    work.undo()
    assert work.text == NET
    for _ in range(3):
        work.redo()
    assert work.text == seven


def test_a_change_by_others_is_told_and_both_are_kept(folder, work):
    path, foreign = folder / "weir.toml", NET.replace("Weir net", "Theirs")
    work.change({"tail.deep": "6"})
    mine = work.text
    path.write_text(foreign, encoding="utf-8", newline="\n")
    look(work)
    assert state(work)["foreign"]
    assert work.text == mine
    assert work.keep() == "weir-mine.toml"
    assert path.read_text("utf-8") == foreign
    assert (folder / "weir-mine.toml").read_text("utf-8") == mine
    assert work.keep() == "weir-mine.toml"  # the same once more is no other file
    work.take_file()
    assert work.text == foreign
    work.undo()
    assert work.text == mine


def test_a_change_by_others_is_followed_where_nothing_is_at_stake(folder, work, asked):
    path, foreign = folder / "weir.toml", NET.replace("Weir net", "Theirs")
    path.write_text(foreign[:-40], encoding="utf-8", newline="\n")
    work.look()
    assert work.text == NET  # it may still be being saved
    path.write_text(foreign, encoding="utf-8", newline="\n")
    look(work)
    assert state(work)["values"]["title"] == "Theirs"
    assert not state(work)["foreign"]
    assert len(asked) == 2
    work.undo()
    assert work.text == NET
    assert path.read_text("utf-8") == foreign


def test_a_file_that_was_spoilt_by_others_is_told_by_its_line_until_it_is_right_again(folder, work, asked):
    path = folder / "weir.toml"
    path.write_text(NET.replace("= 24 ", "= -24 "), encoding="utf-8", newline="\n")
    look(work)
    assert [problem.split(":")[:2] for problem in state(work)["problems"]] == [["line 6", " netting.around"]]
    path.write_text(NET.replace("= 24 ", "= 26 "), encoding="utf-8", newline="\n")
    look(work)
    assert state(work)["problems"] == []
    assert state(work)["values"]["netting"]["around"] == 26
    assert len(asked) == 2  # when it was opened, and when it was right again


def test_the_shops_file_is_followed_whatever_is_at_stake(folder, work, asked):
    work.change({"tail.deep": "6"})
    (folder / "shop.toml").write_text('units = "in"\n[quote]\nseller = "Shop by the weir"\n', "utf-8")
    look(work)
    assert len(asked) == 3
    assert work.spec.quote.seller == "Shop by the weir"
    assert "deep = 6\n" in work.text
    assert not state(work)["foreign"]


def test_a_draft_is_given_back_with_its_steps(folder, work):
    work.change({"tail.deep": "6"})
    work.change({"tail.deep": "7"})
    again = Work(folder / "weir.toml", lambda _: None)
    assert again.text == work.text
    again.undo()
    assert "deep = 6\n" in again.text
    again.keep()
    assert not again.draft.exists()


def test_a_draft_of_a_file_that_was_changed_since_overwrites_nothing(folder, work):
    work.change({"tail.deep": "6"})
    foreign = NET.replace("Weir net", "Theirs")
    (folder / "weir.toml").write_text(foreign, encoding="utf-8", newline="\n")
    again = Work(folder / "weir.toml", lambda _: None)
    assert state(again)["foreign"]
    assert again.keep() == "weir-mine.toml"
    assert (folder / "weir.toml").read_text("utf-8") == foreign


@pytest.mark.parametrize(
    "left", ["", "{", "[]", '{"text": 3}', '{"taken": [[0]], "undone": [], "base": "", "text": ""}']
)
def test_a_draft_that_is_none_is_passed_over(folder, left):
    (folder / ".weir.toml.draft").write_text(left, encoding="utf-8")
    assert Work(folder / "weir.toml", lambda _: None).text == NET


def test_a_spec_that_cannot_be_used_is_told_and_left_alone(folder):
    (folder / "weir.toml").write_text("title = 3", encoding="utf-8")
    work = Work(folder / "weir.toml", lambda _: None)
    assert state(work)["values"] is None
    assert any("line 1: title" in problem for problem in state(work)["problems"])
    with pytest.raises(SpecError, match="editor"):
        work.change({"title": "Weir"})


HOLED = NET.replace("[[hoop]]", '[[hole]]\nknots = ["2:7"]\n\n[[hoop]]', 1)


def test_what_is_written_into_the_record_is_told_the_newest_first(folder, work):
    (folder / "weir.toml").write_text(HOLED, encoding="utf-8", newline="\n")
    look(work)
    work.log({"kind": "set", "date": "2026-05-01", "note": " At the mill. "})
    work.log({"kind": "mended", "date": "2026-06-01", "hole": "1"})
    record = json.loads(work.told["record"][1])
    assert [(one["date"], one["kind"], one["note"]) for one in record["entries"]] == [
        ("2026-06-01", "mended", "Hole 1: body, 2:7."),
        ("2026-05-01", "set", "At the mill."),
    ]
    assert [entry.note for entry in read_log(folder / "net-log.toml").of("weir")] == [
        "At the mill.",
        "Hole 1: body, 2:7.",
    ]
    assert "All it took so far: #15" in " ".join(record["notes"])
    assert (record["holes"], work.text) == ([], NET)
    work.undo()
    assert work.text == HOLED
    assert (folder / "weir.toml").read_text("utf-8") == HOLED


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ({"date": "2026-02-30"}, "date"),
        ({"kind": "sold"}, "kind"),
        ({"kind": "mended", "hole": "2"}, "hole"),
        ({"kind": "mended", "hole": "one"}, "hole"),
        ({"note": "a" * 401}, "note"),
        ({"note": "a\nb"}, "note"),
    ],
)
def test_what_cannot_be_written_into_the_record_is_told_by_its_box(folder, work, typed, key):
    with pytest.raises(SpecError) as refused:
        work.log(typed)
    assert [problem.key for problem in refused.value.problems] == [key]
    assert [path.name for path in folder.iterdir()] == ["weir.toml"]


def test_what_others_write_into_the_record_is_told(folder, work):
    add_entry(folder / "net-log.toml", Entry(date(2026, 5, 1), "weir", "dipped", "In the shed."))
    look(work)
    assert json.loads(work.told["record"][1])["entries"][0]["note"] == "In the shed."
    (folder / "net-log.toml").write_text("this is\nno record\n" + "x\n" * 12, encoding="utf-8")
    look(work)
    assert "net-log.toml, is no record" in state(work)["problems"][0]


def test_a_link_leads_no_writing_out_of_the_folder(folder, tmp_path_factory):
    outside = tmp_path_factory.mktemp("outside")
    for name in (".weir.toml.draft", "net-log.toml"):
        (outside / name).write_text("", encoding="utf-8")
        (folder / name).symlink_to(outside / name)
    work = Work(folder / "weir.toml", lambda _: None)
    work.change({"tail.deep": "6"})
    with pytest.raises(OutputError, match="is a link"):
        work.log({"note": "At the mill."})
    assert [path.read_text("utf-8") for path in outside.iterdir()] == ["", ""]
    assert not work.draft.is_symlink()
    assert Work(folder / "weir.toml", lambda _: None).text == work.text


def test_bars_that_are_no_netting_or_of_another_state_are_not_torn(folder, work):
    for ends in (
        None,
        [],
        [[0]],
        [["0", "1"]],
        [[0, -1]],
        [[True, 1]],
        [[0, 2**40]],
        [[0, 0]],
        [[0, 1]] * 5001,
    ):
        with pytest.raises(SpecError, match="mark"):
            work.tear(ends, work.revision)
    with pytest.raises(SpecError, match="meanwhile"):
        work.tear([[0, 1]], work.revision - 1)
    assert [path.name for path in folder.iterdir()] == ["weir.toml"]


def test_the_last_window_wins_and_the_other_is_told(work):
    work.change({"tail.deep": "6"}, window="one")
    work.change({"tail.deep": "7"}, window="other")
    assert state(work)["window"] == "other"
    assert state(work)["values"]["tail"]["deep"] == 7
    news = work.news(0)
    assert sorted(kind for _, kind, _ in news) == [
        "record",
        "state",
    ]  # only the newest of a kind, however many there were
    assert work.news(news[-1][0]) == []
