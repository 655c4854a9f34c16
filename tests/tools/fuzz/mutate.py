"""Specs and wanted lists with something done to what they say, then to their bytes. All from one number."""

from __future__ import annotations

import random
import tomllib
from copy import deepcopy
from functools import cache
from pathlib import Path

from tests.tools.fuzz.toml_text import Raw, toml_text

HERE = Path(__file__).resolve().parent
SMALL = tuple(sorted((HERE / "seeds").glob("*.toml")))
LISTS = tuple(sorted((HERE / "lists").glob("*.toml")))
SAMPLES = tuple(sorted((HERE.parents[2] / "specs").glob("*.toml")))

NUMBERS = (
    *(0, 1, 2, 3, -1, 0.5, 1e-9, 1e9, -1e300, 1e308, 5e-324, 2**31, 2**63, -(2**63), 10**18, 0.1 + 0.2),
    *(float("nan"), float("inf"), float("-inf"), 1000, 9999.5, 1e-3, 24, 100_000),
)
TEXTS = (
    *("", " ", "free", "fit", "even", "late", "square", "finger", "tail", "mouth", "sheet", "in", "ft", "m"),
    *("3 1/2", "3/0", "5 ft 6 in", "1e99 km", "15 lbf", "2 lb", "2 ft/s", "967 ft/lb", "½", "-3 in", "#15"),
    *("3" * 70, "9" * 9999, "a" * 121, "\n", "\x1b[31m", "\x00", "\u202eabc", "\N{FISH}" * 30, "=1+1"),
    *(
        "../../etc/passwd",
        "<script>",
        '"',
        "\\",
        "1 in 1 in",
        "1 mile",
        "1 stone",
        "0x10",
        "1_000 mm",
        "١٢ in",
    ),
)
ODD = (
    *(True, False, [], {}, [[]], [1], [{}], {"a": {}}, [0] * 3000, ["free"] * 40, [1.5, "x", True]),
    *(Raw("1979-05-27"), Raw("07:32:00"), Raw("10" * 300), Raw("1e400"), Raw("0xFFFFFFFF"), Raw("[" * 300)),
    *(
        Raw("'''\n'''"),
        Raw("-nan"),
        Raw("1_000"),
        Raw("{ legs = 3, legs = 4 }"),
        Raw("[1,[2,[3,[4]]]]"),
        Raw(""),
    ),
)
UNITS = (
    "in",
    "ft",
    "mm",
    "cm",
    "m",
    "lbf",
    "N",
    "lb",
    "kg",
    "ft/s",
    "m/s",
    "mph",
    "ft/lb",
    "yd",
    "furlong",
    "",
)
KEYS = (
    "",
    "mesh",
    "size",
    "Title",
    "tail",
    "hoop",
    "twine",
    "a.b",
    "strings",
    "\N{FISH}",
    "x" * 300,
    "throat",
)
TOKENS = (
    *(b"=", b"[", b"]", b"{", b"}", b'"', b"'", b"\n", b",", b".", b"#", b"1", b"-", b"e", b"true", b"nan"),
    *(b"[[hoop]]\n", b"[netting]\n", b"\\", b"\r", b"\0", b"\xff", b"\xc3", b"\xed\xa0\x80", b"\xef\xbb\xbf"),
    *(
        b"\xe2\x80\xae",
        b"\x1b]0;x\x07",
        b'"""',
        b"'''",
        b"1e400",
        b"a." * 40,
        b"[" * 200,
        b"\xf4\x90\x80\x80",
    ),
)
SOUND = {
    ("netting", "around"): (8, 11, 12, 13, 20, 36),
    ("netting", "twine"): ("#6", "#9", "#15", "#24", "#36"),
    ("netting", "made"): ("hand-tied", "sheet"),
    ("hoop", "repeat"): (1, 2, 3),
    ("hoop", "material"): ("fibreglass", "steel", "oak", "ash", "PE pipe"),
    ("hoop", "turn"): (0, 1, -3, 50),
    ("hoop", "flip"): (True, False),
    ("hoop", "gaps"): ([0, 0, 0, 0], [0, "1 cm", 0, "1 cm"], ["5 mm", 0, 0, "5 mm", 0, 0]),
    ("hoop", "across"): (["28 cm", "26 cm"], ["1 ft", "30 cm", "30 cm"]),
    ("throat", "hoop"): (1, 2, 3),
    ("throat", "deep"): (0.5, 2, 3, 4.5, 8),
    ("throat", "tip"): (3, 4, 6, 10, 12),
    ("throat", "style"): ("finger", "square"),
    ("throat", "around"): (10, 12, 14, 30),
    ("throat", "bar"): ("1 in", "4 cm", "2 in"),
    ("throat", "taper"): ("even", "middle", "late", 0.3),
    ("throat", "panels"): (1, 2, 4),
    ("throat", "line"): ("3 in", "20 cm", "5 mm", "2 m"),
    ("throat", "strings"): (
        *({}, {"to_tail": True}, {"to_hoop": 2}, {"to_hoop": 3, "points": 1}, {"to_hoop": 4, "turn": 0.5}),
        *({"length": "fit", "share": 0.3}, {"length": "20 cm"}, {"length": "3 m"}, {"length": "1 cm"}),
    ),
    ("tail", "deep"): (1, 3, 4.5, 12),
    ("rigging", "anchor"): ("tail", "mouth"),
    ("rigging", "pull"): ("0.1 N", "20 N", "100 lbf", "9000 N"),
    ("rigging", "bridle"): ({"legs": 2, "length": "40 cm"}, {"legs": 5, "length": "3 m"}),
    ("rigging", "current"): ("0.2 m/s", "2 m/s"),
    ("water", "angle"): (0, 45, 90),
    ("water", "blocked"): (0, 0.9),
    ("water", "caught"): (0, 0.5),
    ("statics", "weight"): (True, False),
}
SOUND_OF_LISTS = {
    ("netting", "stretched"): ([3], ["3 1/2", 5], [0.1], [40], [5] * 30),
    ("netting", "bar"): ([60], ["2 in"]),
    ("netting", "made"): ("hand-tied", "sheet"),
    ("pile", "repeat"): (1, 2, 3, 12, 1000),
    ("pile", "shape"): ("round", "square", "rectangle", "d"),
    ("pile", "width"): (300, "1 ft"),
    ("pile", "height"): (200, "2 ft"),
    ("pile", "gaps"): ([0, 0, 0, 0], ["5 mm", 0, 0, "5 mm", 0, 0]),
    ("rope", "size"): ("1/4 in", "6 mm", 3),
    ("rope", "length"): ("3 m", "200 ft"),
    ("want", "hoops_min"): (1, 2, 3, 9),
    ("want", "hoops_max"): (2, 4, 1000),
    ("want", "throats"): (0, 1, 2, 3),
    ("want", "styles"): (["finger"], ["square"], []),
    ("want", "longest"): ("1 ft", "2 m", "50 m"),
    ("want", "hours"): (0.1, 3, 900),
    ("want", "spend"): (1, 5000),
    ("want", "twine"): ("1 g", "3 lb"),
    ("want", "for"): ([], ["room"], ["even pull", "even pull"], ["light work", "still in current"]),
    ("fish", "girth"): (8, [10, 12], "30 cm", [1000, 2000]),
    ("limits", "hoops_max"): (1, 3),
    ("limits", "stretched_min"): (1, "9 in"),
    ("water", "depth"): ("1 ft", "3 m"),
}
LETTERS = 400  # at most so many are moved or spliced at once


def mutant(seed, number, lists=False):
    """The bytes of one file, a spec or a wanted list, told by the seed of the run and its number."""
    dice = random.Random(f"{seed}-{number}")
    document = deepcopy(_parsed(dice.choice(LISTS))) if lists else _document(dice)
    for _ in range(dice.choice((1, 1, 1, 2, 2, 3, 5))):
        dice.choice(SPEC_CHANGES)(dice, document)
    content = toml_text(document).encode("utf-8", "surrogatepass")
    if dice.random() < 0.15:
        content = _changed_lines(dice, content)
    for _ in range(dice.choice((1, 1, 2, 4)) if dice.random() < 0.2 else 0):
        content = dice.choice(BYTE_CHANGES)(dice, content)
    return content


def changes(document, number):
    """Changes of a document by key, told by a number: of values, and of where hoops and throats stand."""
    dice = random.Random(number)
    return dict(dice.choice(CHANGES)(dice, document) for _ in range(dice.choice((1, 1, 2, 4))))


def _changed_value(dice, document):
    table, key = dice.choice(list(SOUND))
    several = isinstance(document.get(table), list)
    place = f"{table}.{dice.randint(1, len(document[table]) + 1)}" if several else table
    values = SOUND[table, key] if dice.random() < 0.8 else dice.choice((NUMBERS, TEXTS, ODD))
    return f"{place}.{key}", dice.choice([None, *(value for value in values if not isinstance(value, Raw))])


def _changed_order(dice, document):
    table = dice.choice([key for key in ("hoop", "throat", "pile") if key in document])
    numbers = [*range(1, len(document[table]) + 1)]
    dice.shuffle(numbers)
    return table, numbers + dice.choice(([], [], [1], [{}], [deepcopy(document[table][0])], ["hoop.1"]))


def _changed_table(dice, document):
    table = dice.choice(list(document))
    several = isinstance(document[table], list)
    key = f"{table}.{dice.randint(1, len(document[table]))}" if several else table
    return key, dice.choice((None, 1, "pile.1", "hoop.2", {}))


CHANGES = (_changed_value, _changed_value, _changed_value, _changed_order, _changed_table)


def lot(seed, number):
    """Any whole number, the same for the same file: it says how far the file is put to use."""
    return random.Random(f"{seed}-{number}-lot").randrange(10**9)


def _document(dice):
    return deepcopy(_parsed(_source(dice)))


@cache
def _parsed(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _source(dice):
    return dice.choice(SMALL if dice.random() < 0.8 else SAMPLES)


def _places(table):
    """Every key and list entry of a document, with what holds it."""
    keys = table.items() if isinstance(table, dict) else enumerate(table)
    for key, value in keys:
        yield table, key
        if isinstance(value, dict | list):
            yield from _places(value)


def _place(dice, document, kinds=object):
    """A place that holds something of a kind; any place where there is none."""
    places = list(_places(document))
    return dice.choice([place for place in places if _holds(place, kinds)] or places)


def _holds(place, kinds):
    holder, key = place
    return isinstance(holder[key], kinds) and (kinds is object or not isinstance(holder[key], bool))


def _nudge(dice, document):
    """A number a little different, as a maker would change it."""
    holder, key = _place(dice, document, (int, float))
    value = holder[key]
    if isinstance(value, int):
        holder[key] = dice.choice(
            (value + 1, value - 1, value * 2, value // 2, value * 10, value + 0.5, -value)
        )
    elif isinstance(value, float):
        holder[key] = value * dice.choice((-1, 0.1, 0.5, 0.9, 1.1, 2, 10))


def _sound(dice, document):
    """A key of a table as another maker might have it."""
    sound = SOUND_OF_LISTS if "want" in document else SOUND
    table, key = dice.choice(list(sound))
    tables = document.get(table) or {}
    for part in tables if isinstance(tables, list) else [tables]:
        if isinstance(part, dict):
            part[key] = deepcopy(dice.choice(sound[table, key]))


def _extreme(dice, document):
    holder, key = _place(dice, document)
    holder[key] = deepcopy(dice.choice(dice.choice((NUMBERS, NUMBERS, TEXTS, ODD))))


def _with_unit(dice, document):
    holder, key = _place(dice, document, (int, float, str))
    number = dice.choice((1, 2, 5, 10, 0.3, "1/2", "3 1/2", 0, -1, 1e6, holder[key]))
    holder[key] = f"{number}{dice.choice((' ', ''))}{dice.choice(UNITS)}"


def _put_elsewhere(dice, document):
    """A value of this document or another in some other place."""
    other = document if dice.random() < 0.5 else _document(dice)
    source, source_key = _place(dice, other)
    holder, key = _place(dice, document)
    holder[key] = deepcopy(source[source_key])


def _table_from_another(dice, document):
    other = _document(dice)
    key = dice.choice(list(other))
    document[key] = other[key]


def _gone(dice, document):
    holder, key = _place(dice, document)
    if len(holder) > 1:
        del holder[key]


def _renamed(dice, document):
    holder, key = _place(dice, document)
    if isinstance(holder, dict):
        new = dice.choice((*KEYS, key.upper(), key[:-1], key + "s"))
        holder[new] = holder.pop(key)


def _list_longer(dice, document):
    holder, key = _place(dice, document, list)
    value = holder[key]
    if isinstance(value, list) and value:
        times = dice.choice((1, 1, 1, 2, 5, 500))
        value += [deepcopy(dice.choice(value)) for _ in range(times)]


def _wrapped(dice, document):
    holder, key = _place(dice, document)
    value = holder[key]
    holder[key] = dice.choice(([value], {"x": value}, str(value), [value, value]))


SPEC_CHANGES = (
    *(
        _nudge,
        _nudge,
        _nudge,
        _nudge,
        _sound,
        _sound,
        _sound,
        _sound,
        _extreme,
        _extreme,
        _with_unit,
        _put_elsewhere,
        _table_from_another,
    ),
    *(_gone, _renamed, _list_longer, _wrapped),
)


def _changed_lines(dice, content):
    """Lines twice, gone or elsewhere, which no parsed document can hold."""
    lines = content.split(b"\n")
    for _ in range(dice.choice((1, 1, 3))):
        line = dice.choice(lines)
        place = dice.randrange(len(lines))
        what = dice.randrange(3)
        if what < 2 and len(lines) > 1:
            del lines[place]
        if what > 0:
            lines.insert(place, line)
    return b"\n".join(lines)


def _flipped(dice, content):
    changed = bytearray(content)
    for _ in range(dice.choice((1, 1, 3, 20)) if changed else 0):
        changed[dice.randrange(len(changed))] ^= 1 << dice.randrange(8)
    return bytes(changed)


def _cut_off(dice, content):
    return content[: dice.randrange(len(content) + 1)]


def _put_in(dice, content):
    place = dice.randrange(len(content) + 1)
    put = dice.choice(TOKENS) if dice.random() < 0.8 else dice.randbytes(dice.choice((1, 4, 60)))
    return content[:place] + put + content[place + dice.choice((0, 0, 1, 8)) :]


def _moved(dice, content):
    start, place = (dice.randrange(len(content) + 1) for _ in range(2))
    return content[:place] + content[start : start + dice.randrange(LETTERS)] + content[place:]


def _spliced(dice, content):
    other = _source(dice).read_bytes()
    return content[: dice.randrange(len(content) + 1)] + other[dice.randrange(len(other)) :]


def _re_encoded(dice, content):
    return content.decode("utf-8", "replace").encode(
        dice.choice(("utf-16", "latin-1", "utf-8-sig")), "replace"
    )


def _crlf(_dice, content):
    return content.replace(b"\n", b"\r\n")


BYTE_CHANGES = (_flipped, _cut_off, _put_in, _put_in, _moved, _spliced, _re_encoded, _crlf)
