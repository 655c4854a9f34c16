"""How far it is around a hoop is known to one room: no other multiplies pi by a hoop's size."""

import ast
from pathlib import Path

import net3d

PACKAGE = Path(net3d.__file__).parent
SIZES = {"outside_diameter", "knot_circle_diameter", "circumference", "girth", "knot_girth", "ring_radius"}
HOOP_ROOMS = {"spec", "plan", "netting"}  # where a plain diameter is a hoop's


def words(node):
    """Every name in an expression."""
    for part in ast.walk(node):
        if isinstance(part, ast.Name | ast.Attribute):
            yield part.id if isinstance(part, ast.Name) else part.attr


def products_with_pi(path):
    """Products and quotients in which pi stands, by line."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div):
            named = set(words(node))
            if "pi" in named:
                yield node.lineno, named


def test_no_other_room_multiplies_pi_by_a_hoops_size():
    found, looked_at = [], 0
    for path in PACKAGE.rglob("*.py"):
        room = path.relative_to(PACKAGE).parts[0]
        if room == "outline":
            continue
        sizes = SIZES | ({"diameter"} if room in HOOP_ROOMS else set())
        for line, named in products_with_pi(path):
            looked_at += 1
            if named & sizes:
                found.append(f"{path.relative_to(PACKAGE)}:{line}")
    assert looked_at > 30
    assert not found, f"take girth_of, diameter_of or a hoop's outline instead: {found}"
