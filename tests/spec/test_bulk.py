"""Files that hold far too much are refused by count, in a moment and a line."""

import time
from pathlib import Path

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec
from net3d.spec.read import correct_spec
from tests.nets import spec_text

SECOND = 1.0  # of processor time: common practice, no source; who waits longer takes a program for hung
BULKY = {
    "a hundred thousand hoops": spec_text() + "[[hoop]]\n" * 100_000,
    "hoops in a line": "hoop = [" + "{}," * 300_000 + "]",
    "fewer hoops in a line": "hoop = [" + "{}," * 13_000 + "]",
    "hoops in a line, as many as may stand there": "hoop = [" + "{}," * 4_999 + "]",
    "a long list": "[sections]\ndeep = [" + "1," * 490_000 + "]",
    "a list of words": "[sections]\ndeep = [" + "'x'," * 9_000 + "]",
    "names": "\n".join(f"[twine.t{number}]" for number in range(60_000)),
    "fewer names": "\n".join(f"[twine.t{number}]" for number in range(9_000)),
    "keys": "\n".join(f"k{number} = 1" for number in range(19_000)),
    "dotted keys": "\n".join(f"hoop.a{number}.b = 1" for number in range(19_000)),
    "lists in lists": "a = " + "[" * 30_000,
    "empty lines": spec_text() + "\n" * 900_000,
    "mistyped lines": "a = 1 1\n" * 100_000,
    "a fault behind it all": "[[hoop]]\n" * 100_000 + "x = 1 1",
}


@pytest.mark.parametrize("text", BULKY.values(), ids=BULKY.keys())
def test_what_holds_far_too_much_is_refused_in_a_moment(text):
    start = time.process_time()
    with pytest.raises(SpecError) as caught:
        parse_spec(text, "bulky.toml")
    assert time.process_time() - start < SECOND
    assert str(caught.value).count("\n") <= 101  # the first hundred problems, and how many more there are


def test_the_count_is_told():
    text = spec_text(diameters=(0.32,), deep=()) + "[[hoop]]\n" * 100_000
    with pytest.raises(SpecError, match=r"has 100,001 tables \[\[hoop\]\]; no net has more than 5,000"):
        parse_spec(text)
    with pytest.raises(SpecError, match=r"line 2: sections.deep: has 9,000 entries"):
        parse_spec("[sections]\ndeep = [" + "1," * 9_000 + "]")


def test_a_thousand_hoops_that_are_all_measured_are_no_bulk():
    """As many hoops as net3d works out, each with the heights that a maker takes."""
    text = spec_text(diameters=(0.32,) * 1_000, deep=(2,) * 999)
    measured = text.replace('"fibreglass"\n', f'"fibreglass"\ngaps = [{"0.001, 0.002, " * 4}]\n')
    assert len(parse_spec(measured).hoops) == 1_000


def test_a_file_is_refused_as_its_text_is(tmp_path):
    path = Path(tmp_path, "river.toml")
    path.write_text(spec_text() + "[[hoop]]\n" * 100_000, "utf-8")
    for refuse in (read_spec, correct_spec):
        with pytest.raises(SpecError, match=r"river\.toml:\n  has 100,002 tables"):
            refuse(path)
