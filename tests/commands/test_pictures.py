"""net3d picture, print and usdz: what they write and what they refuse."""

from pathlib import Path

import pytest
from PIL import Image


def test_a_picture_of_the_size_asked(run, spec, tmp_path):
    ended = run("picture", spec, "--view", "side", "--size", "320x200")
    assert (ended.code, ended.out) == (0, "Wrote small-side.png\n")
    with Image.open(tmp_path / "small-side.png") as image:
        assert image.size == (320, 200)


@pytest.mark.parametrize("size", ["320", "0x100", "-5x300", "320x200x3", "9000x9000", "axb"])
def test_a_size_that_is_none_is_refused(run, spec, size):
    ended = run("picture", spec, f"--size={size}")
    assert ended.code == 2
    assert "1600x1000" in ended.err


def test_a_model_to_print(run, spec, tmp_path):
    ended = run("print", spec, "--scale", "1:20", "--thicken", "1mm", "-o", "model.stl")
    assert ended.code == 0
    # a circumference of 96 in is 30.56 in across, 776 mm, a twentieth of which is 38.8 mm; the foot, 8 mm
    # wide about the middle of the rod, stands out by 4 mm less half the rod, 0.32 mm, on either side
    assert ended.out.startswith("Wrote model.stl: 46 mm by 46 mm across and ")
    assert "closes the meshes up" not in ended.out
    assert (tmp_path / "model.stl").stat().st_size > 84
    # bars of 4 in are 5 mm at 1:20, and 1 mm at 1:100
    assert "closes the meshes up" in run("print", spec, "--scale", "1:100", "--thicken", "1mm").out


@pytest.mark.parametrize(
    ("option", "value"),
    [
        *(("--scale", value) for value in ("2:3", "1:0", "nan", "x")),
        *(("--thicken", value) for value in ("0", "3kg", "-1mm", "9m")),
    ],
)
def test_what_is_no_scale_or_thickness_is_refused(run, spec, tmp_path, option, value):
    ended = run("print", spec, f"{option}={value}")
    assert ended.code == 2
    assert option in ended.err
    assert not list(tmp_path.glob("*.stl"))


def test_a_net_for_the_phone(run, spec, tmp_path):
    ended = run("usdz", spec)
    assert (ended.code, ended.out) == (0, "Wrote small.usdz\n")
    assert (tmp_path / "small.usdz").read_bytes().startswith(b"PK")


@pytest.mark.parametrize("command", ["picture", "print", "usdz"])
def test_a_place_that_cannot_be_written_to_is_named(run, spec, command, tmp_path):
    (tmp_path / "missing").write_text("a file")
    ended = run(command, spec, "-o", "missing/net.out")
    assert ended.code == 2
    assert "missing/net.out: cannot be written" in ended.err
    assert "Traceback" not in ended.err


def test_a_picture_says_in_which_water_it_is(run, tmp_path):
    """Still water on asking only."""
    sample = Path(__file__).parents[2] / "specs" / "backwater-36.toml"
    for name, options in (("work.png", ()), ("still.png", ("--still",))):
        assert run("picture", sample, "--size", "320x200", "-o", name, *options).code == 0
    assert (tmp_path / "work.png").read_bytes() != (tmp_path / "still.png").read_bytes()
