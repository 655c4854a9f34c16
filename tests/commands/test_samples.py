"""The sample nets: each says what it is, builds, and has of a published net what its source says of it.

How many meshes deep they are no source says. Depths were chosen such that the nets are as long as published,
and so their length is not checked here: it would check nothing.
"""

import json
from pathlib import Path

import pytest

from net3d import read_spec, vary

SPECS = Path(__file__).parent.parent.parent / "specs"
PUBLISHED = {
    # Seven fibreglass hoops of 0.6 m, 38 mm bar: USGS Open-File Report 93-104, p. 36.
    "stream-survey-0.6.toml": {"hoops": 7, "diameter": 0.6, "bar": 0.038},
    # Seven hoops of 1.07 m, 38.1 mm bar: Proc. Annu. Conf. SEAFWA 1997, hoop net configurations.
    "survey-1.07.toml": {"hoops": 7, "diameter": 1.07, "bar": 0.0381},
}
PUBLISHED_THROATS = {
    # USGS Open-File Report 93-104, p. 36, which does not say what style they are.
    "stream-survey-0.6.toml": {2: None, 4: None},
    # Hubert and Patton 1994, Prairie Naturalist.
    "tapering-0.75.toml": {2: "square", 4: "finger"},
}


@pytest.mark.parametrize("path", sorted(SPECS.glob("*.toml")), ids=lambda path: path.name)
def test_samples_build_and_none_fails(run, path, tmp_path):
    assert path.read_text("utf-8").startswith("# ")
    ended = run("build", path)
    assert ended.code == 0, ended.err
    report = json.loads((tmp_path / "outputs" / path.stem / "report.json").read_text("utf-8"))
    assert report["settled"] == "settled"
    assert "fail" not in {finding["level"] for finding in report["findings"]}


@pytest.mark.parametrize("name", sorted(PUBLISHED))
def test_published_nets_have_the_published_hoops_and_mesh(name):
    published = PUBLISHED[name]
    spec = read_spec(SPECS / name)
    assert [hoop.diameter for hoop in spec.hoops] == [published["diameter"]] * published["hoops"]
    assert spec.netting.stretched / 2 == pytest.approx(published["bar"])


def test_the_fyke_has_the_published_frames_and_hoops():
    # Frames of 0.9 x 1.8 m, hoops of 0.76 m: standard sampling methods, by an abstract.
    hoops = read_spec(SPECS / "survey-fyke-0.9.toml").hoops
    frames = [(hoop.frame.height, hoop.frame.width) for hoop in hoops if hoop.frame]
    assert frames == [(0.9, 1.8)] * 2
    assert {hoop.diameter for hoop in hoops if not hoop.frame} == {0.76}


GUIDED = {
    # Frames 2 x 3 ft, hoops 2 ft, a leader of 25 ft: gear list of Wisconsin lakes, LTER.
    "mini-fyke-2ft.toml": ((0.6096, 0.9144), {0.6096}, [(7.62, 0.6096)]),
    # Half a circle 4 ft high and 8 ft wide, wings 8 fathoms long and 1 high: Encyclopedie, article Verveux.
    "d-mouth-8ft.toml": ((1.2192, 2.4384), {1.3208}, [(14.63, 1.829)]),
    # A leader of 6 m: estuarine fish surveys of Northern Ireland; 0.4 m high: Irish yellow eel survey.
    "double-eel-fyke-0.5.toml": (None, {0.5, 0.46, 0.42, 0.38, 0.36}, [(6.0, 0.4)]),
    # Frames 4 x 6 ft, a lead of 40 ft: text of a lake survey of Minnesota, as another page repeats it; the
    # heart's walls, 13 1/2 ft long and 4 ft high, and the hoops are chosen.
    "heart-trap-4x6ft.toml": ((1.2192, 1.8288), {1.0668}, [(4.115, 1.2192), (12.192, 1.2192)]),
    # A lead of 50 ft, 3 ft high: the same list's fyke with frames of 3 x 6 ft.
    "survey-fyke-0.9.toml": ((0.9, 1.8), {0.76}, [(15.24, 0.9144)]),
}


@pytest.mark.parametrize("name", sorted(GUIDED))
def test_published_frames_hoops_and_guides(name):
    frame, diameters, panels = GUIDED[name]
    spec = read_spec(SPECS / name)
    frames = {(hoop.frame.height, hoop.frame.width) for hoop in spec.hoops if hoop.frame}
    assert [pytest.approx(size, rel=0.05) for size in sorted(frames)] == ([frame] if frame else [])
    assert sorted({hoop.diameter for hoop in spec.hoops if not hoop.frame}) == pytest.approx(
        sorted(diameters)
    )
    for guide, (long, high) in zip(spec.guides, panels, strict=True):
        along = guide.long * guide.stretched * guide.hanging
        up = guide.deep * guide.stretched * (1 - guide.hanging**2) ** 0.5
        assert (along, up) == (pytest.approx(long, rel=0.03), pytest.approx(high, rel=0.06))


@pytest.mark.parametrize("name", sorted(PUBLISHED_THROATS))
def test_published_throats_are_on_the_published_hoops(name):
    throats = {throat.hoop: throat.style for throat in read_spec(SPECS / name).throats}
    published = PUBLISHED_THROATS[name]
    assert list(throats) == list(published)
    assert all(style in (None, throats[hoop]) for hoop, style in published.items())


def test_the_tapering_net_has_the_published_hoops_and_a_mesh_within_the_published_ones():
    # Hubert and Patton 1994: seven hoops, 0.75 to 0.60 m; netting of 50 mm bar to 25 mm.
    spec = read_spec(SPECS / "tapering-0.75.toml")
    diameters = [hoop.diameter for hoop in spec.hoops]
    assert (len(diameters), diameters[0], diameters[-1]) == (7, 0.75, 0.6)
    assert diameters == sorted(diameters, reverse=True)
    assert 0.025 <= spec.netting.stretched / 2 <= 0.05


def test_the_two_versions_of_one_net_differ_in_the_last_section_only():
    shallow, deep = (read_spec(SPECS / f"backwater-36{name}.toml") for name in ("", "-deep-rear"))
    assert deep.sections.deep[:-1] == shallow.sections.deep[:-1]
    assert deep.sections.deep[-1] > shallow.sections.deep[-1]
    same = {"title": shallow.title, "sections.deep": shallow.sections.deep}
    assert vary(deep, same) == shallow


def test_a_new_spec_is_a_net_with_two_throats_that_no_check_fails(run):
    assert run("new", "first net").code == 0
    ended = run("check", "first net.toml", "--json")
    report = json.loads(ended.out)
    assert ended.code == 0, ended.err
    assert (report["settled"], len(report["throats"])) == ("settled", 2)


@pytest.mark.parametrize("command", ["check", "build", "marks", "cuts", "materials", "sheet", "loads", "cfd"])
def test_meshes_that_cannot_be_lost_are_told_with_the_file_they_stand_in(run, command, tmp_path):
    text = (SPECS / "backwater-36.toml").read_text("utf-8")
    (tmp_path / "river.toml").write_text(text.replace("deep = 9 ", "deep = 2 "), "utf-8")
    ended = run(command, "river.toml")
    assert ended.code == 2
    assert ended.err.startswith("river.toml:\n  line 43: throat[1].tip: ")
    assert "What would work" in ended.err
