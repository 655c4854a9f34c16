"""A spec's text as a page of blocks, on which tables are retyped, added, moved and taken away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, get_origin

from net3d.spec.blocks import Block, newline_of
from net3d.spec.edit import LISTED, Edited, Origin
from net3d.spec.form import NetForm
from net3d.spec.keys import Path
from net3d.spec.locate import LostError
from net3d.spec.pairs import alike, key_name, new_pairs, retyped_pairs

Typed = Mapping[str, Any]

_ORDER = list(NetForm.model_fields)
_BY_NAME = {key for key, field in NetForm.model_fields.items() if get_origin(field.annotation) is dict}


@dataclass(eq=False)
class _Listed:
    """A table of a list: its blocks, and the number of the place it stood in, if it did."""

    blocks: list[Block]
    place: int | None


class Page:
    """The blocks of a text, and what is typed in them."""

    def __init__(self, blocks: list[Block], typed: Typed) -> None:
        self.blocks = blocks
        self.typed = typed
        self.newline = newline_of("".join(block.text for block in blocks))
        rooms = Counter(block.gap for block in blocks[:-1] if "#" not in block.gap)
        self.room = max(rooms, key=rooms.__getitem__, default=self.newline)  # between tables

    def retype(self, edit: Edited) -> None:
        """Type in what is typed after changes."""
        lists = [key for key in LISTED if self._blocks_of((key,)) or key not in self.typed]
        old, new = (
            {key: value for key, value in typed.items() if key not in lists}
            for typed in (self.typed, edit.typed)
        )
        self._retype_table((), old, new)
        claims = self._claims(edit, lists)
        tables = {key: self._tables(key, edit, claims) for key in lists}
        moved = [key for key in lists if edit.origins.get(key, []) != self._numbers(key)]
        places = {key: [self._emptied(origin) for origin in self._numbers(key)] for key in moved}
        for key in moved:
            self._fill(places[key], tables[key])

    def _blocks_of(self, path: Path) -> list[Block]:
        """The blocks of a table and of those in it."""
        return [block for block in self.blocks if block.path[: len(path)] == path]

    def _numbers(self, key: str) -> list[Origin]:
        """The tables of a list as they were typed."""
        return [(key, number) for number, _ in enumerate(self.typed.get(key, ()))]

    # The keys of a table.

    def _retype_table(self, path: Path, old: Typed, new: Typed) -> None:
        """Change the keys of a table, in its block and in those of the tables in it."""
        before: dict[str, Any] = {}
        after: dict[str, Any] = {}
        for key in [*old, *(key for key in new if key not in old)]:
            inner = (*path, key)
            if key in old and key in new and alike(old[key], new[key]):
                continue
            if self._blocks_of(inner):
                self._retype_blocks(inner, old.get(key, {}), new.get(key))
            elif key not in old and isinstance(new[key], dict) and _has_header(inner):
                self._add_table(inner, new[key])
            else:
                before |= {key: old[key]} if key in old else {}
                after |= {key: new[key]} if key in new else {}
        if before or after:
            self._retype_pairs(path, before, after)

    def _retype_blocks(self, path: Path, old: Typed, new: Any) -> None:  # noqa: ANN401 - anything typed
        if isinstance(new, dict):
            self._retype_table(path, old, new)
            return
        for block in self._blocks_of(path):
            self._remove(block)

    def _retype_pairs(self, path: Path, old: Typed, new: Typed) -> None:
        block = next((block for block in self.blocks if block.path == path), None)
        if block is not None:
            block.pairs = retyped_pairs(block.pairs, old, new, self.newline)
        elif old:
            raise LostError
        else:
            self._add_table(path, new)

    # Tables that come and go.

    def _add_table(self, path: Path, keys: Typed) -> None:
        if path[-1] in _BY_NAME:
            for name, inner in keys.items():
                self._add_table((*path, name), inner)
        else:
            head = f"[{'.'.join(key_name(str(key)) for key in path)}]{self.newline}"
            self._insert([Block(path, "", head, new_pairs(keys, "", self.newline))])

    def _insert(self, table: list[Block]) -> None:
        """Put a new table where its key comes in the form."""
        ranks = [_rank(block) <= _rank(table[0]) for block in self.blocks]
        self._put_below(self.blocks[len(ranks) - 1 - ranks[::-1].index(True)], table)

    def _put_below(self, above: Block, table: list[Block]) -> None:
        table[-1].gap, above.gap = above.gap, self.room
        place = self.blocks.index(above) + 1
        self.blocks[place:place] = table

    def _remove(self, block: Block) -> None:
        """Take a block away with its comments, and the room above or below it."""
        place = self.blocks.index(block)
        above = self.blocks[place - 1]
        if "#" in above.gap + block.gap:
            above.gap += block.gap.lstrip("\r\n")
        elif place == len(self.blocks) - 1:
            above.gap = block.gap
        else:
            above.gap = max(above.gap, block.gap, key=len)
        del self.blocks[place]

    # Tables of which there may be several.

    def _claims(self, edit: Edited, lists: list[str]) -> dict[Origin, tuple[str, int]]:
        """Which listed table goes on in the blocks of one that was typed: its own first, then another's."""
        claims: dict[Origin, tuple[str, int]] = {}
        for own in (True, False):
            for key in lists:
                for number, origin in enumerate(edit.origins.get(key, ())):
                    if origin and (origin[0] == key) is own and self._blocks_of(origin):
                        claims.setdefault(origin, (key, number))
        return claims

    def _tables(self, key: str, edit: Edited, claims: Mapping[Origin, tuple[str, int]]) -> list[_Listed]:
        """The blocks of every table of a list, retyped or new."""
        tables = []
        for number, (table, origin) in enumerate(
            zip(edit.typed.get(key, ()), edit.origins.get(key, ()), strict=True)
        ):
            if origin is None or claims.get(origin) != (key, number):
                tables.append(_Listed([self._new_listed(key, table, origin)], None))
                continue
            self._retype_table(origin, self.typed[origin[0]][origin[1]], table)
            blocks = self._blocks_of(origin)
            blocks[0].retitle(key)
            tables.append(_Listed(blocks, origin[1] if origin[0] == key else None))
        return tables

    def _new_listed(self, key: str, table: Typed, origin: Origin | None) -> Block:
        """A new table, laid out like the one it comes from or the first of its kind."""
        like = [*(self._blocks_of(origin) if origin else ()), *self._blocks_of((key,))]
        pairs = new_pairs(table, like[0].pairs if like else "", self.newline)
        return Block((key, -1), "", f"[[{key}]]{self.newline}", pairs)

    def _emptied(self, origin: Origin) -> Block:
        """Take a listed table off the page, and leave an empty block in its place."""
        blocks = self._blocks_of(origin)
        place = Block(origin, gap=blocks[-1].gap)
        self.blocks[self.blocks.index(blocks[0])] = place
        self.blocks = [block for block in self.blocks if block not in blocks]
        return place

    def _fill(self, places: list[Block], tables: list[_Listed]) -> None:
        """Put the tables of a list in their places; the room between them stays where it was."""
        own = sorted(table.place for table in tables if table.place is not None)
        numbers = _shared_out([table.place is not None for table in tables], own, len(places))
        for number, table in zip(numbers, tables, strict=True):
            if number is not None:
                table.blocks[-1].gap = places[number].gap
                at = self.blocks.index(places[number])
                self.blocks[at : at + 1] = table.blocks
        for number, place in enumerate(places):
            if number not in numbers:
                self._remove(place)
        for at, number in enumerate(numbers):
            if number is None:
                self._put(at, tables)

    def _put(self, at: int, tables: list[_Listed]) -> None:
        """Put a table that is new below the one before it, above the next, or where its key comes."""
        table, on_page = tables[at].blocks, [other.blocks[0] for other in tables[at:]]
        following = next((block for block in on_page if block in self.blocks), None)
        if at:
            self._put_below(tables[at - 1].blocks[-1], table)
        elif following:
            table[-1].gap = self.room
            place = self.blocks.index(following)
            self.blocks[place:place] = table
        else:
            self._insert(table)


def _shared_out(kept: list[bool], own: list[int], count: int) -> list[int | None]:
    """For every table of a list the place that it takes, or None where there is none for it.

    Parameters
    ----------
    kept : whether a table stood on the page before
    own : the places that those stood in, ascending: they share these out in their new order
    count : of all places; those of tables that are gone are for new ones

    Examples
    --------
    >>> _shared_out([True, False, False, True], own=[0, 2], count=4)
    [0, 1, None, 2]
    """
    left, last = list(own), -1
    places: list[int | None] = []
    for stood in kept:
        place = left.pop(0) if stood else last + 1
        taken = not stood and place >= (left[0] if left else count)
        places.append(None if taken else place)
        last = last if taken else place
    return places


def _has_header(path: Path) -> bool:
    """Whether a table that is new gets a header of its own."""
    return len(path) == 1 or (len(path) == 2 and path[0] in _BY_NAME)


def _rank(block: Block) -> int:
    return _ORDER.index(str(block.path[0])) if block.path else -1
