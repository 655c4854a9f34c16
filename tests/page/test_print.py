"""The page printed by the browser, read back from its PDF."""

import re

import net3d
from tests.page.conftest import DESKTOP

A4, LETTER = (8.27, 11.69), (8.5, 11.0)  # [in]


def words_of(paper):
    """All words in the order they were written, and none of them off the paper."""
    words = [(word, page) for page in paper.pages for word in page.extract_words(use_text_flow=True)]
    outside = [
        w["text"] for w, page in words if w["x0"] < 0 or w["x1"] > page.width or w["bottom"] > page.height
    ]
    assert outside == []
    return " ".join(word["text"] for word, _ in words)


def wanted(design):
    """Every hoop's readings as the table of marks has them, each with its number before it."""
    sheet = net3d.marks_sheet(design.spec, design.plan)
    for record in sheet.records:
        readings = [
            value for key, value in record.items() if re.fullmatch(r"mark_\d+", key) and value is not None
        ]
        tape = design.spec.tape
        yield (
            record["hoop"],
            " ".join(f"{number} {tape.cell(value, 'reading')}" for number, value in enumerate(readings, 1)),
        )


def test_every_mark_of_every_hoop_of_every_sample_is_on_paper(offline, samples, sample_pages):
    for name, design in samples.items():
        offline.open(sample_pages[name].as_uri())
        offline.ask("document.getElementById('shop').open = true")
        for size in (A4, LETTER) if name == "tapering-0.75" else (A4,):
            with offline.paper(size) as paper:
                text = words_of(paper)
            for hoop, readings in wanted(design):
                assert f"Hoop {hoop} " in text, (name, size)
                assert readings in text, (name, size, hoop)


def test_a_customer_gets_one_or_two_pages_with_every_hoop(offline, samples, sample_pages):
    for name, design in samples.items():
        offline.open(sample_pages[name].as_uri())
        with offline.paper(LETTER) as paper:
            text = words_of(paper)
            assert len(paper.pages) <= 2, name
        places = (design.shape.hoop_positions - design.shape.hoop_positions[0]).tolist()
        for hoop, place in zip(design.plan.hoops, places, strict=True):
            across, behind = (
                design.spec.tape.cell(length, "reading") for length in (hoop.outside_diameter, place)
            )
            assert f" {hoop.number} {across} {behind}" in text, (name, hoop.number)
        assert "Marks on the hoops" not in text
        assert "look up the local code" in text


def test_no_table_is_wider_than_a_desktop(offline, sample_pages):
    for name, page in sample_pages.items():
        offline.open(page.as_uri(), DESKTOP)
        offline.ask("document.getElementById('shop').open = true")
        boxes = offline.ask(
            "return [...document.querySelectorAll('.table')].map((box) => [box.scrollWidth, box.clientWidth])"
        )
        assert all(inside <= room for inside, room in boxes), name
        assert offline.ask("return document.documentElement.scrollWidth") == DESKTOP[0], name
