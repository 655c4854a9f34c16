"""What net3d makes of one spec file: refused with a reason, or worked out; anything else is trouble."""

from __future__ import annotations

import contextlib
import csv
import io
import json
import math
import tempfile
import traceback
import unicodedata
import warnings
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import numpy as np

from net3d import design
from net3d.cli import main
from net3d.errors import NetError, SpecError
from net3d.plan import lay_out
from net3d.spec import parse_spec, read_spec, vary
from net3d.spec.rewriting import rewritten
from net3d.tables.cuts import cuts_sheet
from net3d.tables.marks import marks_sheet
from net3d.writers.build_files import BUILD_FILES
from tests.tools.fuzz.mutate import changes

REFUSED, REFUSED_LATER, TROUBLE = "refused by the spec", "refused later", "trouble"
READ, LARGE, PLANNED, WORKED_OUT = (
    "accepted, read only",
    "accepted, too large to solve here",
    "accepted, planned",
    "accepted, worked out",
)
BUILD = ("build", "{spec}", "-o", "{folder}/out")
COMMANDS = (
    ("check", "{spec}", "--all"),
    ("check", "{spec}", "--json"),
    ("marks", "{spec}"),
    ("cuts", "{spec}", "--json"),
    ("materials", "{spec}"),
    ("sheet", "{spec}", "-o", "{folder}", "--strip", "1", "--quote", "costs"),
    ("loads", "{spec}", "--plot", "{folder}/drag.svg"),
    ("cfd", "{spec}", "-o", "{folder}"),
    ("picture", "{spec}", "--size", "200x120", "-o", "{folder}/p.png", "--view", "cutaway"),
    ("print", "{spec}", "-o", "{folder}/p.stl"),
    ("usdz", "{spec}", "-o", "{folder}/p.usdz"),
    ("align", "{spec}", "--json"),
    ("show", "{spec}", "-o", "{folder}", "--no-browser"),
)
PLAN_ONE_IN = 3  # of the accepted, where not all are worked out
BUILT = {file.name for file in BUILD_FILES}
LONGEST_LINE = 1500  # letters of a message


@dataclass(frozen=True)
class Verdict:
    """How a file ended, and what went wrong."""

    kind: str
    detail: str = ""
    written: tuple[str, ...] = field(default=())


class Wrong(AssertionError):  # noqa: N818 - not raised outside
    """Something that net3d must not do."""


def judge(content, lot, limits, tell):
    """Read a file; where it is accepted and its lot falls so, work it out and write it.

    ``lot`` is any whole number. ``limits`` are the most bars, and one in how many of the accepted nets is
    worked out; one in ten of those is built with all writers and one in ten put through another command.
    ``tell`` is called with the name of each stage as it begins.
    """
    return judged(content, lambda path: _worked_out(path, lot, limits, tell))


def judged(content, work):
    """What comes of a file, whatever is made of it."""
    with warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)  # numpy's: a number that is none
        path = Path(_folder().name, "net.toml")
        path.write_bytes(content)
        try:
            return work(path)
        except NetError as error:
            check_message(str(error))
            return Verdict(REFUSED if isinstance(error, SpecError) else REFUSED_LATER, str(error))
        except Exception:
            return Verdict(TROUBLE, traceback.format_exc())


@cache
def _folder():
    return tempfile.TemporaryDirectory()


def _worked_out(path, lot, limits, tell):
    bars_max, one_in = limits
    tell("spec")
    spec = read_spec(path)
    if lot % min(one_in, PLAN_ONE_IN):
        return Verdict(READ)
    tell("changes")
    _check_changes(spec, lot)
    tell("plan")
    plan = lay_out(spec)
    marks_sheet(spec, plan)
    cuts_sheet(spec, plan)
    if _bars(spec) > bars_max:
        return Verdict(LARGE)
    if lot % one_in:
        return Verdict(PLANNED)
    tell("design")
    net = design(spec)
    _check_numbers(net)
    share, other = lot // one_in % 10, lot // one_in // 10
    if share > 1:
        return Verdict(WORKED_OUT)
    with tempfile.TemporaryDirectory() as folder:
        return _written(path, Path(folder), share, other, tell)


def _written(path, folder, share, other, tell):
    arguments = BUILD if share == 0 else COMMANDS[other % len(COMMANDS)]
    tell(arguments[0])
    _run([part.format(spec=path, folder=folder) for part in arguments], folder)
    return Verdict(WORKED_OUT, written=(arguments[0],))


def _bars(spec):
    """About how many bars a net has: four to each mesh."""
    around = max(spec.netting.around, *spec.sections.around)
    deep = sum(spec.sections.deep) + (spec.tail.deep if spec.tail else 0)
    return 4 * around * deep + sum(
        4 * max(throat.around, throat.tip) * throat.deep for throat in spec.throats
    )


def _check_changes(spec, lot):
    """A spec that is changed is a spec again or refused, and its text with the changes says the same."""
    wanted = changes(spec.source.typed, lot)
    try:
        varied = vary(spec, wanted)
    except SpecError as error:
        check_message(str(error))
        return
    if parse_spec(rewritten(spec.source.text, wanted)) != varied:
        raise Wrong(f"the text says something else: {wanted}")


def check_message(text):
    """A message steers no terminal and names what is wrong on lines of bearable length."""
    if any(unicodedata.category(letter) in ("Cc", "Cf", "Cs") and letter != "\n" for letter in text):
        raise Wrong(f"letters that cannot be printed: {text!r}")
    if any(len(line) > LONGEST_LINE for line in text.splitlines()):
        raise Wrong(f"a line too long: {text!r}")


def _check_numbers(net):
    if not np.isfinite(net.shape.knot_positions).all():
        raise Wrong("a knot stands nowhere")
    for finding in net.findings:
        check_message(finding.message)
        if any(word in finding.message.split() for word in ("nan", "inf", "None", "-inf")):
            raise Wrong(finding.message)


def _run(arguments, folder):
    """A command as the program runs it: ends with 0, 1 or 2, and what it writes is whole or not there."""
    out, err = io.StringIO(), io.StringIO()
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            main(arguments)
    except SystemExit as ending:
        code = ending.code or 0
    said = err.getvalue()
    if code not in (0, 1, 2) or (code == 1 and arguments[0] != "check") or (code == 2 and not said.strip()):
        raise Wrong(f"{arguments} ended with {code}: {said}")
    if "cannot be printed" in said or "cannot be written" in said:
        raise Wrong(said)
    if "--json" in arguments and code != 2:
        json.loads(out.getvalue(), parse_constant=_no_number)
    _check_files(arguments, folder, code)


def _no_number(text):
    raise Wrong(f"{text} is not JSON")


def _check_files(arguments, folder, code):
    written = [path for path in folder.rglob("*") if path.is_file()]
    if code == 2 and written:
        raise Wrong(f"{arguments} was refused and left {written}")
    if arguments[0] == "build" and not code and {path.name for path in written} != BUILT:
        raise Wrong(f"a build wrote {written}")
    for path in written:
        if not _whole(path):
            raise Wrong(f"{path.name} is not whole")


def _whole(path):
    content = path.read_bytes()
    if path.suffix == ".json":
        return bool(json.loads(content, parse_constant=_no_number))
    if path.suffix == ".csv":
        rows = list(csv.reader(io.StringIO(content.decode("utf-8"), newline="")))
        return len(rows) > 1 and len({len(row) for row in rows}) == 1
    if path.suffix == ".stl" and path.name == "net-cfd.stl":
        return content.rstrip().split(b"\n")[-1].startswith(b"endsolid")
    if path.suffix == ".stl":
        return len(content) == 84 + 50 * int.from_bytes(content[80:84], "little") and _finite_stl(content)
    if path.suffix == ".glb":
        return len(content) == int.from_bytes(content[8:12], "little")
    start, end = ENDS.get(path.suffix, (b"", b""))
    return content.startswith(start) and content.rstrip().endswith(end) and bool(content)


ENDS = {
    ".pdf": (b"%PDF", b"%%EOF"), ".html": (b"<!doctype html>", b"</html>"), ".svg": (b"<svg", b"</svg>"),
    ".png": (b"\x89PNG", b"IEND\xaeB`\x82"), ".usdz": (b"PK", b""),
}  # fmt: skip


def _finite_stl(content):
    facet = np.dtype([("numbers", "<f4", (12,)), ("attributes", "<u2")])
    corners = np.frombuffer(content, facet, offset=84)["numbers"][:, 3:]
    return math.isfinite(float(np.abs(corners).max(initial=0.0)))
