"""How to measure hoops that have fished for years, and a blank form for it."""

from __future__ import annotations

from net3d.paper.pages import Block, Cautions, Heading, Listing, Notes, Page, PaperColumn, Steps, Together
from net3d.tables.cautions import BENDING

STEPS = (
    (
        "Mark the top.",
        "Before the old net comes off, draw one line of paint along it over the top of every hoop, and "
        "number the hoops from the mouth. The line is each hoop's reference mark. A hoop without one gets "
        "one anywhere.",
        "",
    ),
    (
        "Take the hoop out and let it lie.",
        "Off the net, untied and not weighed down.",
        BENDING,
    ),
    (
        "Find a floor that is flat.",
        "Turn a straight edge on it where the hoop will lie: no light below it.",
        "",
    ),
    (
        "Lay the hoop down, mouth side up.",
        "Let it rest as it falls. It need not touch in three places: a hoop that leans is reckoned level.",
        "",
    ),
    (
        "Chalk the stations.",
        "Run the tape around the outside, note what it reads, and divide it by the number of stations. "
        "Station 1 is the reference mark; the others follow clockwise as you look down on it.",
        "",
    ),
    (
        "Measure the gap at every station.",
        "From the floor to the underside of the rod, without pressing the hoop down. 0 where it touches.",
        "",
    ),
    (
        "Measure across, at the stations of the first half.",
        "Outside to outside, through the middle, from each station to the place opposite.",
        "",
    ),
    (
        "Write them into the spec.",
        "In its own [[hoop]] table: gaps = [..] and across = [..], from station 1 on, and circumference in "
        "place of diameter, since an oval has many diameters. Then net3d align.",
        "",
    ),
)
NOTES = (
    (
        "Eight stations show a hoop bowed in two or three waves, twelve in up to five. Four show only part "
        "of a bow of two waves and no errors. Use an even number, so that every station has one opposite."
    ),
    "How to mark and measure is common practice, no source.",
)


def gauge_pages(hoops: int, stations: int) -> tuple[Page, ...]:
    """How to measure, then a blank table for each hoop."""
    how = Page("How to measure hoops", (Steps(STEPS), Notes(NOTES), Cautions((BENDING,))))
    tables = tuple(Together(_table(hoop, stations)) for hoop in range(1, hoops + 1))
    return how, Page("Gaps and diameters", (Notes(("Unit: ______   Net: ____________________",)), *tables))


def _table(hoop: int, stations: int) -> tuple[Block, ...]:
    columns = (
        PaperColumn("station", strong=True),
        PaperColumn("part of the way around"),
        PaperColumn("gap off the floor", "left", 1.0),
        PaperColumn("across, outside", "left", 1.0),
    )
    rows = tuple(
        (str(station + 1), f"{station}/{stations}", "", "" if 2 * station < stations else "\N{EM DASH}")
        for station in range(stations)
    )
    return Heading(f"Hoop {hoop}, around the outside: ________"), Listing(columns, rows)


def gauge_text() -> str:
    """How to measure, as plain lines.

    >>> print(gauge_text().splitlines()[0])
    1. Mark the top. Before the old net comes off, draw one line of paint along it over the top of every \
hoop, and number the hoops from the mouth. The line is each hoop's reference mark. A hoop without one gets \
one anywhere.
    """
    lines = [" ".join(filter(None, (f"{number}.", *step))) for number, step in enumerate(STEPS, start=1)]
    return "\n".join([*lines, *NOTES])
