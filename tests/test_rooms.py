"""What each room of the package may do, beyond the imports that the contracts in pyproject.toml bound."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "net3d"
CHANGES = {"write_text", "write_bytes", "touch", "mkdir", "rmdir", "rename", "unlink", "rmtree", "copyfile"}
PRINTS = {"print", "input", "breakpoint"}
ENDS = {"exit", "_exit"}
WRITERS, COMMANDS, ENDINGS = ("writers",), ("commands", "cli.py"), ("commands", "cli.py", "__main__.py")


def calls(path):
    """Every call in a module: what is called, and its line."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call):
            called = node.func
            yield (called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")), node


def outside(rooms):
    """Every module that is not in one of these rooms."""
    return [path for path in PACKAGE.rglob("*.py") if path.relative_to(PACKAGE).parts[0] not in rooms]


def opens_to_write(node):
    modes = [*node.args, *(word.value for word in node.keywords if word.arg == "mode")]
    texts = [mode.value for mode in modes if isinstance(mode, ast.Constant) and isinstance(mode.value, str)]
    return any(set(text) <= set("rwxabt+") and set(text) & set("wxa+") for text in texts)


def found(rooms, wanted):
    return [
        f"{path.relative_to(PACKAGE)}, line {node.lineno}: {name}"
        for path in outside(rooms)
        for name, node in calls(path)
        if wanted(name, node)
    ]


def test_only_writers_write_files():
    assert not found(WRITERS, lambda name, node: name in CHANGES or (name == "open" and opens_to_write(node)))


@pytest.mark.parametrize(("rooms", "names"), [(COMMANDS, PRINTS), (ENDINGS, ENDS)])
def test_only_commands_print_and_end(rooms, names):
    assert not found(rooms, lambda name, node: name in names)


def test_what_writes_and_prints_is_seen_where_it_is_allowed():
    """The search finds what there is to find: else the tests above could not fail."""
    seen = found((), lambda name, node: name in CHANGES | ENDS or (name == "open" and opens_to_write(node)))
    assert any("writers/glb.py" in place.replace("\\", "/") for place in seen)
    assert any("cli.py" in place for place in seen)
