"""A TOML text in blocks, one a header, so that tables can be moved with what is written about them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import takewhile

from net3d.spec.keys import Path
from net3d.spec.locate import headers

_LINES = re.compile(r"[^\n]*\n|[^\n]+")
_NAME = re.compile(r"(\s*\[\[\s*)[^\]]*?(\s*\]\])")


@dataclass(eq=False)
class Block:
    """A table as it is written, with what stands around it."""

    path: Path  # of the table; empty for what stands before the first header
    lead: str = ""  # comment lines right above the header
    head: str = ""
    pairs: str = ""  # the keys, and the comments among them
    notes: str = ""  # comment lines right below
    gap: str = ""  # all else as far as the next block: it keeps its place when the table is moved

    @property
    def text(self) -> str:
        """The block without its gap."""
        return self.lead + self.head + self.pairs + self.notes

    def retitle(self, name: str) -> None:
        """Make it a table of another list."""
        self.head = _NAME.sub(rf"\g<1>{name}\g<2>", self.head, count=1)


def newline_of(text: str) -> str:
    r"""How lines end in a text.

    >>> newline_of("a = 1"), newline_of("a = 1\r\n")
    ('\n', '\r\n')
    """
    return "\r\n" if "\r\n" in text else "\n"


def blocks_of(text: str) -> list[Block]:
    r"""The blocks of a text, which are the text when they are joined again.

    Raises LostError for what is not TOML.

    Examples
    --------
    >>> blocks = blocks_of("a = 1\n\n# first\n[b] # own\nc = 2\n# below\n")
    >>> blocks[1].lead, blocks[1].head, blocks[1].pairs, blocks[1].notes
    ('# first\n', '[b] # own\n', 'c = 2\n', '# below\n')
    """
    starts: list[tuple[int, Path]] = [(0, ()), *headers(text)]
    ends = [start for start, _ in starts[1:]] + [len(text)]
    blocks, lead = [], ""
    for (start, path), end in zip(starts, ends, strict=True):
        block = _block(path, _LINES.findall(text, start, end))
        block.lead, lead = lead, "" if end == len(text) else _lead_of_next(block)
        blocks.append(block)
    return blocks


def joined(blocks: list[Block]) -> str:
    """The text of blocks, every one on lines of its own."""
    newline = newline_of("".join(block.text for block in blocks))
    texts = [block.text + block.gap for block in blocks if block.text + block.gap]
    ended = [text if text.endswith("\n") else text + newline for text in texts[:-1]]
    return "".join([*ended, *texts[-1:]])


def _block(path: Path, lines: list[str]) -> Block:
    head, lines = lines[: bool(path)], lines[bool(path) :]
    below = list(takewhile(_is_bare, reversed(lines)))[::-1]
    notes = list(takewhile(_is_comment, below))
    parts = (head, lines[: len(lines) - len(below)], notes, below[len(notes) :])
    return Block(path, "", *map("".join, parts))


def _lead_of_next(block: Block) -> str:
    """Take the comment lines that end a block off it; they stand right above the next."""
    held = block.gap or block.notes
    lead = "".join(list(takewhile(_is_comment, reversed(_LINES.findall(held))))[::-1])
    rest = held.removesuffix(lead)
    block.notes, block.gap = (block.notes, rest) if block.gap else (rest, "")
    return lead


def _is_bare(line: str) -> bool:
    """Whether a line holds nothing but a comment, or nothing."""
    return not line.strip() or _is_comment(line)


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")
