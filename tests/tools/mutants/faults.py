"""One-line faults of the kinds that people make in arithmetic: exact changes of a piece of a line."""

from __future__ import annotations

import ast
import csv
import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path
from typing import TypeGuard

ROOMS = ("plan", "shop", "statics", "water", "checks")
CONSTANTS = Path("net3d/handbook/water.csv")
OPERATORS = {
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
    ast.Pow: ("**", "*"),
}
COMPARISONS = {
    ast.Lt: ("<", ">="),
    ast.LtE: ("<=", ">"),
    ast.Gt: (">", "<="),
    ast.GtE: (">=", "<"),
    ast.Eq: ("==", "!="),
}
SWAPS = {
    **{"sin": "cos", "cos": "sin", "tan": "sin", "ceil": "floor", "floor": "ceil", "sqrt": "abs"},
    **{"min": "max", "max": "min", "minimum": "maximum", "maximum": "minimum", "argmin": "argmax"},
    **{"argmax": "argmin", "any": "all", "all": "any", "mean": "max", "sum": "max"},
}
NAMES = SWAPS | {"hypot": "max", "abs": "float"}
METHODS = SWAPS | {"hypot": "add", "abs": "asarray"}  # of arrays and of numpy
WAYS = {"axis", "ndmin", "initial", "default", "minlength", "strict", "key"}  # how a function goes about it
GUARD = 1e-5  # smaller numbers keep a division from failing, and change nothing else
# Lines that say how long something is looked for, how finely, or in which words: they change no result.
ALIKE = {
    ("net3d/water/slowing.py", "AT_ONCE"): "how much memory is taken",
    ("net3d/water/rings.py", "WAVES ="): "terms of a series that has long converged",
    ("net3d/water/cylinders.py", "HOOP_PIECES ="): "how finely a circle is cut",
    ("net3d/water/standing.py", "ENOUGH ="): "how exactly it is solved",
    ("net3d/water/standing.py", "MOST_ROUNDS"): "when to give up",
    ("net3d/water/", "announce("): "what progress tells",
}


@dataclass(frozen=True)
class Fault:
    """A change of one piece of one line; columns in bytes."""

    kind: str
    path: str
    line: int
    start: int
    end: int
    before: str
    after: str

    @property
    def key(self) -> str:
        """Where and what it is."""
        return f"{self.path}:{self.line}:{self.start} {self.before} -> {self.after}"

    def made(self, text: bytes) -> bytes:
        """The file with the fault in it."""
        lines = text.splitlines(keepends=True)
        line = lines[self.line - 1]
        assert line[self.start : self.end] == self.before.encode(), self.key
        lines[self.line - 1] = line[: self.start] + self.after.encode() + line[self.end :]
        return b"".join(lines)


def draw(root: Path, count: int, seed: int) -> list[Fault]:
    """Some faults, as many of each kind as there are, no two on one line."""
    chance = random.Random(seed)
    kinds: dict[str, list[Fault]] = {}
    for fault in all_faults(root):
        kinds.setdefault(fault.kind, []).append(fault)
    for faults in kinds.values():
        chance.shuffle(faults)
    turns = [fault for turn in zip_longest(*kinds.values()) for fault in turn if fault]
    drawn = {(fault.path, fault.line): fault for fault in reversed(turns)}
    return [fault for fault in turns if drawn[fault.path, fault.line] is fault][:count]


def all_faults(root: Path) -> Iterator[Fault]:
    """Every fault there is of the rooms, and of the constants of water."""
    for room in ROOMS:
        for path in sorted((root / "net3d" / room).glob("*.py")):
            yield from _of_module(path, path.relative_to(root).as_posix())
    yield from _of_constants(root)


def _of_constants(root: Path) -> Iterator[Fault]:
    """Every number of the table half as large again."""
    text = (root / CONSTANTS).read_text("utf-8")
    for number, (line, row) in enumerate(
        zip(text.splitlines()[1:], csv.DictReader(text.splitlines()), strict=True)
    ):
        start = len(row["key"]) + 1
        value = row["value"]
        assert line[start:].startswith(value)
        after = f"{1.5 * float(value):.6g}"
        yield Fault("constant", CONSTANTS.as_posix(), number + 2, start, start + len(value), value, after)


def _of_module(path: Path, name: str) -> Iterator[Fault]:
    text = path.read_bytes()
    lines = text.splitlines()
    place = _Place(name, lines)
    for node in _arithmetic(ast.parse(text)):
        for make in MAKERS:
            for fault in make(place, node):
                if not any(
                    name.startswith(file) and word in lines[fault.line - 1].decode() for file, word in ALIKE
                ):
                    yield fault


def _arithmetic(node: ast.AST) -> Iterator[ast.AST]:
    """Every piece of a module but what is only said: texts, annotations, what is raised."""
    yield node
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "decorator_list", "slice"):
            continue
        if isinstance(node, ast.keyword) and node.arg in WAYS:
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not isinstance(child, ast.JoinedStr | ast.Raise | ast.Assert):
                yield from _arithmetic(child)


@dataclass(frozen=True)
class _Place:
    """A module's name and lines, to cut pieces from."""

    name: str
    lines: list[bytes]

    def piece(self, kind: str, node: ast.expr, after: str) -> Iterator[Fault]:
        """A whole expression changed."""
        assert node.end_col_offset is not None
        if node.lineno == node.end_lineno:
            yield self._fault(kind, node.lineno, (node.col_offset, node.end_col_offset), after)

    def between(
        self, kind: str, sides: tuple[ast.expr, ast.expr], change: tuple[str, str]
    ) -> Iterator[Fault]:
        """What stands between two expressions changed, an operator."""
        left, right = sides
        assert left.end_col_offset is not None
        if left.end_lineno == right.lineno:
            between = self.lines[right.lineno - 1][left.end_col_offset : right.col_offset].decode()
            if between.strip(" ()") == change[0]:
                start = left.end_col_offset + between.index(change[0])
                yield self._fault(kind, right.lineno, (start, start + len(change[0])), change[1])

    def text(self, node: ast.expr) -> str:
        """An expression on one line as it is written."""
        return self.lines[node.lineno - 1][node.col_offset : node.end_col_offset].decode()

    def _fault(self, kind: str, line: int, columns: tuple[int, int], after: str) -> Fault:
        before = self.lines[line - 1][slice(*columns)].decode()
        return Fault(kind, self.name, line, *columns, before, after)


def _number(node: ast.AST) -> bool:
    """Whether an expression is arithmetic, and not text, a list or a set of types."""
    said = ast.Constant, ast.JoinedStr, ast.List, ast.Tuple, ast.ListComp, ast.Dict, ast.Set
    return not isinstance(node, said) or (
        isinstance(node, ast.Constant) and isinstance(node.value, int | float)
    )


def _sum_or_product(node: ast.AST) -> TypeGuard[ast.BinOp]:
    return (
        isinstance(node, ast.BinOp)
        and type(node.op) in OPERATORS
        and _number(node.left)
        and _number(node.right)
    )


def _operators(place: _Place, node: ast.AST) -> Iterator[Fault]:
    if _sum_or_product(node):
        yield from place.between("operator", (node.left, node.right), OPERATORS[type(node.op)])


def _left_out(place: _Place, node: ast.AST) -> Iterator[Fault]:
    if _sum_or_product(node) and node.left.lineno == node.end_lineno:
        yield from place.piece("left out", node, f"({place.text(node.left)})")


def _comparisons(place: _Place, node: ast.AST) -> Iterator[Fault]:
    if isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in COMPARISONS:
        sides = (node.left, node.comparators[0])
        if all(map(_number, sides)):
            yield from place.between("comparison", sides, COMPARISONS[type(node.ops[0])])


def _numbers(place: _Place, node: ast.AST) -> Iterator[Fault]:
    if (
        isinstance(node, ast.Constant)
        and type(node.value) in (int, float)
        and not 0 < abs(node.value) < GUARD
    ):
        after = repr(node.value * 2) if node.value else "1"
        yield from place.piece("number", node, after)


def _signs(place: _Place, node: ast.AST) -> Iterator[Fault]:
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield from place.piece("sign", node, place.text(node.operand))


def _functions(place: _Place, node: ast.AST) -> Iterator[Fault]:
    if not isinstance(node, ast.Call):
        return
    called = node.func
    if isinstance(called, ast.Name) and called.id in NAMES:
        yield from place.piece("function", called, NAMES[called.id])
    elif isinstance(called, ast.Attribute) and called.attr in METHODS and called.lineno == called.end_lineno:
        stem = place.text(called).removesuffix(called.attr)
        yield from place.piece("function", called, stem + METHODS[called.attr])


MAKERS: Iterable[Callable[[_Place, ast.AST], Iterator[Fault]]] = (
    _operators,
    _left_out,
    _comparisons,
    _numbers,
    _signs,
    _functions,
)
