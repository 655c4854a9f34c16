"""Wanted lists of different makers; every number is our own scenario."""

from net3d.spec.wanted import read_wanted

HOOP = '[[pile]]\n{size} = {diameter}\nrod = {rod}\nmaterial = "{material}"\nrepeat = {repeat}\n'


def read(text, folder):
    """The list of a text, as read from a file of it."""
    path = folder / "wanted.toml"
    path.write_text(text, "utf-8")
    return read_wanted(path)


def pile(*hoops, rod='"3/8"', material="fibreglass", size="diameter"):
    return "".join(
        HOOP.format(size=size, diameter=diameter, rod=rod, material=material, repeat=repeat)
        for diameter, repeat in hoops
    )


def wanted(want, hoops, netting='stretched = ["3 1/2"]\ntwine = "#15"', units="in", more=""):
    head = f'title = "Wanted"\nunits = "{units}"\n[netting]\n{netting}\n'
    return f"{head}{hoops}[want]\n{want}\n{more}\n"


SMALL = wanted(
    "hoops_min = 2\nhoops_max = 3\nthroats = 0\nlongest = 32\nhours = 5\n"
    'for = ["room", "light work", "even pull"]',
    pile((14, 2), (13, 1)),
    netting='stretched = ["3 1/2"]\ntwine = "#15"',
    more="[statics]\nweight = false",
)

TEN = {
    "a truck bed of seven feet": wanted(
        'throats = 1\nlongest = "7 ft"\nfor = ["room", "light work"]',
        pile((24, 3), (22, 2)),
        more="[fish]\ngirth = [8, 14]",
    ),
    "old hoops, all sizes": wanted(
        'throats = 2\nhoops_min = 4\nfor = ["room", "even pull"]', pile((30, 2), (28, 2), (26, 1), (24, 1))
    ),
    "little twine left": wanted(
        'throats = 1\ntwine = "1 lb"\nfor = ["little twine", "room"]',
        pile((20, 4)),
        more='[stock.have.twine]\n"#15" = "1 lb"',
    ),
    "a week-end of work": wanted('throats = 1\nhours = 12\nfor = ["light work"]', pile((24, 4))),
    "a swift stream": wanted(
        'throats = 1\nfor = ["still in current", "room"]',
        pile((30, 3), (28, 2), rod='"5/16"'),
        more='[rigging]\npull = "15 lbf"\ncurrent = "1 ft/s"',
    ),
    "square throats": wanted(
        'throats = 1\nstyles = ["square", "finger"]\nfor = ["room"]',
        pile((30, 3)),
        more="[fish]\ngirth = [8, 12]",
    ),
    "a brook, in millimetres": wanted(
        'throats = 1\nlongest = "2 m"\nfor = ["light work", "room"]',
        pile((500, 4), rod="6"),
        netting='bar = [25, 40]\ntwine = "#9"',
        units="mm",
    ),
    "sheet netting": wanted(
        'throats = 0\nfor = ["light work"]',
        pile((600, 3), rod="8"),
        netting='bar = [30]\ntwine = "#9"\nmade = "sheet"',
        units="mm",
    ),
    "local rules": wanted(
        'throats = 1\nfor = ["room"]',
        pile((40, 2), (30, 4)),
        netting='stretched = [2, "3 1/2"]\ntwine = "#15"',
        more="[limits]\nstretched_min = 3\nhoop_diameter_max = 36\nhoops_max = 4",
    ),
    "a price to keep": wanted(
        'throats = 0\nspend = 400\nfor = ["room", "light work"]',
        pile((28, 4)),
        more="[prices]\nhour = 20\nspool = 18\ncoil = 25\ndip = 30",
    ),
}

CONTRADICTIONS = {
    "too-few-hoops": wanted("throats = 0", pile((24, 2), (40, 3)), more="[limits]\nhoop_diameter_max = 36"),
    "local-stretched-mesh": wanted("throats = 0", pile((24, 3)), more="[limits]\nstretched_min = 4"),
    "local-length": wanted("throats = 0\nlongest = 10", pile((24, 3))),
    "hours": wanted("throats = 0\nhours = 0.5", pile((24, 3))),
    "twine": wanted('throats = 0\ntwine = "1 oz"', pile((24, 3))),
    "mesh-lets-fish-through": wanted("throats = 0", pile((24, 3)), more="[fish]\ngirth = 6"),
    "water-depth": wanted("throats = 0", pile((24, 3)), more="[water]\ndepth = 20"),
    "no-choice": wanted("throats = 0\nhoops_min = 2", pile((12, 1), (400, 1))),
}

_HOOP = pile((20, 1)).replace("repeat = 1\n", "")
BOWED = wanted(
    'hoops_min = 2\nhoops_max = 2\nthroats = 0\nfor = ["light work"]',
    f'{_HOOP}gaps = [0, "3/4", 0, "3/4"]\n{_HOOP}gaps = [0, "3/4", 0, "3/4"]\n',
    netting='stretched = [5]\ntwine = "#15"',
    more="[statics]\nweight = false",
)

FRAME = (
    '[[pile]]\nshape = "{shape}"\nwidth = {width}\n{more}rod = "3/8"\nmaterial = "steel"\nrepeat = {repeat}\n'
)
FRAMES = wanted(
    'hoops_min = 2\nhoops_max = 2\nthroats = 0\nlongest = 36\nfor = ["room"]',
    FRAME.format(shape="square", width=16, more="corner = 2\n", repeat=2)
    + FRAME.format(shape="d", width=60, more="height = 50\n", repeat=1),
    netting='stretched = [5]\ntwine = "#15"',
    more="[statics]\nweight = false\n[water]\ndepth = 24",
)
_TIED = '[rigging]\nline = "10 ft"\nbridle = { legs = 3, length = 24 }\n[statics]\nweight = false\n'
_ROPE = '[[rope]]\nsize = "{}"\nlength = "{}"\n'
_SHORT, _LONG, _THICK = (
    _ROPE.format(*rope) for rope in (("5/16", "12 ft"), ("1/4", "40 ft"), ("3/8", "90 ft"))
)
ROPES = wanted(
    'hoops_min = 2\nhoops_max = 2\nthroats = 0\nhours = 6\nfor = ["light work"]',
    pile((20, 2)),
    netting='stretched = [5]\ntwine = "#15"',
    more=f"{_TIED}{_SHORT}{_LONG}{_THICK}",
)
CONTRADICTIONS["rope"] = wanted(
    "hoops_min = 2\nhoops_max = 2\nthroats = 0", pile((20, 2)), more=f"{_TIED}{_SHORT}"
)
