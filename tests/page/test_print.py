"""The page printed by the browser, read back from its PDF."""

import re

import net3d
from net3d.drawings.hoop_words import size_text
from tests.nets import sample
from tests.page.conftest import DESKTOP


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


def test_every_mark_of_every_hoop_of_every_sample_is_on_paper(looked_at):
    for name, looked in looked_at.items():
        for size, paper in looked.shop.items():
            assert paper.outside == [], (name, size)
            for hoop, readings in wanted(sample(name)):
                assert f"Hoop {hoop} " in paper.words, (name, size)
                assert readings in paper.words, (name, size, hoop)


def test_no_part_of_a_throat_is_broken_on_paper(looked_at):
    for name, looked in looked_at.items():
        for throat in sample(name).plan.throats:
            for paper in looked.shop.values():
                assert f" {throat.part.name} " in paper.words, name
                assert "throat- " not in paper.words, name


def test_a_customer_gets_one_or_two_pages_with_every_hoop(looked_at):
    for name, looked in looked_at.items():
        paper, design = looked.customer, sample(name)
        assert paper.sheets <= 2, name
        assert paper.outside == [], name
        places = (design.shape.hoop_positions - design.shape.hoop_positions[0]).tolist()
        for hoop, place in zip(design.plan.hoops, places, strict=True):
            tape = design.spec.tape
            words = design.plan.framed
            size = size_text(tape, hoop) if words else tape.cell(hoop.outside_diameter, "reading")
            row = f"{hoop.number} {size} {tape.cell(place, 'cut')}"
            assert f" {row} " in f"{paper.words} ", (name, hoop.number)
        assert "Marks on the hoops" not in paper.words
        assert "look up the local code" in paper.words


def test_no_table_is_wider_than_a_desktop(looked_at):
    for name, looked in looked_at.items():
        assert all(inside <= room for inside, room in looked.tables), name
        assert looked.wide == DESKTOP[0], name
