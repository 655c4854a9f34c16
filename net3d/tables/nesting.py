"""The nesting sheet: how the pieces lie on sheet netting of the stock size, and what is left over."""

from __future__ import annotations

from net3d.plan.plan import Plan
from net3d.shop.nesting import Cutting, Nest, nest, saved_head_to_tail
from net3d.shop.tubes import tubes
from net3d.spec.spec import NetSpec
from net3d.tables.panels import pieces_of
from net3d.tables.sheet import Column, Note, Sheet, noted


def nesting_sheets(spec: NetSpec, plan: Plan) -> tuple[Sheet, ...]:
    """One sheet for each kind of netting that is cut; none where no stock size is given."""
    size = spec.stock.webbing_across or spec.stock.webbing_deep
    if spec.netting.made != "sheet" or size is None:
        return ()
    kinds = dict.fromkeys((tube.stretched_mesh, tube.twine.name) for tube in tubes(plan))
    return tuple(_sheet(spec, plan, kind, float(size)) for kind in kinds)


def _sheet(spec: NetSpec, plan: Plan, kind: tuple[float, str], size: float) -> Sheet:
    runs_across = spec.stock.webbing_deep is not None
    laid = nest(_cuttings(spec, plan, kind), size, runs_across)
    fixed, run = ("deep", "across") if runs_across else ("across", "deep")
    columns = (
        Column("pieces", "pieces"),
        *(Column(f"start_{way}", f"starts at mesh {way}") for way in (fixed, run)),
        *(Column(f"meshes_{way}", f"takes meshes {way}") for way in (fixed, run)),
    )
    rows = tuple(
        (_names(one.names), one.start, one.along, one.fixed, one.run)
        for one in sorted(laid.laid, key=lambda one: (one.along, one.start))
    )
    title = f"{spec.title}: pieces on the sheet"
    return Sheet("nesting", title, spec.tape, columns, rows, _notes(spec, laid, kind, (fixed, run)))


def _cuttings(spec: NetSpec, plan: Plan, kind: tuple[float, str]) -> list[Cutting]:
    wider = 2 * spec.lacing.take_up
    return [
        Cutting(
            name,
            panel.across_first + wider,
            panel.across_last + wider,
            panel.deep,
            saved_head_to_tail(panel.right),
        )
        for tube in tubes(plan)
        if (tube.stretched_mesh, tube.twine.name) == kind
        for name, panel, count in pieces_of(tube)
        for _ in range(count)
    ]


def _names(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else f"two of {names[0]}, head to tail"


def _notes(spec: NetSpec, laid: Nest, kind: tuple[float, str], ways: tuple[str, str]) -> tuple[Note, ...]:
    mesh, twine = kind
    fixed, run = ways
    length = spec.tape.run(laid.run * mesh)
    too_large = (
        (
            f"The sheet is too small for {', '.join(dict.fromkeys(laid.too_large))}: cut these from more"
            " panels (panels = 2 or 4 in [netting] or [[throat]]), or from a larger sheet."
        ),
    )
    return noted(
        "fact",
        (
            f"Sheet of twine {twine}, {laid.size:g} meshes {fixed}: {laid.run:g} meshes {run} are used up, "
            f"{length} stretched, and {laid.waste:.0%} of it is left over."
        ),
        (
            "All pieces lie with their points the way the sheet's points run. Half a mesh is lost at every"
            " cut between two pieces: the knots stay with one of them."
        ),
        *(too_large if laid.too_large else ()),
    )
