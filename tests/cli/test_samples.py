"""The sample nets: each says what it is, builds, and comes out as long as its source says."""

import json
from pathlib import Path

import pytest

from net3d import design, read_spec

SPECS = Path(__file__).parent.parent.parent / "specs"
PUBLISHED = {
    # Seven fibreglass hoops of 0.6 m, 38 mm bar, 3.7 m long: USGS Open-File Report 93-104, p. 36.
    "stream-survey-0.6.toml": {"hoops": 7, "diameter": 0.6, "bar": 0.038, "length": 3.7},
    # Seven hoops of 1.07 m, 38.1 mm bar, 4.3 m long: Proc. Annu. Conf. SEAFWA 1997, hoop net configurations.
    "survey-1.07.toml": {"hoops": 7, "diameter": 1.07, "bar": 0.0381, "length": 4.3},
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
def test_published_nets_come_out_as_long_as_published(name):
    """Within 5 %: the published lengths have two figures, and a whole mesh is about a tenth of a section."""
    published = PUBLISHED[name]
    net = design(read_spec(SPECS / name))
    assert [hoop.diameter for hoop in net.spec.hoops] == [published["diameter"]] * published["hoops"]
    assert net.plan.bar == pytest.approx(published["bar"])
    assert net.shape.length == pytest.approx(published["length"], rel=0.05)
    assert all(hoop.hanging_ratio == pytest.approx(0.5, abs=0.01) for hoop in net.plan.hoops)
