"""No text with a unit is built outside the units: the code is read as Python reads it, and its strings seen.

What is looked for: a number that is put into a text with a unit behind it, a unit by itself or in brackets,
and a tape that is asked for other units than the spec's. Units in docstrings and in the descriptions of the
spec's form are words for people who read those, and stay.
"""

import ast
import re
from pathlib import Path

import pytest

import net3d

UNITS = r"ft|mm|cm|m|lbf|lb|kg|g|N|kN|ft/s|m/s|MPa|psi|Pa|kgf|ft\^2|m\^2"
BEHIND_A_NUMBER = re.compile(rf" ?(?:in(?:$|[.,;:)])|(?:{UNITS})(?:$|[ .,;:)'/]))")  # "in" is a word as well
BY_ITSELF = re.compile(r"(?:in|ft|mm|cm|lbf|lb|kg|ft/s|m/s|MPa|psi|pounds?|kilograms?)$")
IN_BRACKETS = re.compile(rf"\((?:in|{UNITS})\)")
READS = {  # what is read, not written, by file; and a word that only looks like a unit
    "commands/print.py": {"mm"},  # of a bare thickness on the command line
    "handbook/rope.py": {"in", "mm"},  # sizes of its table
    "drawings/side.py": {"ft"},  # whether a spec is in feet
    "writers/rows.py": {"g"},  # of a format, after how many digits
    "tables/loads.py": {"in"},  # which part a bar is in
    "handbook/fibres.py": {"lbf"},  # the unit of its table
    "tables/kept.py": {"in"},  # a way in, and not out
    "writers/kept.py": {"in"},
    "tables/panels.py": {"N"},  # cut all N: across the knots of an edge
}
DRAWN = {"drawings/drawing.py"}  # the size of an SVG goes by mm


def found_in(code):
    """Every piece of unit text in some code: what it is, and the text."""
    tree = ast.parse(code)
    docs = {id(node.body[0].value) for node in ast.walk(tree) if _may_have_a_doc(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            for number, text in zip(node.values, node.values[1:], strict=False):
                put_in = isinstance(number, ast.FormattedValue) and _is_text(text)
                if put_in and BEHIND_A_NUMBER.match(text.value):
                    yield "behind a number", text.value
        elif _is_text(node) and id(node) not in docs:
            if BY_ITSELF.match(node.value):
                yield "by itself", node.value
            elif IN_BRACKETS.search(node.value):
                yield "in brackets", node.value


def _is_text(node):
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _may_have_a_doc(node):
    documented = (ast.Module, ast.ClassDef, ast.FunctionDef)
    return isinstance(node, documented) and bool(node.body) and isinstance(node.body[0], ast.Expr)


def test_no_unit_is_written_outside_the_units():
    home = Path(net3d.__file__).parent
    found = []
    for path in sorted(home.rglob("*.py")):
        name = path.relative_to(home).as_posix()
        if not name.startswith("units/") and name not in DRAWN:
            texts = found_in(path.read_text("utf-8"))
            found += [(name, what, text) for what, text in texts if text not in READS.get(name, ())]
    assert not found


BY_HAND = {
    "metres a second": 'f"{speed:.2f} m/s"',
    "in the middle": 'f"A current of {speed:.2f} m/s and more"',
    "without a blank": 'f"{size}mm"',
    "at the end of a sentence": 'f"{pull} lbf."',
    "inches": 'f"{far} in"',
    "in a heading": 'Column("stress", "largest stress (MPa)")',
    "spelled": 'unit = "pound" if inches else "kilogram"',
    "another tape": 'Tape("in").length(far)',
    "joined": '" ".join([number, "ft"])',
}
OTHERS = {
    "docstring": '"""Speed [m/s] (in)."""',
    "the word": 'f"{knots} in the net"',
    "asked of the tape": "f\"{tape.speed(v)} against {tape.unit('force')}\"",
}


@pytest.mark.parametrize("code", BY_HAND.values(), ids=BY_HAND)
def test_what_is_built_by_hand_is_found(code):
    assert list(found_in(code))


@pytest.mark.parametrize("code", OTHERS.values(), ids=OTHERS)
def test_other_texts_are_left_alone(code):
    assert not list(found_in(code))
