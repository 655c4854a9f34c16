"""What docstrings owe their readers: the unit of every number, and where every formula comes from."""

import ast
import re
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "net3d"
NUMBER = re.compile(r"\b(float|Floats|Singles|NDArray)\b")
SYMBOL = r"(-|m|mm|rad|N|kg|g|km|s|Pa|bars|meshes|pixels|samples|hours|currency|its unit|SI)"
UNIT = re.compile(rf"\[{SYMBOL}([ /]{SYMBOL}|\^\d)*( of [\w ]+)?(, {SYMBOL}([ /]{SYMBOL}|\^\d)*)*\]")
FORMULA = re.compile(r"``[^`]*=[^`]*[-+*/^(][^`]*``|``[^`]*[-+*/^(][^`]*=[^`]*``")
SOURCE = re.compile(r"\bSources?:|\bISO \d|\b(1[89]|20)\d\d\b|from memory|common practice")
ELSEWHERE = re.compile(r"\b[Aa]s ``\w+(\.\w+)?``")  # a method that says what another does


def documented(root=PACKAGE):
    """Every module, class and function: its place, node and docstring, and what it stands in, with theirs."""
    for path in sorted(root.rglob("*.py")):
        yield from _within(ast.parse(path.read_text("utf-8")), path.relative_to(root).as_posix(), ())


def _within(node, path, around):
    text = ast.get_docstring(node) or ""
    yield f"{path}, line {getattr(node, 'lineno', 1)}", node, text, around
    for child in node.body:
        if isinstance(child, ast.ClassDef | ast.FunctionDef) and not isinstance(node, ast.FunctionDef):
            yield from _within(child, path, (*around, (node, text)))


def is_public(node, around):
    """A function that anybody may call; a command's docstring is its help."""
    named = [node, *(outer for outer, _ in around if isinstance(outer, ast.ClassDef))]
    is_command = any("click." in ast.unparse(one) for one in getattr(node, "decorator_list", ()))
    return (
        isinstance(node, ast.FunctionDef)
        and not is_command
        and not any(n.name.startswith("_") for n in named)
    )


def numbers_of(node):
    """Names of the arguments that are numbers with a fraction, and whether such are returned."""
    arguments = [*node.args.args, *node.args.kwonlyargs]
    names = [one.arg for one in arguments if one.annotation and NUMBER.search(ast.unparse(one.annotation))]
    return names, node.returns is not None and bool(NUMBER.search(ast.unparse(node.returns)))


def without_unit(root=PACKAGE):
    """Public functions that take or return numbers and name no unit; [-] is that of a pure number."""
    return [
        f"{place}: {node.name}"
        for place, node, text, around in documented(root)
        if is_public(node, around)
        and any(numbers_of(node))
        and not (UNIT.search(text) or ELSEWHERE.search(text))
    ]


def without_section(root=PACKAGE):
    """Those that take two numbers or more and do not list every one with its unit under ``Parameters``."""
    found = []
    for place, node, text, around in documented(root):
        if not is_public(node, around) or len(numbers_of(node)[0]) < 2 or ELSEWHERE.search(text):
            continue
        listed = text.partition("Parameters\n----------\n")[2].partition("\n\n")[0]
        lines = {line.partition(" :")[0]: line for line in re.split(r"\n(?! )", listed)}
        names = {name: line for names, line in lines.items() for name in names.split(", ")}
        found += [
            f"{place}: {node.name}({name})"
            for name in numbers_of(node)[0]
            if not UNIT.search(names.get(name, ""))
        ]
    return found


def without_source(root=PACKAGE):
    """Formulas of which neither the docstring nor that of the class or module says where they come from."""
    return [
        f"{place}: {FORMULA.search(text)[0]}"
        for place, _, text, around in documented(root)
        if FORMULA.search(text) and not SOURCE.search("\n".join([text, *(outer for _, outer in around)]))
    ]


def test_every_number_has_a_unit():
    assert not without_unit()


def test_of_two_numbers_each_is_listed():
    assert not without_section()


def test_every_formula_has_a_source():
    assert not without_source()


def test_what_is_missing_is_found(tmp_path):
    """The search finds what there is to find: else the tests above could not fail."""
    lines = (
        '"""A module."""',
        'def one(size: float) -> str:\n    """Says it."""',
        'def two(wide: float, high: float) -> float:\n    """An area [m^2]: ``a = w * h``."""',
    )
    (tmp_path / "bare.py").write_text("\n".join(lines), encoding="utf-8")
    assert without_unit(tmp_path) == ["bare.py, line 2: one"]
    assert without_section(tmp_path) == [f"bare.py, line 4: two({name})" for name in ("wide", "high")]
    assert without_source(tmp_path) == ["bare.py, line 4: ``a = w * h``"]
