"""net3d reuse, as a maker runs it."""

import json

from tests.nets import spec_text


def test_the_command_tells_pieces_and_parts(run, tmp_path):
    """Row 5 of 12 is torn all around: rows 0 to 4 and 6 to 12 are tubes, of 2 and 3 meshes; three deep do."""
    net = {"around": 16, "diameters": (0.36, 0.36), "deep": (6,)}
    old, new = tmp_path / "old.toml", tmp_path / "new.toml"
    old.write_text(spec_text(**net, extra='[[hole]]\nknots = ["5:1-16"]\n'), "utf-8")
    new.write_text(spec_text(**{**net, "deep": (3,)}), "utf-8")
    pieces, parts = json.loads(run("reuse", old, "--for", new, "--json").out)
    assert [(row["shape"], row["meshes_across"], row["meshes_deep"]) for row in pieces["rows"]] == [
        ("tube", 16, 3)
    ]
    assert pieces["rows"][0]["rows"] == "6 to 12"
    assert [row["made_of"] for row in parts["rows"]] == ["a tube of piece 1"]
