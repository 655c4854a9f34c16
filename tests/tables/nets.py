"""Nets whose sheets are looked at, each as far as the netting. Lengths in m."""

from net3d.netting import tie
from net3d.plan import lay_out
from net3d.spec import parse_spec
from tests.nets import Net, hoop_diameter, spec_text

MESH = 0.1


def throat(**keys):
    """A throat's table; numbers and words as they are."""
    lines = [f"{key} = {value!r}" for key, value in ({"hoop": 1, "deep": 8.0, "tip": 12} | keys).items()]
    return "\n".join(["[[throat]]", *lines])


def text(made, *tables, around=40, ratio=0.4, deep=(5.5, 6), counts=None, tail=6.0, **keys):
    """A spec of three hoops, each a little smaller than the one before."""
    diameters = [hoop_diameter(around, MESH, ratio * size) for size in (1.0, 0.98, 0.96)]
    plain = spec_text(
        around=around,
        stretched=MESH,
        diameters=diameters,
        deep=deep,
        tail=tail,
        extra="\n".join(tables),
        **keys,
    )
    made_so = plain.replace("[netting]\n", f'[netting]\nmade = "{made}"\n')
    return made_so.replace("[sections]\n", f"[sections]\naround = {list(counts)}\n") if counts else made_so


def net(made, *tables, **keys):
    """The net of such a spec."""
    spec = parse_spec(text(made, *tables, **keys))
    plan = lay_out(spec)
    return Net(spec, plan, tie(spec, plan))


NETS = {
    "plain": ((), {}),
    "odd count, no tail": ((), {"around": 37, "tail": None}),
    "late throat": ((throat(taper=1.0),), {}),
    "even throat": ((throat(taper=0.0, tip=14),), {}),
    "two throats": ((throat(deep=6.0, tip=20), throat(hoop=2, deep=7.5, tip=17)), {}),
    "square throat": ((throat(style="square", tip=16),), {}),
    "own marks": ((throat(around=30, tip=10),), {}),
    "own mesh": ((throat(stretched=0.08, around=46, tip=26),), {}),
    "a body that loses meshes": ((), {"counts": (38, 35)}),
    "a body that gains meshes": ((throat(hoop=2, tip=20),), {"counts": (41, 44)}),
}
