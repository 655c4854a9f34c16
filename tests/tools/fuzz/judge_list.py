"""What net3d makes of one wanted list: refused with a reason, or nets of it; anything else is trouble."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from itertools import islice

from net3d.checks.checks import Level
from net3d.errors import SpecError
from net3d.many.engine import Engine
from net3d.propose import propose, words
from net3d.propose.choices import choices_of
from net3d.propose.limits import Ruled, usable_hoops, usable_meshes
from net3d.spec.read import text_of
from net3d.spec.wanted import read_wanted, wanted_of
from net3d.spec.wanted_text import changed, is_wanted
from tests.tools.fuzz.judge import LARGE, READ, WORKED_OUT, Verdict, Wrong, check_message, judged

HERE = Engine(lambda: ThreadPoolExecutor(1), 1)
LOOKED = 2000  # choices of which none may be too large
LARGER = 3  # times the bars of a spec that is solved: the smallest nets worth a look have more than that


def judge_list(content, lot, limits, tell):
    """Read a list; where it is accepted and its lot falls so, look at the first nets of it.

    ``lot``, ``limits`` and ``tell`` are as for a spec.
    """
    return judged(content, lambda path: _proposed(path, lot, limits, tell))


def _proposed(path, lot, limits, tell):
    bars_max, one_in = limits
    tell("list")
    wanted = read_wanted(path)
    _check_text(path)
    if lot % one_in:
        return Verdict(READ)
    tell("choices")
    ruled = Ruled()
    choices = choices_of(wanted, usable_meshes(wanted, ruled), usable_hoops(wanted, ruled))
    if any(_bars(choice) > LARGER * bars_max for choice in islice(choices, LOOKED)):
        return Verdict(LARGE)
    tell("propose")
    _check(propose(wanted, HERE, seconds=0))
    return Verdict(WORKED_OUT)


def _bars(choice):
    """About how many bars a net has: four to each mesh."""
    deep = choice.deep * (len(choice.hoops) - 1) + choice.tail + sum(one.deep for one in choice.throats)
    return 4 * choice.around * deep


def _check_text(path):
    """A list is taken for one, and a title that is typed into it is all that it says anew."""
    text = text_of(path, str(path))
    if not is_wanted(text):
        raise Wrong("the list is not taken for one")
    try:
        new = changed(text, {"title": "Pool", "want.hours": None})
    except SpecError as error:
        check_message(str(error))
        return
    path.write_text(new, "utf-8", newline="")
    typed = wanted_of(read_wanted(path).source).source.typed
    if typed["title"] != "Pool" or "hours" in typed.get("want", {}):
        raise Wrong(f"the text says something else: {new}")


def _check(result):
    for told in (*words.hindrances(result), words.ended(result)):
        check_message(told)
    for proposal, told in zip(result.found, words.sentences(result), strict=True):
        for sentence in told.values():
            check_message(sentence)
            if any(word.strip(".,;") in ("nan", "inf", "None") for word in sentence.split()):
                raise Wrong(sentence)
        failed = [one.code for one in proposal.design.findings if one.level is Level.FAIL]
        if failed:
            raise Wrong(f"proposed, and {failed} fail")
    if not (result.found or result.ruled.counts or result.ended):
        raise Wrong("nothing was proposed, and nothing says why")
