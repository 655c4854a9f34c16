"""Sizes written over the view: all of them, apart from each other, off the rims."""

import tomllib
from itertools import combinations

import numpy as np

from tests.nets import SPECS, sample
from tests.page.conftest import DESKTOP, PHONE, WRITTEN, page_file
from tests.page.test_view import PAPER


def hoops_of(name):
    """How many hoops a sample's file has."""
    tables = tomllib.loads((SPECS / f"{name}.toml").read_text("utf-8"))["hoop"]
    return sum(table.get("repeat", 1) for table in tables)


def test_the_first_view_has_every_size_of_every_sample(looked_at):
    for name, looked in looked_at.items():
        shape, tape, hoops = sample(name).at_work.shape, sample(name).spec.tape, hoops_of(name)
        sizes = [tape.length(apart) for apart in np.diff(shape.hoop_positions).tolist()]
        assert len(sizes) == hoops - 1
        for size, written in looked.written.items():
            hidden = [one["text"] for one in written if not one["seen"]]
            assert hidden == [], (name, size)
            assert [one["number"] for one in written if one["number"]] == [str(n + 1) for n in range(hoops)]
            assert [one["text"] for one in written[: hoops - 1]] == sizes
            whole = f"{tape.length(shape.length)} hoop to hoop, "
            assert any(one["text"].startswith(whole) for one in written)
            for one, other in combinations([one["box"] for one in written], 2):
                apart = (one[2] <= other[0], other[2] <= one[0], one[3] <= other[1], other[3] <= one[1])
                assert any(apart), (name, size)


def test_no_size_stands_over_a_rim(offline, tmp_path):
    """Of hoops alone, nothing but paper is where the sizes were written."""
    page = page_file(sample("tapering-0.75"), tmp_path / "page.html")
    for size in (DESKTOP, PHONE):
        offline.open(page.as_uri(), size)
        boxes = [one["box"] for one in offline.ask(WRITTEN)]
        left, top = offline.ask(
            "return (({left, top}) => [left, top])(document.getElementById('net').getBoundingClientRect())"
        )
        offline.only("hoop")
        drawn = np.abs(np.asarray(offline.net(), int) - PAPER).max(axis=2) > 12
        assert drawn.any()
        for box in boxes:
            across, down = np.array(box[::2]) - left, np.array(box[1::2]) - top
            part = drawn[int(down[0]) + 1 : int(down[1]), int(across[0]) + 1 : int(across[1])]
            assert not part.any(), (size, box)
