"""Templates, script and style of a page, and the policy that lets nothing else run."""

from __future__ import annotations

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined

from net3d.parts import KINDS, palette

FORBID = "default-src 'none'; base-uri 'none'; form-action 'none'"


def templates_in(*rooms: str) -> Environment:
    """The templates of rooms, the first that has one; a name that nothing is given for is refused."""
    return Environment(
        loader=ChoiceLoader([PackageLoader(f"net3d.{room}", ".") for room in rooms]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


@cache
def joined(names: tuple[str, ...]) -> str:
    """Files one behind the other; each is named with its room, page unless given."""
    rooms = (name if "/" in name else f"page/{name}" for name in names)
    return "\n" + "\n".join(files("net3d").joinpath(name).read_text("utf-8") for name in rooms)


def lean(text: str) -> str:
    r"""Without what is for readers of the source alone: indents, comments, end tags that HTML can do without.

    >>> lean("if (one) {\n  // so that\n  /** @type {Two} */ (two)();\n\n}")
    'if (one) {\n(two)();\n}'
    >>> lean("<tr>\n  <td>1</td>\n  <td>2</td>\n</tr>\n")
    '<tr>\n<td>1<td>2'
    """
    plain = re.sub(r"\n\s+", "\n", re.sub(r"/\*\* .*?\*/ ?", "", text))
    return re.sub(r"</(?:t[dhr]|li)>\n", "", re.sub(r"(?<=\n)// .*\n", "", plain))


def style_of(names: tuple[str, ...]) -> str:
    """The style sheets, with the palette where it leaves room for it."""
    kinds = dict.fromkeys(kind.shade for kind in KINDS.values())
    shades = {f"--net-{shade.name}": shade for shade in (*palette.SCENE, *kinds)}
    shades |= {f"--{shade.name}": shade for shade in palette.PAGE}
    rooms = {
        "light": "".join(f"{name}: {shade.light};" for name, shade in shades.items()),
        "dark": "".join(f"{name}: {shade.dark};" for name, shade in shades.items()),
        "on": "\n".join(f"#parts .{kind.name} {{ background: var(--net-{kind.name}); }}" for kind in kinds),
    }
    style = joined(names)
    for room, lines in rooms.items():
        style = re.sub(rf"/\* shades {room} \*/", lines, style)
    return style


def vertex_of(bowed: bool) -> str:
    """The shader of bars and knots; flat nets are spared what draws a bow larger."""
    plain = joined(("vertex.glsl",))
    return plain.replace("es\n", "es\n#define BOWED\n", 1) if bowed else plain


def policy_for(script: str, style: str) -> str:
    """The Content-Security-Policy that lets one script and one style be used, and forbids all else."""
    return f"{FORBID}; script-src {_hash(script)}; style-src {_hash(style)}"


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"
