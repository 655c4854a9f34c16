"""Why a net is proposed, what it gives up and what it leaves, in sentences."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from net3d.checks.checks import Level
from net3d.propose.search import GAIN, Proposal, Proposals
from net3d.propose.trial import Sure
from net3d.spec.wanted import Wanted, net_text

NAMES = {
    "room": "most room",
    "light work": "least work",
    "little twine": "least twine",
    "still in current": "stillest in the current",
    "even pull": "most even pull",
}
ALL_ROUND = "a bit of all with {} hoops"
SURE = {
    Sure.OVER_TOLERANCE: "Its throats are fine over the tolerance of mesh and tape.",
    Sure.IF_FITTED: "Its throats are fine if their strings are fitted to your own mesh.",
    Sure.IN_CURRENT: "Its throats are fine in a current only, not in still water.",
}
CUBIC_FOOT = 0.3048**3  # m^3


def name_of(proposal: Proposal) -> str:
    """What it is called: by what it is best in.

    A net that is best in nothing is called by what all of them share out.
    """
    return " and ".join(NAMES[goal] for goal in proposal.best[:2]) or ALL_ROUND.format(
        len(proposal.choice.hoops)
    )


def file_name(number: int, proposal: Proposal) -> str:
    """Of its spec and its picture, without their suffixes."""
    return f"{number}-{name_of(proposal).replace(' ', '-')}"


def sentences(result: Proposals) -> list[dict[str, str]]:
    """What is told of every proposal, by name of what is told."""
    goals = result.wanted.want.goals
    return [
        {
            "file": file_name(number, one),
            "name": name_of(one),
            "net": net_sentence(one),
            "why": why(one, result.found),
            "gives_up": gives_up(one, result.found, goals),
            "leaves": f"{leaves(one, result.wanted)} {turns(one)}".rstrip(),
            "checks": checks(one),
        }
        for number, one in enumerate(result.found, start=1)
    ]


def spec_text(proposal: Proposal, result: Proposals) -> str:
    """Its spec as a file, with why it was chosen on top."""
    remarks = (why(proposal, result.found), leaves(proposal, result.wanted), turns(proposal))
    return net_text(proposal.design.spec, "\n".join(filter(None, remarks)))


def net_sentence(proposal: Proposal) -> str:
    """The net in one sentence: hoops, meshes, throats, length."""
    choice, design = proposal.choice, proposal.design
    tape = design.spec.tape
    throats = [f"hoop {one.hoop}, {one.deep:g} meshes deep, tip of {one.tip}" for one in choice.throats]
    told = f"; throats ({choice.throats[0].style}) on {' and on '.join(throats)}" if throats else ""
    sizes = [hoop.size(tape) for hoop in (choice.hoops[0], choice.hoops[-1])]
    across = f"from {sizes[0]} to {sizes[1]}" if sizes[0] != sizes[1] else f"of {sizes[0]}"
    lines = "; rib lines from corner to corner" if choice.has_frames else ""
    return (
        f"{len(choice.hoops)} {'hoops and frames' if lines else 'hoops'} {across}, {choice.around} meshes of "
        f"{tape.length(choice.mesh.stretched)} stretched around, {choice.deep:g} deep between hoops and "
        f"{choice.tail:g} in the tail{told}{lines}. It hangs {tape.length(design.shape.tail_end)} long."
    )


def why(proposal: Proposal, others: Sequence[Proposal]) -> str:
    """What it is best in, over the next best."""
    if not proposal.best:
        return "It is best in nothing, and comes near the best in all that was asked."
    rest = [other for other in others if other is not proposal]
    told = [_over(proposal, rest, goal) for goal in proposal.best]
    return f"Of these nets, which all keep every limit, it has {' and '.join(told)}."


def _over(proposal: Proposal, rest: Sequence[Proposal], goal: str) -> str:
    own = amount(proposal, goal)
    if not rest:
        return f"the {NAMES[goal]}: {own}"
    next_best = min(rest, key=lambda other: other.trial.goals[goal])
    return f"the {NAMES[goal]}: {own}, and the next of these {amount(next_best, goal)}"


def gives_up(proposal: Proposal, others: Sequence[Proposal], goals: Sequence[str]) -> str:
    """In what it stands behind the best of the others, goal by goal."""
    behind = []
    for goal in goals:
        best = min(others, key=lambda other: other.trial.goals[goal])
        own, least = proposal.trial.goals[goal], best.trial.goals[goal]
        if abs(own - least) > GAIN * abs(least):
            behind.append(f"{amount(proposal, goal)} against {amount(best, goal)} ({NAMES[goal]})")
    return f"It gives up: {'; '.join(behind)}." if behind else "It gives up nothing that was asked for."


def amount(proposal: Proposal, goal: str) -> str:
    """How much it has of a goal, in the maker's units."""
    tape, numbers, value = proposal.design.spec.tape, proposal.trial.numbers, proposal.trial.goals[goal]
    if goal == "room":
        room = numbers["room"] or 0.0
        return (
            f"{room / CUBIC_FOOT:.1f} cubic feet between the hoops"
            if tape.in_inches
            else f"{room:.2f} m3 between the hoops"
        )
    if goal == "light work":
        return f"{value:.1f} hours of work"
    if goal == "little twine":
        return f"{tape.mass(value)} of twine in the netting"
    if goal == "still in current":
        return f"{tape.number(value, 'area'):.2f} {tape.unit('area')} of twine in the river's way"
    return f"the tightest bar at {value:.1f} times the mean"


def leaves(proposal: Proposal, wanted: Wanted) -> str:
    """What it leaves of the pile and the twine."""
    names = Counter(hoop.name for hoop in proposal.left)
    pile = ", ".join(f"{count} x {name}" if count > 1 else name for name, count in names.items())
    text = f"Left on the pile: {pile}." if pile else "It takes every hoop of the pile."
    have = dict(proposal.design.spec.stock.have_twine)
    twine, used = proposal.design.spec.twine.name, proposal.trial.numbers["twine"] or 0.0
    if twine in have:
        over, tape = have[twine] - used, wanted.tape
        text += (
            f" Of {twine} {tape.mass(over)} is left."
            if over > 0
            else f" {twine} is short by {tape.mass(-over)}."
        )
    return text + _rope_left(proposal)


def _rope_left(proposal: Proposal) -> str:
    spec = proposal.design.spec
    have, used = spec.stock.have_rope, proposal.trial.numbers["rope"] or 0.0
    if not have:
        return ""
    rope = f"{spec.tape.thickness(spec.rigging.rope)} {spec.rigging.rope_material} rope"
    if used > have:
        return f" Of {rope} it takes {spec.tape.length(used - have)} more than there is."
    return f" Of {spec.tape.length(have)} of {rope} {spec.tape.length(have - used)} is left."


def turns(proposal: Proposal) -> str:
    """How hoops that are not true are sewn in; empty where all are true."""
    hoops = proposal.design.spec.hoops
    if not any(hoop.gaps or hoop.across for hoop in hoops):
        return ""
    turned = [
        f"that of hoop {number} {hoop.turn} meshes" for number, hoop in enumerate(hoops, 1) if hoop.turn
    ]
    told = f", but {', '.join(turned)} clockwise of it, seen from the mouth" if turned else ""
    return (
        f"Its hoops are not all true: set their reference marks at the top{told}. Its checks are those of "
        "the net so turned."
    )


def checks(proposal: Proposal) -> str:
    """How its checks came out; none of them fails."""
    findings = proposal.design.findings
    doubts = [one.message for one in findings if one.level is Level.CAUTION]
    fine = f"{len(findings) - len(doubts)} of {len(findings)} checks are fine, none fails."
    throats = [SURE[proposal.trial.sure]] if proposal.choice.throats else []
    return " ".join([fine, *throats, *(f"Caution: {text}" for text in doubts)])


def ended(result: Proposals) -> str:
    """How far the search came."""
    count = f"{result.solved} of {result.counted} nets that the limits leave were solved"
    why = {"time": ", then time was up: --for 5min looks further", "interrupt": ", then it was interrupted"}
    return f"{count}{why.get(result.ended, '')}."


def hindrances(result: Proposals) -> list[str]:
    """What was ruled out, by the limit, the nearest miss in words."""
    counts = result.ruled.counts
    return [
        f"{counts[miss.code]} ruled out ({miss.code}). Nearest to it: {miss.message}"
        for miss in result.hindrances
    ]
