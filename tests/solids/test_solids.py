"""Solids against closed forms and against trimesh, which knows nothing of nets."""

from __future__ import annotations

import tracemalloc
from itertools import pairwise

import numpy as np
import pytest
import trimesh

from net3d.chain import Design
from net3d.errors import NetError
from net3d.outline.curves import Circle, even
from net3d.outline.outline import Outline
from net3d.parts import KINDS, TAIL
from net3d.solids import solids_of
from net3d.solids.knots import knot_faces, knot_template, knot_vertices
from net3d.solids.polygons import round_polygon
from net3d.solids.rings import ring_faces, ring_vertices, rod_section
from net3d.solids.tubes import tube_faces, tube_vertices
from net3d.writers.glb import write_glb
from net3d.writers.stl import write_stl
from tests.solids.nets import (
    KNOT_RADIUS,
    ROD_DIAMETER,
    TWINE_DIAMETER,
    awkward_net,
    net_of_tube,
    netting_of,
    plan_of,
    record,
    shape_of,
    solids_for,
)


def surface(vertices, faces):
    return trimesh.Trimesh(vertices, faces, process=False)


def shells_of(solid):
    return [surface(vertices, solid.faces) for vertices in solid.vertices(0, solid.shell_count)]


def tubes_between(starts, ends, radius, sides):
    both = np.stack([starts, ends], axis=1).astype(np.float32)
    radii, turns = np.full(len(both), radius, np.float32), np.arange(len(both), dtype=np.float32)
    return tube_vertices(both, radii, turns, sides)


def torus_vertices(ring, rod, sides=(96, 16)):
    """A round rod of a radius around a middle line of another."""
    return ring_vertices(Outline(Circle(2 * (ring + rod))), rod, rod_section(rod, sides[1]), even(sides[0]))


def test_torus_area_and_volume_converge_on_the_closed_forms():
    # Pappus: area 4 pi^2 R r, volume 2 pi^2 R r^2. Chords miss an arc by the square of their length, so
    # twice the sides leave a quarter of the error.
    ring, rod = 0.45, 0.006
    errors = []
    for rings, rods in ((24, 8), (48, 16), (96, 32), (192, 64)):
        torus = surface(torus_vertices(ring, rod, (rings, rods)).astype(float), ring_faces(rings, rods))
        area, volume = 4 * np.pi**2 * ring * rod, 2 * np.pi**2 * ring * rod**2
        errors.append([torus.area / area - 1, torus.volume / volume - 1])
    for coarse, fine in pairwise(np.abs(errors)):
        assert np.allclose(coarse / fine, 4.0, rtol=0.1)


def test_hoop_has_the_area_and_volume_of_its_torus_within_a_hundredth():
    # 96 x 16 facets: the polygon of equal area has 0.65 % more girth than the circle, arithmetic.
    ring, rod = 0.45, 0.006
    torus = surface(torus_vertices(ring, rod), ring_faces())
    assert torus.area == pytest.approx(4 * np.pi**2 * ring * rod, rel=0.01)
    assert torus.volume == pytest.approx(2 * np.pi**2 * ring * rod**2, rel=0.001)


def test_hoop_is_where_the_tape_finds_it(small_net, small_solids):
    # Outside diameter as measured, 1.3 % of the rod's radius apart (its polygon reaches out over the circle).
    for number, hoop in enumerate(small_solids[:3]):
        vertices = hoop.vertices(0, 1)[0].astype(float)
        outside = np.hypot(vertices[:, 1], vertices[:, 2]).max()
        assert outside == pytest.approx(KNOT_RADIUS + ROD_DIAMETER, abs=0.014 * ROD_DIAMETER / 2)
        assert vertices[:, 0].mean() == pytest.approx(small_net.shape.hoop_positions[number], abs=1e-6)


def test_hoop_starts_at_the_top_and_runs_clockwise_seen_from_the_mouth():
    # Looking along +x with z up, the right hand is -y.
    outer = torus_vertices(0.45, 0.006).reshape(96, 16, 3)[:, 0]
    assert outer[0] == pytest.approx([0, 0, np.hypot(*outer[0, 1:])])
    assert outer[24, 1] == pytest.approx(-outer[0, 2])


@pytest.mark.parametrize("sides", [3, 4, 6, 8, 16, 64])
def test_polygon_has_the_area_of_the_circle(sides):
    x, y = round_polygon(sides).T
    shoelace = (x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2
    assert shoelace == pytest.approx(np.pi, rel=1e-12)


@pytest.mark.parametrize("sides", [3, 6, 16])
def test_tube_in_any_direction_has_the_volume_of_round_twine(sides):
    # A positive volume also says that the faces look outward.
    random = np.random.default_rng(1)
    ways = np.vstack([np.eye(3), -np.eye(3), [[1e-9, 0, -1], [0, -1e-9, 1]], random.normal(size=(200, 3))])
    starts = random.normal(size=ways.shape)
    for vertices, way in zip(tubes_between(starts, starts + ways, 0.05, sides), ways, strict=True):
        tube = surface(vertices, tube_faces(sides))
        assert tube.is_watertight
        assert tube.is_winding_consistent
        assert tube.volume == pytest.approx(np.pi * 0.05**2 * np.linalg.norm(way), rel=1e-4)


@pytest.mark.parametrize("sides", [3, 6, 16])
def test_tube_is_a_right_prism(sides):
    random = np.random.default_rng(2)
    starts, ends = random.normal(size=(2, 100, 3))
    rims = tubes_between(starts, ends, 0.05, sides).astype(float).reshape(100, 2, sides, 3)
    along = (ends - starts) / np.linalg.norm(ends - starts, axis=1, keepdims=True)
    spokes = rims - np.stack([starts, ends], axis=1)[:, :, None]
    assert np.abs(np.einsum("mrsx,mx->mrs", spokes, along)).max() < 1e-6
    circumradius = 0.05 * np.sqrt(2 * np.pi / (sides * np.sin(2 * np.pi / sides)))
    assert np.allclose(np.linalg.norm(spokes, axis=-1), circumradius, atol=1e-6)


def test_knot_is_two_squares_and_two_tips_on_a_sphere_its_facets_equally_far_from_the_middle():
    # Prismatoid formula, V = H / 6 (A + 4 M + A), between squares at +-h with corners at r: A = 2 r^2, and
    # half-way an octagon of the middles of the edges, M = 2 sqrt 2 (r cos 22.5 deg)^2; two pyramids on it.
    # With h = sqrt 2 - 1 that is 16 h / 3.
    knot = surface(knot_template(), knot_faces())
    h = np.sqrt(2) - 1
    square = 2 * (1 - h**2)
    octagon = 2 * np.sqrt(2) * (1 - h**2) * np.cos(np.pi / 8) ** 2
    assert knot.is_watertight
    assert knot.is_winding_consistent
    assert knot.is_convex
    assert np.allclose(np.linalg.norm(knot.vertices, axis=1), 1.0)
    assert knot.volume == pytest.approx(2 * h / 6 * (2 * square + 4 * octagon) + 2 * square * (1 - h) / 3)
    distances = (knot.triangles[:, 0] * knot.face_normals).sum(axis=1)
    assert np.allclose(distances, distances[0])


def test_knot_keeps_its_size_however_it_is_turned():
    turns = np.linspace(0, 6, 7, dtype=np.float32)
    knots = knot_vertices(np.full((7, 3), 0.3, np.float32), np.full(7, 0.01, np.float32), turns)
    volume = 16 * (np.sqrt(2) - 1) / 3 * 0.01**3
    for vertices in knots:
        assert surface(vertices, knot_faces()).volume == pytest.approx(volume, rel=1e-4)


@pytest.mark.parametrize("sides", [3, 6, 16])
def test_every_shell_is_closed_consistent_and_outward(sides):
    for solid in solids_for(net_of_tube(12, 8), sides):
        for shell in shells_of(solid):
            assert shell.is_watertight
            assert shell.is_winding_consistent
            assert shell.volume > 0


@pytest.mark.parametrize("sides", [3, 6, 16])
def test_corners_do_not_gape(sides):
    # Every corner of every tube of the body lies inside a knot, that is behind all of its faces.
    tubes, knots = [
        solid for solid in solids_for(net_of_tube(12, 4, 2), sides) if solid.part == "section-1-2"
    ]
    corners = tubes.vertices(0, tubes.shell_count).reshape(-1, 3).astype(float)
    inside = np.zeros(len(corners), bool)
    for knot in shells_of(knots):
        heights = (corners[:, None] - knot.triangles_center) @ knot.face_normals.T
        inside |= np.diagonal(heights, axis1=1, axis2=2).max(axis=1) < 0
    assert inside.all()


def test_bars_and_knots_are_all_there(small_net, small_solids):
    netting = small_net.netting
    for number, part in enumerate(netting.parts):
        tubes, knots = [solid for solid in small_solids if solid.part == part.name]
        assert tubes.shell_count == (netting.bar_parts == number).sum()
        assert knots.shell_count == (netting.knot_parts == number).sum()


def test_pieces_are_the_same_as_the_whole(small_solids):
    for solid in small_solids:
        assert np.array_equal(np.concatenate(list(solid.chunks(7))), solid.vertices(0, solid.shell_count))


def test_parts_come_in_order_and_by_name(small_net):
    design = record(Design, plan=small_net.plan, netting=small_net.netting, shape=small_net.shape)
    names = list(dict.fromkeys(solid.part for solid in solids_of(design)))
    hoops, sections = ["hoop-1", "hoop-2", "hoop-3"], ["section-1-2", "section-2-3"]
    assert names == [*hoops, *sections, "tail", "bridle", "anchor-line"]


def test_bars_shorter_than_thick_lie_inside_their_knots_and_are_left_out():
    net = awkward_net()
    (tubes, knots) = solids_for(net)
    assert tubes.shell_count == len(net.netting.bars) - 2
    assert knots.shell_count == len(net.shape.knot_positions)
    for shell in (*shells_of(tubes), *shells_of(knots)):
        assert np.isfinite(shell.vertices).all()
        assert shell.is_watertight
        assert shell.volume > 0


def test_a_net_folded_to_nothing_has_only_knots():
    net = awkward_net()
    net.shape = shape_of(np.zeros_like(net.shape.knot_positions))
    (knots,) = solids_for(net)
    assert np.isfinite(knots.vertices(0, knots.shell_count)).all()


def test_a_part_without_bars_has_no_solid():
    net = awkward_net()
    assert {solid.part for solid in solids_for(net)} == {"section-1-2"}
    empty = netting_of([TAIL], [], [], [], [])
    net.netting, net.shape, net.plan = empty, shape_of(np.zeros((0, 3))), plan_of()
    assert solids_for(net) == ()


def test_a_twine_of_two_sides_is_refused(small_net):
    with pytest.raises(NetError, match="2 sides"):
        solids_for(small_net, 2)


def test_knots_are_sized_by_the_twine_of_their_own_part(small_solids):
    # Sheet bend about three twine diameters across: common practice, no source. Knots where a thick bridle
    # leg is made fast stay as small as the netting's.
    _, knots = [solid for solid in small_solids if solid.part == "section-1-2"]
    vertices = knots.vertices(0, 40)
    across = 2 * np.linalg.norm(vertices - vertices.mean(axis=1, keepdims=True), axis=2)
    assert np.allclose(across, 3 * TWINE_DIAMETER, rtol=1e-3)


def test_colours_step_in_lightness():
    # CIE 1976 L* = 116 (Y/Yn)^(1/3) - 16, Y of sRGB by IEC 61966-2-1; lightness is what every colour
    # blindness and grey print leave. A step of 9: common practice, no source.
    materials = dict.fromkeys(kind.material for kind in KINDS.values())
    screen = np.array([material.colour for material in materials])
    linear = np.where(screen <= 0.04045, screen / 12.92, ((screen + 0.055) / 1.055) ** 2.4)
    lightness = 116 * np.cbrt(linear @ [0.2126, 0.7152, 0.0722]) - 16
    assert np.diff(np.sort(lightness)).min() > 9


@pytest.mark.parametrize("write", [write_glb, write_stl])
def test_memory_does_not_grow_with_the_net(write, tmp_path):
    peaks = []
    for rows in (60, 240):
        solids = solids_for(net_of_tube(80, rows, 2))
        write(solids, tmp_path / "net")  # once before, so that what is kept for later is not counted
        tracemalloc.start()
        write(solids, tmp_path / "net")
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < 1.1 * peaks[0]
