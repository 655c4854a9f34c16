"""What may have been meant by a measure that is in doubt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from net3d.advice.trying import Case, Way
from net3d.checks.doubts import SIZES
from net3d.units import Tape, Units, plain_tape

RODS = (0.004, 0.04)  # m: rods that hoops are bent from; common practice, no source
_METRIC = plain_tape(metric=True)


def other_rod(case: Case) -> Iterator[Way]:
    """The figure in millimetres, which rod is sold by, for all hoops with the same."""
    spec, tape = case.base.spec, case.base.spec.tape
    rod = spec.hoops[case.numbers[0] - 1].rod
    metric = tape.number(rod, "length") * _METRIC.one("length")
    alike = [number for number, hoop in enumerate(spec.hoops, start=1) if hoop.rod == rod]
    if tape.units != _METRIC.units and RODS[0] <= metric <= RODS[1]:
        yield [{f"hoop.{number}.rod": _METRIC.length(metric) for number in alike}]


def other_units(case: Case) -> Iterator[Way]:
    """Units in which the same figures make a net that is worked with."""
    spec = case.base.spec
    largest = spec.tape.number(max(hoop.diameter for hoop in spec.hoops), "length")
    least, most = SIZES
    yield [
        {"units": units}
        for units in get_args(Units)
        if units != spec.units and least <= largest / Tape(units).number(1.0, "length") <= most
    ]


def turned_about(case: Case) -> Iterator[Way]:
    """The hoops the other way around."""
    yield [{"hoop": list(range(len(case.base.spec.hoops), 0, -1))}]
