"""Outside of ``net3d.parts`` nobody puts a part's name together, takes it apart, or keeps a list of kinds."""

import ast
import re
from pathlib import Path

import pytest

import net3d
from net3d.parts import KINDS

PACKAGE = Path(net3d.__file__).parent
BESIDE = {"parts", "spec", "units", "handbook"}  # the one room that may, and those below that see no part
MODULES = [path for path in sorted(PACKAGE.rglob("*.py")) if path.relative_to(PACKAGE).parts[0] not in BESIDE]
SCRIPTS = sorted(PACKAGE.rglob("*.js"))
VIEWER = [
    path for path in SCRIPTS if path.parent.name == "page"
]  # a box is of a spec's table, called like a kind
TAKING_APART = re.compile(
    "r?split|r?partition|(starts|ends)with|remove(prefix|suffix)|replace|r?find|(full)?match|search|sub"
)
OF_A_PART = re.compile(r"\b(parts?|part_names?|layers?|kinds?|word)\b")
ANY_KIND = "|".join(map(re.escape, sorted(KINDS, key=len, reverse=True)))
BEGINNING = re.compile(rf"({ANY_KIND}|anchor)-(\d.*)?")
SCRIPT = re.compile(
    r"\b(part|kind)\b[^;\n]*\.(startsWith|endsWith|split|match|replace)\(|\.test\([^)]*\b(part|kind)\b"
)
TABLE = 3  # so many kinds side by side are a table of kinds


def offences(code):
    """Lines of Python that deal with parts by their names."""
    return sorted({node.lineno for node in ast.walk(ast.parse(code)) if offends(node)})


def offends(node):
    if isinstance(node, ast.Call):
        return takes_apart(node)
    if isinstance(node, ast.Compare):
        return compares(node)
    if isinstance(node, ast.JoinedStr):
        first = node.values[0] if node.values else None
        return isinstance(first, ast.Constant) and BEGINNING.fullmatch(str(first.value)) is not None
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str) and BEGINNING.fullmatch(node.value) is not None
    if isinstance(node, ast.Dict | ast.Tuple | ast.List | ast.Set):
        members = node.keys if isinstance(node, ast.Dict) else node.elts
        return sum(is_kind(member) for member in members) >= TABLE
    return False


def takes_apart(call):
    """A method of text, or numpy's, on what is called a part: ``part.split("-")``."""
    if not isinstance(call.func, ast.Attribute) or not TAKING_APART.fullmatch(call.func.attr):
        return False
    about = [call.func.value, *call.args]
    return any(OF_A_PART.search(ast.unparse(one)) for one in about)


def compares(node):
    """What is called a part beside the word of a kind: ``part == "tail"``."""
    sides = [node.left, *node.comparators]
    words = any(is_kind(one) for side in sides for one in ast.walk(side))
    return words and any(OF_A_PART.search(ast.unparse(side)) for side in sides)


def is_kind(node):
    return isinstance(node, ast.Constant) and node.value in {*KINDS, "anchor", "section", "hoops"}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_module_deals_with_parts_by_their_names(path):
    assert offences(path.read_text("utf-8")) == []


def lines_of(scripts):
    return [line for path in scripts for line in path.read_text("utf-8").splitlines()]


def test_no_script_takes_a_name_apart():
    assert [line for line in lines_of(SCRIPTS) if SCRIPT.search(line)] == []


def test_the_viewer_knows_no_kind():
    words = re.compile(rf"""["'`/|]({ANY_KIND})["'`/|]""")
    assert [line for line in lines_of(VIEWER) if words.search(line)] == []


@pytest.mark.parametrize(
    "fault",
    [
        'body = [part.startswith("section-") for part in netting.parts]',
        'kind = part.split("-", maxsplit=1)[0]',
        'body = np.char.startswith(parts, "section")',
        'bars = netting.bars_of(f"section-{number}-{number + 1}")',
        'if part == "tail": pass',
        'if part.name in ("bridle", "anchor-line"): pass',
        'if netting.parts[number].word == "tail": pass',
        'KINDS = {"section": "body", "tail": "tail", "throat": "throat"}',
        'KINDS = ("section", "tail", "throat", "strings")',
        'title = part.name.replace("-", " ")',
        'throat = "throat-1"',
    ],
)
def test_what_is_looked_for_is_found(fault):
    assert offences(fault) == [1]


@pytest.mark.parametrize(
    "fault", ["part.startsWith(`${key}-`)", "const twine = !/hoop|rope/.test(group.kind);"]
)
def test_what_is_looked_for_in_the_viewer_is_found(fault):
    assert SCRIPT.search(fault)
