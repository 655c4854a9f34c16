"""net3d propose: what it writes, and how it ends."""

import net3d
from net3d.checks.checks import Level
from tests.propose.lists import CONTRADICTIONS, SMALL


def test_the_command_writes_specs_that_hold_and_says_why(run, tmp_path):
    (tmp_path / "mine.toml").write_text(SMALL, "utf-8")
    ended = run("propose", "mine", "--jobs", "1")
    assert ended.code == 0, ended.err
    folder = tmp_path / "outputs" / "mine-proposals"
    page = (folder / "proposals.html").read_text("utf-8")
    specs = sorted(folder.glob("*.toml"))
    assert len(specs) >= 2
    for spec in specs:
        found = net3d.design(net3d.read_spec(spec)).findings
        assert all(finding.level is not Level.FAIL for finding in found)
        assert spec.with_suffix(".png").read_bytes().startswith(b"\x89PNG")
        assert f'src="{spec.stem}.png"' in page
    assert "ruled out" in ended.out
    assert "Of these nets, which all keep every limit" in ended.out


def test_the_command_ends_with_1_and_the_limit_where_no_net_keeps_it(run, tmp_path):
    (tmp_path / "mine.toml").write_text(CONTRADICTIONS["too-few-hoops"], "utf-8")
    ended = run("propose", "mine.toml", "--jobs", "1")
    assert ended.code == 1
    assert "2 hoops can be used, and 3 are the fewest" in ended.out
    assert not (tmp_path / "outputs").exists()
