"""Coverage to lines and back."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.base.errors import GeometryError, InputError
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.outline import (
    fill_report,
    filled,
    missing_planes,
    outlines,
    section,
    signed_area,
    simplify,
    slice_outlines_mm,
)
from engine.volumes.paint import polygon, stamp, stroke
from tests.support.solids import cube_grid, cylinder, sphere

GRID = Grid((-40.0, -50.0, -10.0), (0.9, 1.1, 2.5), (9, 90, 88))


def ring_mm(radius, z, centre=(0.0, 0.0), n=200):
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    return np.column_stack((centre[0] + radius * np.cos(t), centre[1] + radius * np.sin(t), np.full(n, z)))


def test_vertices_are_exact_on_linear_ramps():
    ramp = np.clip(np.round(20 + 25.5 * np.arange(10))[None, :] * np.ones((6, 1)), 0, 255).astype(np.uint8)
    (loop,) = outlines(ramp, 100, 200)
    level = np.interp(127.5, ramp[0], np.arange(10))
    inner = loop[(loop[:, 0] > 100) & (loop[:, 0] < 105) & (loop[:, 1] < 209)]
    assert np.allclose(inner[:, 1], 200 + level)


@pytest.mark.parametrize("degrees", [0, 7, 20, 33, 45, 63, 80, 90])
@pytest.mark.parametrize("way", [-0.3, 0.1, 0.45])
def test_a_straight_edge_comes_back_where_it_was(degrees, way):
    """Shares taken as linear between two pixels alone would be off by 0.09 pixel."""
    across = np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])
    along = np.array([-across[1], across[0]])
    corners = [20 + across * way + s * along * 40 - d * across * 40 for s, d in ((-1, 0), (1, 0), (1, 1), (-1, 1))]
    (loop,) = outlines(polygon((41, 41), corners))
    middle = loop[np.abs((loop - 20) @ along) < 12]
    middle = middle[np.abs((middle - 20) @ across) < 5]
    assert len(middle) > 10
    assert np.abs((middle - 20) @ across - way).max() < 0.03


def test_a_full_image_is_closed_along_the_outer_faces():
    (loop,) = outlines(np.full((4, 6), 255, np.uint8))
    assert loop[:, 0].min() == pytest.approx(-0.5)
    assert loop[:, 1].max() == pytest.approx(5.5)
    assert outlines(np.zeros((4, 4), np.uint8)) == []
    assert outlines(np.full((4, 4), 127, np.uint8)) == []


def test_holes_are_loops_of_their_own_turning_the_other_way():
    out = np.zeros((80, 80), np.uint8)
    stamp(out, 40.3, 40.6, (30, 30))
    stamp(out, 41.2, 39.7, (12, 12), value=0)
    loops = outlines(out)
    areas = sorted(signed_area(loop[:, ::-1]) for loop in loops)
    assert areas[0] == pytest.approx(-np.pi * 144, rel=3e-3)
    assert areas[1] == pytest.approx(np.pi * 900, rel=1e-3)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_any_slice_gives_closed_loops_and_fills_back(seed):
    noise = np.random.default_rng(seed).integers(0, 256, (12, 14)).astype(np.uint8)
    loops = outlines(noise)
    for loop in loops:
        assert len(loop) >= 4
    for loop in outlines(noise, plain=True):
        assert np.abs(np.roll(loop, -1, axis=0) - loop).max() <= 1.0
    centres_inside = noise > 127
    from engine.volumes.paint import polygons

    # Each pixel above one half has its centre inside the lines, each other one outside: count crossings to the left. The
    # corner between two straight sides may reach past a centre; noise has hardly any.
    wrong = 0
    for r, c in np.ndindex(noise.shape):
        crossed = sum(_crossings(loop, r + 1e-9, c) for loop in loops)
        wrong += (crossed % 2 == 1) != centres_inside[r, c]
    assert wrong <= 2
    assert polygons(noise.shape, tuple(loops)).shape == noise.shape


def _crossings(loop, r, c):
    a, b = loop, np.roll(loop, -1, axis=0)
    spans = (a[:, 0] <= r) != (b[:, 0] <= r)
    a, b = a[spans], b[spans]
    return int((a[:, 1] + (b[:, 1] - a[:, 1]) * (r - a[:, 0]) / (b[:, 0] - a[:, 0]) < c).sum())


def test_round_trip_of_smooth_shapes():
    data = np.zeros(GRID.shape[1:], np.uint8)
    stamp(data, 40.3, 45.1, (28.4, 24.2))
    stroke(data, ((30, 30), (60, 62)), (9, 9))
    stamp(data, 44, 46, (8, 8), value=0)
    coverage = Coverage(GRID).with_slice(3, data)
    again = filled(GRID, slice_outlines_mm(coverage, 3))
    assert again.planes == (3,)
    assert again.volume_cm3 == pytest.approx(coverage.volume_cm3, rel=2e-3)
    change = np.abs(again.slice(3).astype(int) - data)
    assert change[(data > 0) & (data < 255)].mean() < 10
    third = filled(GRID, slice_outlines_mm(again, 3))
    assert third.volume_cm3 == pytest.approx(coverage.volume_cm3, rel=2e-3)


def test_holes_keyholes_and_separate_pieces():
    outer, inner, other = ring_mm(20, 0), ring_mm(9, 0), ring_mm(5, 0, (30.0, 10.0))
    want = np.pi * (400 - 81 + 25) * 2.5 / 1000
    two_loops = filled(GRID, (outer, inner, other))
    assert two_loops.volume_cm3 == pytest.approx(want, rel=1e-3)
    keyhole = np.vstack((outer, outer[:1], inner[::-1], inner[-1:]))
    by_cut = filled(GRID, (keyhole, other))
    assert np.abs(by_cut.slice(4).astype(int) - two_loops.slice(4)).max() <= 1
    assert filled(GRID, (inner, other, outer)) == two_loops


def test_contours_must_lie_on_planes():
    assert filled(GRID, (ring_mm(10, 0.1),)).planes == (4,)
    with pytest.raises(InputError, match=r"z = 1\.20 mm"):
        filled(GRID, (ring_mm(10, 0), ring_mm(10, 1.2)))
    with pytest.raises(InputError, match="contour 1"):
        filled(GRID, (ring_mm(10, 400),))
    tilted = ring_mm(10, 0)
    tilted[:, 2] += 0.2 * tilted[:, 0]
    with pytest.raises(InputError, match="tilted"):
        filled(GRID, (tilted,))
    with pytest.raises(InputError, match="finite"):
        filled(GRID, (np.full((4, 3), np.nan),))
    assert filled(GRID, (ring_mm(10, 1.2),), tolerance_mm=1.25).planes == (4,)


def test_sparse_contours_are_filled_as_they_are_and_reported():
    rings = [ring_mm(10, z) for z in (-5, 0, 5)] + [ring_mm(3, 0)[:2], np.zeros((0, 3))]
    found = filled(GRID, rings)
    assert found.planes == (2, 4, 6)
    told = fill_report(GRID, rings)
    assert told.missing_planes == (3, 5) == missing_planes(found)
    assert told.degenerate == 1
    assert told.clipped_cm3 == 0
    assert filled(GRID, ()).is_empty
    assert missing_planes(Coverage(GRID)) == ()


def test_what_lies_outside_the_image_is_cut_and_told():
    rings = [ring_mm(20, 0, (-40.45, 0.0))]
    told, found = fill_report(GRID, rings), filled(GRID, rings)
    assert found.volume_cm3 == pytest.approx(np.pi * 200 * 2.5 / 1000, rel=3e-3)
    assert told.clipped_cm3 == pytest.approx(np.pi * 200 * 2.5 / 1000, rel=3e-3)
    assert filled(GRID, [ring_mm(5, 0, (500.0, 0.0))]).is_empty


def test_a_contour_that_reaches_miles_beyond_the_image_is_measured_without_its_pixels():
    grid = cube_grid(20, 1.0, 2.5)
    z = float(grid.z_mm[3])
    told = fill_report(grid, [np.array([(-9.5, -2.0, z), (2e6, -2.0, z), (2e6, 998.0, z), (-9.5, 998.0, z)])])
    assert told.clipped_cm3 == pytest.approx(2e6 * 2.5, rel=0.02)


def test_simplified_lines_keep_area_and_place():
    coverage = sphere(cube_grid(), 25.3)
    for exact, short in zip(slice_outlines_mm(coverage, 45), slice_outlines_mm(coverage, 45, 0.05)):
        assert len(short) < 0.6 * len(exact)
        assert signed_area(short[:, :2]) == pytest.approx(signed_area(exact[:, :2]), rel=1e-3)
    tiny = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (-0.01, 0.5)])
    assert abs(signed_area(simplify(tiny, 50.0)) / signed_area(tiny) - 1) <= 1e-3


def test_sections_cut_where_they_say():
    coverage = cylinder(cube_grid(20), 8, 10, (3.0, -5.0))
    grid = coverage.grid
    row, column = int(grid.index((0, -5, 0))[1]), int(grid.index((3, 0, 0))[2])
    coronal, sagittal = section(coverage, "y", row), section(coverage, "x", column)
    dense = coverage.dense()
    assert np.array_equal(coronal, dense[:, row])
    assert np.array_equal(sagittal, dense[:, :, column])
    for axis, index in (("z", 0), ("x", -1), ("y", 40)):
        with pytest.raises(GeometryError):
            section(coverage, axis, index)
    assert slice_outlines_mm(coverage, 0) == []
