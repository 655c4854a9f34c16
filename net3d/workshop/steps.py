"""Steps between texts, each as small as what changed, so that all of them can be taken back."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

MOST = 10_000  # steps that are remembered


@dataclass(frozen=True)
class Step:
    """One change of a text: what stood at a place, and what stands there now."""

    at: int
    was: str
    now: str

    @classmethod
    def between(cls, before: str, after: str) -> Step:
        """The step from one text to another.

        >>> Step.between("deep = 5.5", "deep = 6.5")
        Step(at=7, was='5', now='6')
        """
        shorter = min(len(before), len(after))
        start = next((n for n in range(shorter) if before[n] != after[n]), shorter)
        rest = shorter - start
        end = next((n for n in range(rest) if before[-1 - n] != after[-1 - n]), rest)
        return cls(start, before[start : len(before) - end], after[start : len(after) - end])

    @property
    def back(self) -> Step:
        """The step that undoes this one."""
        return Step(self.at, self.now, self.was)

    def taken(self, text: str) -> str:
        """The text after the step. Raises ValueError where it does not start from this text."""
        if not text.startswith(self.was, self.at):
            raise ValueError("the step does not fit the text")
        return text[: self.at] + self.now + text[self.at + len(self.was) :]


@dataclass
class Steps:
    """All steps of a text, those taken and those taken back."""

    taken: list[Step] = field(default_factory=list)
    undone: list[Step] = field(default_factory=list)

    def take(self, before: str, after: str) -> None:
        """Remember a change; what was undone before it is gone."""
        self.taken = [*self.taken[1 - MOST :], Step.between(before, after)]
        self.undone = []

    def undo(self, text: str) -> str:
        """The text before the last step; the same where there is none."""
        if not self.taken:
            return text
        before = self.taken[-1].back.taken(text)
        self.undone.append(self.taken.pop())
        return before

    def redo(self, text: str) -> str:
        """The text after the step that was undone last; the same where there is none."""
        if not self.undone:
            return text
        after = self.undone[-1].taken(text)
        self.taken.append(self.undone.pop())
        return after

    def plain(self) -> dict[str, list[list[Any]]]:
        """Both as plain lists, for a draft."""
        rows = {"taken": self.taken, "undone": self.undone}
        return {name: [[step.at, step.was, step.now] for step in steps] for name, steps in rows.items()}

    @classmethod
    def read(cls, plain: dict[str, list[list[Any]]]) -> Steps:
        """The steps of a draft."""
        taken, undone = ([Step(*row) for row in plain[name]] for name in ("taken", "undone"))
        return cls(taken, undone)
