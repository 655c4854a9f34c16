"""A part of a net: a section, a throat, its strings, a hoop, a line."""

from __future__ import annotations

from dataclasses import dataclass

from net3d.parts.kinds import Kind, kind_of


@dataclass(frozen=True)
class Part:
    """One part: the word of its kind, and its numbers, where there are several of a kind.

    Raises PartError for a kind that is not in the table.

    >>> Part.section(1, 2).name, Part.throat(1).title.capitalize(), TAIL.kind.body
    ('section-1-2', 'Throat 1', True)
    """

    word: str
    numbers: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        kind_of(self.word)

    @classmethod
    def hoop(cls, number: int) -> Part:
        """A hoop, counted from 1 at the mouth."""
        return cls("hoop", (number,))

    @classmethod
    def section(cls, from_hoop: int, to_hoop: int) -> Part:
        """The netting between a hoop and the next."""
        return cls("section", (from_hoop, to_hoop))

    @classmethod
    def rib(cls, from_hoop: int, to_hoop: int) -> Part:
        """The rib lines between a hoop and the next."""
        return cls("rib", (from_hoop, to_hoop))

    @classmethod
    def throat(cls, number: int) -> Part:
        """The netting of a throat."""
        return cls("throat", (number,))

    @classmethod
    def strings(cls, number: int) -> Part:
        """The strings that hold a throat's tip back, and the line through it."""
        return cls("strings", (number,))

    @property
    def kind(self) -> Kind:
        """Its row in the table of kinds."""
        return kind_of(self.word)

    @property
    def name(self) -> str:
        """Its name in every output."""
        return "-".join([self.word, *map(str, self.numbers)])

    @property
    def title(self) -> str:
        """What the maker calls it: section-1-2 is section 1 to 2."""
        return f"{self.kind.title} {' to '.join(map(str, self.numbers))}".strip()

    @property
    def place(self) -> str:
        """Where it is, for the maker, who knows netting by the hoops it hangs between.

        >>> Part.section(2, 3).place, Part.throat(1).place
        ('hoops 2 to 3', 'throat 1')
        """
        between = self.kind.body and len(self.numbers) > 1
        return f"hoops {' to '.join(map(str, self.numbers))}" if between else self.title

    @property
    def table(self) -> str:
        """The spec's table that it is typed in; a section's depth is typed beside the hoop before it.

        >>> Part.section(2, 3).table, Part.strings(1).table, Part("bridle").table
        ('hoop.2', 'throat.1', 'rigging')
        """
        return f"{self.kind.table}.{self.numbers[0]}" if self.kind.in_rows else self.kind.table

    @property
    def switch(self) -> str:
        """Key of the page's switch that shows and hides it: its own name, or the word of its kind."""
        return self.word if self.kind.together else self.name


TAIL, BRIDLE, ANCHOR_LINE = Part("tail"), Part("bridle"), Part("anchor-line")
