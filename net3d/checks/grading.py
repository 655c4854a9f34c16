"""From a number and its limit to a level."""

from __future__ import annotations

from net3d.checks.checks import Finding, Level
from net3d.handbook.limits import Limit
from net3d.parts import Part


def grade(value: float, limit: Limit) -> Level:
    """On which side of its limits a value [its unit] lies.

    >>> grade(0.05, Limit("looseness", "max", 0.03, 0.1, "", "")).value
    'caution'
    """
    sign = 1.0 if limit.sense == "max" else -1.0
    if sign * value > sign * limit.fail:
        return Level.FAIL
    return Level.CAUTION if sign * value > sign * limit.caution else Level.OK


def graded(code: str, at: Part | str, value: float, limit: Limit, messages: tuple[str, str]) -> Finding:
    """A finding with the first message where all is well and the second where it is not.

    It is ``at`` a part, or at words where no one part has it. Its limit is the one that was passed by the
    value [its unit], or the first that would be.
    """
    level = grade(value, limit)
    bound = limit.fail if level is Level.FAIL else limit.caution
    message = messages[0] if level is Level.OK else messages[1]
    part, where = (at, at.place) if isinstance(at, Part) else (None, at)
    return Finding(code, level, where, message, float(value), bound, limit.source, part=part)
