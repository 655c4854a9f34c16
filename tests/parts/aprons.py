"""A kind of part that net3d does not know: an apron ahead of the mouth, of whatever it is made of."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from importlib import import_module
from unittest.mock import patch

import numpy as np

import net3d
from net3d.netting.cords import netting_cord
from net3d.netting.fabric import Bars, Ring
from net3d.parts import KINDS, Kind, Made, Part
from net3d.parts.looks import Nib
from net3d.parts.palette import Shade
from net3d.plan.parts import planned_parts
from net3d.shop import amounts as shop
from net3d.spec import parse_spec
from tests.nets import spec_text

MAGENTA = "#ff00ff"
APRON = Kind(
    "apron",
    "apron",
    Made.NETTING,
    Shade("apron", MAGENTA, MAGENTA),
    Nib(0.3, "alike"),
    width=3.0,
    shelters=True,
)
KINDS_OF_APRON = {
    "netting": APRON,
    "string": replace(APRON, made=Made.STRING, shelters=False),
    "rope": replace(APRON, made=Made.ROPE, shelters=False),
    "rod": replace(APRON, made=Made.ROD, shelters=False),
}
KEYS = {
    "diameters": (0.32, 0.3, 0.28),
    "deep": (4, 4),
    "tail": 8,
    "legs": 3,
    "throats": [{"hoop": 1, "deep": 5, "tip": 8, "strings": {"to_hoop": 3, "points": 4}}],
    "extra": '[water]\ncurrents = ["0.5 m/s"]',
}
tie = import_module("net3d.netting.tie")  # the package holds a function of that name
PART = ("apron", (1,))
TOWED = -5.0  # pull on the apron, toward the mouth [N]


@contextmanager
def known(kind=APRON):
    """A row more in the table of kinds."""
    with patch.dict(KINDS, {kind.word: kind}):
        yield


@contextmanager
def tied():
    """Whoever ties a net also ties a row of meshes ahead of the mouth, towed by its free knots."""
    own = tie.rig

    def rig(fabric, rigging, plan, ends):
        own(fabric, rigging, plan, ends)
        part, row, mouth = Part(*PART), plan.hoops[0].row, ends[0]
        knots = fabric.add_ring(Ring(part, 0, row.angles() + row.pitch / 2))
        below = np.stack([mouth, np.roll(mouth, -1)], axis=1)
        bars = np.stack([np.repeat(knots, 2), below.ravel()], axis=1)
        cord = netting_cord(plan.twine, plan.stretched_mesh)
        fabric.add_bars(Bars(part, 0, bars, plan.bar, cord))
        fabric.add_load(knots, np.array([TOWED, 0.0, 0.0]))

    with patch.object(tie, "rig", rig):
        yield


@contextmanager
def planned():
    """The plan of a net says that it has an apron."""

    def parts(spec, plan):
        return (*planned_parts(spec, plan), Part(*PART))

    with patch.object(tie, "planned_parts", parts), patch.object(shop, "planned_parts", parts):
        yield


@contextmanager
def listed():
    """What to buy for an apron stands on the list."""
    dip = shop._dip

    def more(spec, plan):
        return [*dip(spec, plan), shop.Amount("apron netting", pieces=1, parts=(Part(*PART),))]

    with patch.object(shop, "_dip", more):
        yield


def plain_design():
    """The net without an apron."""
    return net3d.design(parse_spec(spec_text(**KEYS)))


def aproned_design():
    """The net with its apron; its kind must be known."""
    with planned(), tied():
        return plain_design()
