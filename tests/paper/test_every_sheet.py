"""The bench sheets of every sample, read back: how full they are, and that all on them can be read."""

import io
import re
from datetime import date

import numpy as np
import pdfplumber
import pytest

from net3d.paper.documents import Imprint, bench_pdf
from net3d.paper.pdf import usual_paper
from tests.nets import OTHERS, TELLING, sample

pytestmark = pytest.mark.second_route

DAY = date(2026, 3, 1)
POINT = 0.0254 / 72


def fill(page):
    """The part of a page's height, within its margins of 0.95 and 0.75 in, down to the lowest thing on it."""
    top, bottom = 0.95 * 72 - 3, float(page.height) - 0.75 * 72 + 3
    things = [*page.chars, *page.lines, *page.rects, *page.curves, *page.images]
    lowest = max(one["bottom"] for one in things if top < one["top"] and one["bottom"] < bottom)
    return (lowest - top) / (bottom - top)


@pytest.fixture(
    scope="module",
    params=[
        ("backwater-36", "a4"),
        ("tapering-0.75", "us-letter"),
        *((name, None) for name in TELLING),
        *(pytest.param((name, None), marks=pytest.mark.slow) for name in OTHERS),
    ],
    ids=lambda one: "-".join(filter(None, one)),
)
def sheets(request):
    """A sample and its bench sheets, on the usual paper unless told."""
    name, paper = request.param
    net = sample(name)
    content = bench_pdf(net, Imprint(DAY, paper or usual_paper(net.spec.units)))
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        yield net, pdf.pages


def test_no_page_is_under_half_full_but_the_last_and_each_drawing_is_on_its_hoops_page(sheets):
    net, pages = sheets
    filled = [fill(page) for page in pages]
    assert min(filled[:-1]) > 0.5, filled
    guides = bool(net.plan.guides)  # whose setting has a page of its own
    assert len(pages) <= 7 + guides + len(net.plan.hoops) + len(net.plan.throats)
    told = {}
    for page in pages:
        for number in re.findall("Hoop ([0-9]+), seen from the mouth", page.extract_text()):
            told[int(number)] = page
    titles = [page.extract_text().splitlines()[1] for page in pages]
    for page, title in zip(pages, titles, strict=True):
        if re.match("Hoops? [0-9]", title):
            drawn = [number for number, shown in told.items() if shown is page]
            assert len(drawn) == 1, title
            assert str(drawn[0]) in re.findall("[0-9]+", title)


def test_no_letter_is_printed_over_another(sheets):
    for page in sheets[1]:
        letters = [one for one in page.chars if one["upright"] and one["text"].strip()]
        left, right, top, bottom = (
            np.array([one[side] for one in letters]) for side in ("x0", "x1", "top", "bottom")
        )
        shared = [
            (np.minimum.outer(end, end) - np.maximum.outer(begin, begin))
            / np.minimum.outer(end - begin, end - begin)
            for begin, end in ((left, right), (top, bottom))
        ]
        over = np.argwhere(np.triu((shared[0] > 0.5) & (shared[1] > 0.5), 1))
        assert [(letters[i]["text"], letters[j]["text"]) for i, j in over] == []


def test_the_net_is_large_on_the_cover(sheets):
    """However much is written around it: from the first hoop to the end of the tail at least 60 mm."""
    net, pages = sheets
    scale = float(re.search(r"Scale 1:([0-9.]+)", pages[0].extract_text())[1])
    assert (net.shape.tail_end - net.shape.hoop_positions[0]) / scale > 0.06


def test_a_printer_without_colours_loses_nothing(sheets):
    """Ink or grey is all there is, and no words are paler than what can be read: WCAG 2.1, 4.5 : 1."""
    _, pages = sheets
    for page in pages:
        for one in (*page.chars, *page.lines, *page.rects, *page.curves):
            for colour in (one["stroking_color"], one["non_stroking_color"]):
                assert np.ptp(colour or 0) < 0.05, (page.page_number, colour)
        words = [np.mean(one["non_stroking_color"]) for one in page.chars]
        assert max(words) < 0.46  # sRGB of the luminance 1.05 / 4.5 - 0.05, by the curve of IEC 61966-2-1


def test_what_is_written_in_a_throats_pattern_can_be_read(sheets):
    """Type is 2.5 mm high at least: common practice on A4, no source."""
    _, pages = sheets
    for page in pages:
        if re.search("hroat [0-9]+$", page.extract_text().splitlines()[1]):
            assert min(one["size"] for one in page.chars) * POINT > 0.0025
