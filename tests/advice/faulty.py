"""Nets with one fault of each kind that a finding knows; by the finding's code."""

from tests.nets import hoop_diameter, spec_text

ROWS = {"diameters": (0.32,) * 3, "deep": (3, 4)}
WIDE = {
    "around": 20,
    "diameters": (0.5, 0.49, 0.48, 0.47),
    "deep": (6, 5, 5),
    "tail": 8,
    "weight": True,
}
SMALL = {
    "around": 12,
    "diameters": (0.3, 0.28, 0.26, 0.25),
    "deep": (4.5, 5, 5),
    "tail": 6,
    "weight": True,
}
RIG = {"deep": (4,), "tail": 5, "legs": 3, "pull": 20.0}


def hung(hanging_ratio):
    return {"diameters": (hoop_diameter(16, 0.1, hanging_ratio),) * 2}


def rule(text, **keys):
    return {"extra": f"[limits]\n{text}", **keys}


def throats(*each, body=WIDE, fish=(0.2, 0.4), **keys):
    one = {"hoop": 1, "deep": 5, "tip": 5}
    return {
        **body,
        "throats": [{**one, **throat} for throat in each],
        "extra": f"[fish]\ngirth = {list(fish)}\n",
        **keys,
    }


def strings(**keys):
    return {"strings": keys}


def guided(keys):
    return {
        "extra": f"[leader]\nlong = 120\ndeep = 8\nfloats = 6\n{keys}\n[water]\nangle = 60\n",
        "pull": 60.0,
        "rod": 0.004,  # which can be sprung in, so that nothing else is wrong
    }


STILL = {
    "guide-crossing": {
        "extra": "[[wing]]\nlong = 40\ndeep = 4\nangle = 70\nbends = [{ after = 24, angle = -70 }]\n"
        "anchor = { type = 'fluke', weight = '4 kg' }\n",
        "pull": 60.0,
    },
    "doubt-rod": {"units": "in", "around": 20, "stretched": 8, "diameters": (36, 36), "rod": 0.3048},
    "doubt-mouth": {"diameters": (0.3, 0.31, 0.32), "deep": (4, 4)},
    "doubt-units": {"units": "mm", "around": 16, "stretched": 3.5, "diameters": (14, 14), "rod": 0.0005},
    "settled": {**ROWS, "spacing": (None, 0.5)},
    "out-of-reach": {**ROWS, "spacing": (None, 0.5)},
    "hanging-ratio-low": hung(0.19),
    "hanging-ratio-high": hung(0.87),
    "decreases-moved": throats({"taper": "even", "tip": 8}, around=18),
    "section-slack": {**ROWS, "spacing": (0.22, None)},
    "section-loose": {**ROWS, "spacing": (0.15, None)},
    "section-uneven": {"weight": True, "pull": 0.3, "deep": (12,), "twine": "#120"},
    "rods-strain": {**ROWS, "spacing": (None, 0.36)},
    "twine-overload": {"pull": 2500.0},
    "strings-carry-pull": throats(strings(to_tail=True, length=1.2)),
    "strings-loose": throats(strings(to_tail=True, length=1.9)),
    "no-string-fits": throats({"deep": 8, "tip": 6, **strings(to_hoop=3)}, body=SMALL),
    "throat-touches": throats({"tip": 12}),
    "strings-touch": throats({"deep": 4, "tip": 8, **strings(to_hoop=4)}, diameters=(0.5, 0.49, 0.4, 0.49)),
    "throat-near-body": throats({"tip": 12}),
    "throat-lies-on-body": throats({"deep": 4, "tip": 10, **strings(to_hoop=3)}, body=SMALL),
    "throat-tip-past": throats({"deep": 9}, {"hoop": 2}),
    "room-behind-throat": throats({"hoop": 3, "deep": 9}),
    "opening-tight": throats(strings(to_tail=True), fish=(0.2, 0.49)),
    "opening-wide": throats({"tip": 8, **strings(to_tail=True)}, fish=(0.07, 0.2)),
    "tip-uneven": throats({"tip": 10, "style": "square", "line": 0.5}),
    "opening-narrow": throats(
        {"deep": 4, "tip": 8, "style": "square", "line": 0.4, **strings(to_tail=True)}, fish=(0.2, 0.359)
    ),
    "local-stretched-mesh": rule("stretched_min = 0.101"),
    "local-bar": rule("bar_min = 0.0505"),
    "local-largest-hoop": rule("hoop_diameter_max = 0.31"),
    "local-length": rule("length_max = 0.6", tail=4),
    "local-hoops": rule("hoops_max = 2", **ROWS),
}

FLOWING = {
    "river-twine": {"pull": 2000.0},
    "hoop-buckling": {"rod": 0.0025, "legs": None},
    "hoop-bow": {"legs": 2, "rod": 0.004},
    "hoop-sprung": {},
    "line-load": {"pull": 700.0},
    "anchor-light": {"extra": '[anchor]\ntype = "concrete block"\nweight = "12 kg"'},
    "guide-stands": guided("float_lift = '2 N'"),
    "guide-gap": guided("float_lift = '3 N'\nleads = 6\nlead_weight = '100 g'"),
    "guide-line": guided("float_lift = '8 N'\nrope = 0.001\nslack = 0.002"),
    "guide-anchor": guided("float_lift = '4 N'\nanchor = { type = 'mushroom', weight = '4 kg' }"),
    "guide-stake": guided("float_lift = '4 N'\nstake_holds = '100 N'"),
    "current-range": {"extra": "[water]\nblocked = 0.6"},
}


def in_current(keys):
    """The spec of a net that is to stand in half a metre a second."""
    return spec_text(**{**RIG, **keys}).replace("[rigging]\n", '[rigging]\ncurrent = "0.5 m/s"\n')


def from_sheet(across):
    """The spec of a net that is cut from sheet so many meshes across."""
    return spec_text(extra=f"[stock]\nwebbing_across = {across}").replace(
        "[netting]\n", '[netting]\nmade = "sheet"\n'
    )


def squares(lines="", **keys):
    """The spec of a net between two square frames."""
    text, frame = spec_text(tail=5, extra=lines, **keys), 'shape = "square"\nwidth = 0.25\ncorner = 0.03'
    return text.replace("diameter = 0.32", frame)


def way_out(keys, **more):
    """The spec of a net with a way out."""
    return spec_text(around=16, diameters=(0.36, 0.36), deep=(5,), extra=f"[[escape]]\n{keys}", **more)


SPECS = {
    "escape-tight": way_out('kind = "hole"\nbehind = 1\nwidth = 0.17\nheight = 0.17\nlacing = 0.002'),
    "escape-apart": way_out('kind = "bars"\napart = 0.06\n[fish]\ngirth = ["0.3 m", "0.36 m"]'),
    "escape-floats": way_out('kind = "floats"\npieces = 1\nlift = "0.01 N"'),
    **{code: spec_text(**keys) for code, keys in STILL.items()},
    **{code: in_current(keys) for code, keys in FLOWING.items()},
    "sheet-too-small": from_sheet(10),
    "frame-slack": squares(),
    "frame-bend": squares(rod=0.005, legs=2),
    "frame-stress": squares(rod=0.005, legs=2),
    "rib-lines": squares("[[line]]\nfrom_hoop = 1\nto_hoop = 2\nhanging = 0.99"),
}
FAULTY = {code: f"# my net\n{text}" for code, text in SPECS.items()}
