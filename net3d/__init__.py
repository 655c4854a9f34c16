"""Hoop nets worked out in 3D before the first knot is tied.

The whole chain, one record a stage::

    spec -> plan -> netting -> statics -> checks

``design`` runs it; solids, sheets and writers only read what it returns. Heavy libraries are
imported when a name that needs them is first used, so ``import net3d`` itself is quick.

A net of three equal hoops, from what the maker types to what the hoops do:

>>> import tempfile, pathlib, net3d
>>> text = '''
... title = "Three hoops"
... units = "in"
... [netting]
... around = 24
... stretched = "3 1/2"
... twine = "#15"
... made = "hand-tied"
... [[hoop]]
... diameter = 18
... rod = "3/8"
... material = "fibreglass"
... repeat = 3
... [sections]
... deep = [5.5, 6]
... [rigging]
... anchor = "tail"
... pull = "15 lbf"
... '''
>>> folder = tempfile.TemporaryDirectory()
>>> path = pathlib.Path(folder.name, "three-hoops.toml")
>>> _ = path.write_text(text, encoding="utf-8")

The spec is what was typed, checked, in SI; the plan is whole-number trade arithmetic:

>>> spec = net3d.read_spec(path)
>>> plan = net3d.lay_out(spec)
>>> [hoop.half_pitch_off for hoop in plan.hoops]
[False, True, True]

A spec is changed as the maker would, key by key; every rule is passed again, and the first stays as it is:

>>> wider = net3d.vary(spec, {"hoop.1.diameter": "19 1/2", "sections.deep.2": 6.5})
>>> [round(hoop.diameter / 0.0254, 2) for hoop in wider.hoops], wider.sections.deep
([19.5, 18.0, 18.0], (5.5, 6.5))

The design adds the netting, its equilibrium and the findings:

>>> net = net3d.design(spec)
>>> net.shape.state.value
'settled'
>>> len(net.shape.sections)
2

Its tables are records in SI units, which pandas takes, and its model is a scene of trimesh (the extra
net3d[scene]), to slice, measure, render, or write in other formats:

>>> [round(record["pitch"], 4) for record in net3d.marks_sheet(spec, net.plan).records]
[0.0598, 0.0598, 0.0598]
>>> scene = net3d.scene(net)
>>> scene.units, scene.metadata["outside_diameters_m"]
('meters', [0.4572, 0.4572, 0.4572])
>>> sorted(scene.geometry)[:4]
['hoop-1', 'hoop-2', 'hoop-3', 'section-1-2']
>>> rod = scene.geometry["hoop-1"]
>>> rod.is_watertight, round(1e6 * rod.volume)
(True, 100)
>>> folder.cleanup()
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from net3d.chain import Design, design
from net3d.errors import NetError, OutputError, Problem, ShapeError, SpecError
from net3d.version import __version__ as __version__

if TYPE_CHECKING:
    from net3d.checks.checks import Finding, Level
    from net3d.many import Draw, cluster, processes, sweep
    from net3d.netting.netting import Netting
    from net3d.plan import lay_out
    from net3d.plan.plan import Plan
    from net3d.solids import solids_of
    from net3d.spec import read_spec, starter_spec, vary
    from net3d.spec.schema import spec_schema
    from net3d.spec.spec import NetSpec
    from net3d.statics.shape import EndState, Shape
    from net3d.tables.cuts import cuts_sheet
    from net3d.tables.marks import marks_sheet
    from net3d.tables.materials import materials_sheet
    from net3d.tables.sheet import Sheet
    from net3d.writers.scene import scene

_HOMES = {
    "Draw": "net3d.many",
    "EndState": "net3d.statics.shape",
    "Finding": "net3d.checks.checks",
    "Level": "net3d.checks.checks",
    "NetSpec": "net3d.spec.spec",
    "Netting": "net3d.netting.netting",
    "Plan": "net3d.plan.plan",
    "Shape": "net3d.statics.shape",
    "Sheet": "net3d.tables.sheet",
    "cluster": "net3d.many",
    "cuts_sheet": "net3d.tables.cuts",
    "lay_out": "net3d.plan",
    "marks_sheet": "net3d.tables.marks",
    "materials_sheet": "net3d.tables.materials",
    "processes": "net3d.many",
    "read_spec": "net3d.spec",
    "scene": "net3d.writers.scene",
    "solids_of": "net3d.solids",
    "spec_schema": "net3d.spec.schema",
    "starter_spec": "net3d.spec",
    "sweep": "net3d.many",
    "vary": "net3d.spec",
}

__all__ = [
    "Design",
    "Draw",
    "EndState",
    "Finding",
    "Level",
    "NetError",
    "NetSpec",
    "Netting",
    "OutputError",
    "Plan",
    "Problem",
    "Shape",
    "ShapeError",
    "Sheet",
    "SpecError",
    "cluster",
    "cuts_sheet",
    "design",
    "lay_out",
    "marks_sheet",
    "materials_sheet",
    "processes",
    "read_spec",
    "scene",
    "solids_of",
    "spec_schema",
    "starter_spec",
    "sweep",
    "vary",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401
    """Import a public name from its home when it is first asked for."""
    if name not in _HOMES:
        raise AttributeError(f"module 'net3d' has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
