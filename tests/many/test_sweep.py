"""Sweeps: rows are those of nets solved one by one, whoever solves them, and none is lost."""

import csv
import os
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import distributed
import numpy as np
import pytest
from pyarrow import parquet

import net3d
from net3d.errors import EngineError, OutputError, SpecError
from net3d.many import sweep_of
from net3d.many.engine import Engine, answers, processes
from net3d.many.row import row_of
from net3d.many.ways import Draw, points_of, read_way, ways_of
from net3d.spec import parse_spec, vary
from net3d.writers.rows import row_file

TEXT = """
title = "Small"
units = "in"
[netting]
around = 16
stretched = "3 1/2"
twine = "#15"
[[hoop]]
diameter = 12
rod = "3/8"
material = "fibreglass"
repeat = 2
[sections]
deep = [4]
[rigging]
anchor = "tail"
pull = "15 lbf"
"""
VARIED = {"netting.around": "10:20:2", "rigging.pull": "10, 15 lbf"}
OPTIONS = ["--vary", "netting.around=10:20:2", "--vary", "rigging.pull=10, 15 lbf"]


@pytest.fixture(scope="module")
def spec():
    return parse_spec(TEXT)


@pytest.fixture(scope="module")
def swept(spec):
    return net3d.sweep(spec, VARIED)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(TEXT, "utf-8")
    return path


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """The file that two processes write."""
    folder = tmp_path_factory.mktemp("sweep")
    (folder / "small.toml").write_text(TEXT, "utf-8")
    net3d_sweep(folder / "small.toml", folder / "rows.csv", "--jobs", "2")
    return (folder / "rows.csv").read_bytes()


@pytest.fixture
def table(written, tmp_path):
    (tmp_path / "rows.csv").write_bytes(written)
    return tmp_path / "rows.csv"


def net3d_sweep(path, target, *more):
    done = subprocess.run(
        [sys.executable, "-m", "net3d", "sweep", path, *OPTIONS, "-o", target, *more],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


# What is varied.


def test_the_grid_is_every_combination_the_last_key_fastest(spec, swept):
    assert swept["netting.around"].tolist() == [n for n in range(10, 21, 2) for _ in (0, 1)]
    assert swept["rigging.pull_lbf"].tolist() == [10, 15] * 6


def test_every_row_is_that_of_its_net_alone(spec, swept):
    for number in (4, 11):
        changes = {
            "netting.around": int(swept["netting.around"][number]),
            "rigging.pull": f"{swept['rigging.pull_lbf'][number]} lbf",
        }
        alone = net3d.design(vary(spec, changes))
        assert swept["length_m"][number] == alone.shape.length
        assert swept["sections.1.length_m"][number] == alone.shape.sections[0].length


def test_a_net_that_cannot_be_tied_is_a_row_with_its_reason(swept):
    # pi (12 - 2 x 3/8) in around the knots are 35.3 in, and ten meshes of 3 1/2 in are 35: arithmetic.
    failed = swept["netting.around"] == 10
    assert all("do not reach" in why or "cannot be tied" in why for why in swept["reason"][failed])
    assert np.isnan(swept["length_m"][failed]).all()
    assert set(swept["reason"][~failed]) == {""}


def test_a_latin_hypercube_draws_once_from_every_part_of_every_range():
    # McKay, Beckman and Conover 1979: of n draws one lies in each n-th of each range.
    ways = ways_of({"rigging.pull": "5..40 lbf", "hoop.1.diameter": "10..12"})
    drawn = points_of(ways, Draw(50, seed=3))
    for way in ways:
        low, high = way.ends
        values = [float(str(point[way.key]).removesuffix(" lbf")) for point in drawn]
        shares = (np.array(values) - low) / (high - low)
        assert sorted(np.floor(shares * 50)) == list(range(50))
    assert drawn == points_of(ways, Draw(50, seed=3)) != points_of(ways, Draw(50, seed=4))


def test_whole_numbers_are_drawn_whole_and_depths_in_halves():
    ways = ways_of({"netting.around": "36..60", "sections.deep.1": "3..8"})
    for point in points_of(ways, Draw(40)):
        assert isinstance(point["netting.around"], int)
        assert 2 * point["sections.deep.1"] == round(2 * point["sections.deep.1"])


@pytest.mark.parametrize(
    "text", ["", "a:b:c", "1:2", "3:1:1", "1:3:0", "5..5", "1..x", "1 lbf, 2 N", "0:1e7:1"]
)
def test_values_that_cannot_be_read_are_refused(text):
    with pytest.raises(SpecError, match=r"rigging\.pull"):
        read_way("rigging.pull", text) if text != "a:b:c" else read_way("rigging.pull", "1:b:c")


@pytest.mark.parametrize(
    ("varied", "want", "said"),
    [
        ({"netting.arond": "36:40:2"}, (), "did you mean around"),
        ({"netting.around": "-3:0:1"}, (), "whole number"),
        ({}, (), "nothing is varied"),
        ({"netting.around": "20:24:2"}, ("lenght_m",), "did you mean length_m"),
        (
            {"netting.around": "3:100000:1", "rigging.pull": "1..2 lbf", "sections.deep.1": "1:50:1"},
            (),
            "at most",
        ),
    ],
)
def test_what_cannot_be_used_is_refused_before_any_work(spec, varied, want, said):
    with pytest.raises(SpecError, match=said):
        sweep_of(spec, varied, want)


# Who solves it, and what becomes of it.


def test_two_processes_write_what_one_by_one_gives(table, swept):
    lines = list(csv.DictReader(table.open(newline="")))
    assert [line["netting.around"] for line in lines] == [str(n) for n in swept["netting.around"]]
    for line, length in zip(lines, swept["length_m"], strict=True):
        assert line["length_m"] == ("" if np.isnan(length) else f"{length:.9g}")


def test_a_sweep_goes_on_where_it_stopped_after_a_torn_row(table, path):
    whole = table.read_bytes()
    lines = whole.splitlines(keepends=True)
    torn = [lines[0], lines[9], lines[3], lines[5][:-9]]
    table.write_bytes(b"".join(torn))
    net3d_sweep(path, table, "--jobs", "1")
    assert table.read_bytes() == whole


def test_a_torn_row_is_cut_off_before_another_is_written(tmp_path):
    path = tmp_path / "rows.csv"
    path.write_bytes(b"key,length_m\r\na,1.5\r\nb,2.")
    with row_file(path, ["key", "length_m"], "abc") as rows:
        assert list(rows.rows) == ["a"]
        rows.add(("c", 3.0))
    assert path.read_bytes() == b"key,length_m\r\na,1.5\r\nc,3\r\n"


def test_rows_that_are_there_are_not_worked_out_again(spec, tmp_path):
    asked = sweep_of(spec, VARIED)
    done = asked.keys[:-1]
    assert [task.key for task in asked.tasks(done)] == [asked.keys[-1]]
    wider = sweep_of(spec, VARIED | {"netting.around": "10:22:2"})
    assert set(asked.keys) < set(wider.keys)
    assert not set(sweep_of(vary(spec, {"tail.deep": 3}), VARIED).keys) & set(asked.keys)


def test_another_table_is_left_as_it_is(spec, table):
    asked, before = sweep_of(spec, {"netting.around": "12:14:2"}), table.read_bytes()
    with pytest.raises(OutputError, match="other columns"), row_file(table, asked.header, asked.keys):
        pass
    fewer = sweep_of(spec, VARIED | {"netting.around": "12:14:2"})
    strange = pytest.raises(OutputError, match="rows are of nets that are not asked")
    with strange, row_file(table, fewer.header, fewer.keys):
        pass
    assert table.read_bytes() == before


@pytest.mark.skipif(sys.platform == "win32", reason="no such locks")
def test_one_file_is_written_by_one_sweep(spec, tmp_path):
    path, refused = tmp_path / "a.csv", pytest.raises(OutputError, match="another sweep")
    with row_file(path, ["key", "b"], ["k"]), refused, row_file(path, ["key", "b"], ["k"]):
        pass


@pytest.mark.second_route
def test_parquet_holds_what_the_table_holds(table, path):
    net3d_sweep(path, table.with_suffix(".parquet"))
    read = parquet.read_table(table.with_suffix(".parquet")).to_pylist()
    lines = list(csv.DictReader(table.open(newline="")))
    assert [one["key"] for one in read] == [line["key"] for line in lines]
    assert [one["length_m"] for one in read] == [
        float(ln["length_m"]) if ln["length_m"] else None for ln in lines
    ]


def ends_once(marker):
    """A task that is ended from outside the first time it is tried."""
    if not Path(marker).exists():
        Path(marker).touch()
        os.kill(os.getpid(), signal.SIGTERM if sys.platform == "win32" else signal.SIGKILL)
        time.sleep(60)
    return marker


def ends_always(number):
    if number == 3:
        os.kill(os.getpid(), signal.SIGTERM if sys.platform == "win32" else signal.SIGKILL)
        time.sleep(60)
    return number


def test_a_killed_worker_loses_nothing(tmp_path):
    markers = [str(tmp_path / str(number)) for number in range(3)]
    for marker in markers[1:]:
        Path(marker).touch()
    with processes(1) as engine:
        assert dict(answers(engine, ends_once, markers)) == dict(zip(markers, markers, strict=True))


def test_what_ends_its_worker_each_time_is_told_and_the_rest_is_done():
    with processes(1) as engine:
        found = dict(answers(engine, ends_always, range(5)))
    assert isinstance(found.pop(3), EngineError)
    assert found == {number: number for number in (0, 1, 2, 4)}


def test_what_goes_wrong_inside_a_net_stops_no_other(spec, monkeypatch):
    monkeypatch.setattr("net3d.many.row.design", lambda spec: 1 / 0)
    (task, *_) = sweep_of_unsolved(spec)
    assert row_of(task).reason.startswith("ZeroDivisionError")


def sweep_of_unsolved(spec):
    return list(sweep_of.__globals__["Sweep"](spec, (), [{}], ("k",), ("length_m",)).tasks())


def test_a_worker_of_another_version_is_refused(spec):
    (task,) = sweep_of_unsolved(spec)
    with pytest.raises(EngineError, match=r"has net3d .* and this machine 0\.0\.0"):
        row_of(type(task)(task.key, task.spec, task.changes, task.wanted, version="0.0.0"))


def test_tasks_are_taken_as_there_is_room():
    taken = []
    tasks = (taken.append(number) or number for number in range(100))
    found = answers(Engine(lambda: ThreadPoolExecutor(2), 2), abs, tasks)
    next(found)
    assert len(taken) <= 6
    found.close()


def test_two_workers_of_a_cluster_write_the_same_bytes(table, path):
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        target = table.with_name("cluster.csv")
        net3d_sweep(path, target, "--cluster", cluster.scheduler_address)
    assert target.read_bytes() == table.read_bytes()


def test_a_cluster_that_is_not_there_is_told(monkeypatch):
    monkeypatch.setattr("net3d.many.engine.PATIENCE", 0.5)
    with pytest.raises(EngineError, match="No cluster answers"), net3d.cluster("tcp://127.0.0.1:1"):
        pass
