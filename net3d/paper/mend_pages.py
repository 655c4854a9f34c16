"""The mending of holes on paper: a page a hole."""

from __future__ import annotations

from net3d.drawings.mending import EXPLAINED, mend_drawing
from net3d.mending.mended import Mended
from net3d.paper.pages import Blanks, Block, Drawing, Facts, Notes, Page, Steps
from net3d.plan.plan import Plan
from net3d.spec.spec import NetSpec
from net3d.tables.mending import mend_facts, mend_sheet, mend_steps

FIELDS = ("mended on", "by", "twine")
ROOM = 172.0  # for the drawing and the steps of a hole on one sheet of paper [mm]
STEP, LINE, LETTERS = 9.0, 4.2, 105  # a step, every further line of it and what stands on a line [mm]
LEAST = 60.0  # a drawing that can be read, or it has a sheet of paper of its own [mm]


def mend_pages(spec: NetSpec, plan: Plan, mended: Mended) -> tuple[Page, ...]:
    """A hole on one sheet of paper, or a large one on two: its drawing, then its steps."""
    title = f"Mending hole {mended.hole.number}, in {mended.hole.place}"
    told = mend_steps(mended)
    steps: tuple[Block, ...] = (
        Steps(tuple((work, knots, "") for work, knots in told)),
        Notes(mend_sheet(spec, plan, mended).remarks[2:]),
        Blanks(FIELDS),
    )
    facts = Facts(mend_facts(spec, plan, mended), across=2)
    left = ROOM - sum(STEP + LINE * (len(knots) // LETTERS) for _, knots in told)
    drawing = Drawing(mend_drawing(mended, title, left if left > LEAST else ROOM), title, None)
    head: tuple[Block, ...] = (facts, Notes((EXPLAINED,)), drawing)
    if left > LEAST:
        return (Page(title, (*head, *steps)),)
    return Page(title, head), Page(f"{title}, its steps", steps)
