"""What can go wrong, in words that say where, what was given, what is allowed and what to do."""

from __future__ import annotations

from dataclasses import dataclass

MOST_PRINTED = 100  # problems of one spec


class NetError(Exception):
    """Any problem that net3d reports to its user instead of a traceback."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong with a spec: the line and key it stands on, and what to do about it."""

    key: str
    message: str
    line: int | None = None
    file: str = ""  # where it is not the spec's own, but the shop's

    def __str__(self) -> str:
        places = [self.file, f"line {self.line}" if self.line else ""]
        place = f"{', '.join(filter(None, places))}: " if any(places) else ""
        return f"{place}{self.key}: {self.message}" if self.key else f"{place}{self.message}"


class SpecError(NetError):
    """A spec that cannot be read: every problem of the file at once, in the order of its lines."""

    def __init__(self, source: str, problems: tuple[Problem, ...]) -> None:
        self.source = source
        self.problems = tuple(sorted(problems, key=lambda problem: (problem.file, problem.line or 0)))
        lines = [f"  {problem}" for problem in self.problems[:MOST_PRINTED]]
        if len(self.problems) > MOST_PRINTED:
            lines.append(f"  and {len(self.problems) - MOST_PRINTED:,} more")
        name = "".join(letter if letter.isprintable() else "?" for letter in source)
        super().__init__("\n".join([f"{name}:", *lines]))


class ShapeError(NetError):
    """A net without a shape to draw: the equilibrium was not reached."""


class PartError(NetError):
    """A part of a kind that is not known, or that something leaves out."""


class OutputError(NetError):
    """An output folder or file that cannot be written."""


class EngineError(NetError):
    """What was to work out many nets cannot be reached, or was ended from outside."""
