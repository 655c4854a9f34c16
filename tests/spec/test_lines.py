"""The line of every key, against what tomllib itself reads: the same paths, and lines found by counting."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from net3d.spec.locate import locate

TEXT = '''# note = 1
title = "a # [hoop]"
a.b.c = 1
"quoted key" = 2
"esc\\u0061ped" = 3
'literal' = {x = 1, y = {z = [1, 2]}}
long = """
[not.a.table]
x = 1 \\""" still in
"""
raw = \'\'\'
don't = 2
\'\'\'
when = 1979-05-27 07:32:00

[table] # trailing
list = [
    1,   # one ]
    "two, # ]",
    [3,
     4],
    { five = 5 },
]
last = true

[[hoop]]
rod = 1
[hoop.inner]
deep = 2
[[hoop]]
rod = 3
[[hoop.part]]
n = 4
[[hoop.part]]
n = 5
'''

WHERE = {
    ("title",): "title =",
    ("a", "b", "c"): "a.b.c",
    ("quoted key",): '"quoted key"',
    ("escaped",): '"esc',
    ("literal", "y", "z", 1): "'literal'",
    ("long",): "long =",
    ("raw",): "raw =",
    ("when",): "when =",
    ("table",): "[table]",
    ("table", "list", 0): "1,   # one",
    ("table", "list", 1): '"two',
    ("table", "list", 2, 0): "[3,",
    ("table", "list", 2, 1): "4],",
    ("table", "list", 3, "five"): "five = 5",
    ("table", "last"): "last = true",
    ("hoop", 0, "rod"): "rod = 1",
    ("hoop", 0, "inner", "deep"): "deep = 2",
    ("hoop", 1, "rod"): "rod = 3",
    ("hoop", 1, "part", 0, "n"): "n = 4",
    ("hoop", 1, "part", 1, "n"): "n = 5",
}


def paths_of(value, path=()):
    """All paths in what tomllib read."""
    if path:
        yield path
    entries = (
        value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    )
    for key, inner in entries:
        yield from paths_of(inner, (*path, key))


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_every_path_has_its_line(ending):
    lines = locate(TEXT.replace("\n", ending))
    assert set(paths_of(tomllib.loads(TEXT))) == set(lines)
    for path, fragment in WHERE.items():
        assert fragment in TEXT.splitlines()[lines[path] - 1], path


keys = st.text("abcxyz-_0123456789", min_size=1, max_size=3)
scalars = st.one_of(
    st.integers(-99, 99).map(str),
    st.sampled_from(
        ["true", "1.5", "inf", "1979-05-27", '"a]b"', "'c}d'", '"""m\nn"""', "'''o\n\"p'''", '"\\""']
    ),
)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: "[" + ", # x ]\n ".join([*items, ""]) + "]"),
        st.dictionaries(keys, inner, max_size=3).map(
            lambda pairs: "{" + ", ".join(f"{key} = {value}" for key, value in pairs.items()) + "}"
        ),
    ),
    max_leaves=6,
)


@settings(max_examples=200, deadline=None)
@given(
    st.dictionaries(keys, values, max_size=4), st.lists(st.dictionaries(keys, values, max_size=2), max_size=3)
)
def test_the_scanner_sees_the_keys_that_tomllib_sees(top, hoops):
    pairs = [f"{key} = {value}" for key, value in top.items()]
    for hoop in hoops:
        pairs += ["[[the.hoop]]", *(f"{key} = {value}" for key, value in hoop.items())]
    text = "\n".join(pairs)
    seen = {path for path in paths_of(tomllib.loads(text)) if len(path) <= 8}
    assert seen == set(locate(text))


@settings(max_examples=300, deadline=None)
@given(st.text("[]{}=.,#\"'\n a1\\", max_size=40))
def test_nonsense_never_crashes_it(text):
    assert all(line >= 1 for line in locate(text).values())
