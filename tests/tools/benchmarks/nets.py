"""The nets that are timed: four sizes, in kinds that repeat around and kinds that do not."""

from __future__ import annotations

from tests.nets import Net, hoop_diameter, make, spec_text

SIZES = {  # about so many thousand bars: meshes around, sections, meshes deep of each, of the tail
    "1": (16, 4, 3, 3),
    "6": (40, 6, 5, 7),
    "48": (100, 11, 10, 10),
    "400": (250, 25, 15, 25),
}
STRETCHED, HANGING_RATIO = 0.09, 0.5


def net_text(kind: str, size: str) -> str:
    """The spec of a net of ``kind`` repeats (equal all around), weight or throats (two, and weight)."""
    return spec_text(**net_keys(kind, size), tail=SIZES[size][3])


def whole(kind: str, size: str) -> Net:
    """The same net, tied."""
    return make(**net_keys(kind, size), tail=SIZES[size][3])


def body(kind: str, size: str) -> Net:
    """The same without its tail, tied: every hoop slides but the last, which the anchor holds."""
    return make(**net_keys(kind, size))


def net_keys(kind: str, size: str) -> dict[str, object]:
    """What the spec of a net says, its tail apart."""
    around, sections, deep, _ = SIZES[size]
    keys: dict[str, object] = {
        "around": around,
        "stretched": STRETCHED,
        "diameters": (hoop_diameter(around, STRETCHED, HANGING_RATIO),) * (sections + 1),
        "deep": (deep,) * sections,
        "weight": kind != "repeats",
    }
    if kind == "throats":
        tip = {"deep": deep, "tip": around // 8 * 4}
        first = {"hoop": 2, **tip, "strings": {"to_hoop": 4, "points": 4, "length": "fit"}}
        keys["throats"] = (first, {"hoop": 4, **tip, "strings": {"to_tail": True}})
    return keys
