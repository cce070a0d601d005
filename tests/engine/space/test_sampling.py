import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.space.grid import Grid
from engine.space.sampling import box_average, on_grid, overlap, trilinear

GRID = Grid((-20.0, 5.0, 100.0), (2.0, 3.0, 4.0), (6, 7, 8))


def plane_field(points):
    return 3.0 + 0.5 * points[..., 0] - 0.25 * points[..., 1] + 0.125 * points[..., 2]


def filled():
    z, y, x = np.meshgrid(GRID.z_mm, GRID.y_mm, GRID.x_mm, indexing="ij")
    return plane_field(np.stack([x, y, z], axis=-1))


def test_a_linear_field_is_reproduced_exactly():
    rng = np.random.default_rng(1)
    lo, hi = GRID.point((0, 0, 0)), GRID.point((5, 6, 7))
    points = lo + rng.random((200, 3)) * (hi - lo)
    assert np.allclose(trilinear(filled(), GRID, points), plane_field(points))


def test_beyond_the_faces_lies_the_outside_value_and_the_rim_is_flat():
    data = filled()
    lo = np.array(GRID.bounds_mm[0])
    inside, beyond = lo + 0.01, lo - 0.01
    assert trilinear(data, GRID, inside, outside=-1.0) == pytest.approx(data[0, 0, 0])
    assert trilinear(data, GRID, beyond, outside=-1.0) == -1.0


def test_a_single_voxel_grid_is_constant_inside():
    one = Grid((0.0, 0.0, 0.0), (2.0, 2.0, 2.0), (1, 1, 1))
    assert trilinear(np.full((1, 1, 1), 7.0), one, np.array([0.9, -0.9, 0.0])) == 7.0


steps = st.floats(0.7, 9.0)


@given(steps, steps, steps, st.floats(-30, 10), st.floats(-20, 20), st.floats(80, 120))
def test_mass_is_conserved_for_any_two_spacings(sx, sy, sz, ox, oy, oz):
    rng = np.random.default_rng(7)
    data = rng.random(GRID.shape).astype(np.float32)
    lo, hi = GRID.bounds_mm
    first = [a - s for a, s in zip((ox, oy, oz), (sx, sy, sz))]
    start = [min(a, f) + s / 2 for a, f, s in zip(lo, first, (sx, sy, sz))]
    shape = [int(np.ceil((h - a + s) / s)) + 1 for h, a, s in zip(hi, start, (sx, sy, sz))]
    target = Grid(tuple(start), (sx, sy, sz), tuple(shape[::-1]))
    coarse = box_average(data, GRID, target)
    assert coarse.sum(dtype=np.float64) * target.voxel_cm3 == pytest.approx(data.sum() * GRID.voxel_cm3, rel=2e-5)
    assert coarse.min() >= -1e-6
    assert coarse.max() <= data.max() + 1e-5


def test_the_same_grid_gives_the_same_values():
    data = np.random.default_rng(3).random(GRID.shape).astype(np.float32)
    assert np.allclose(box_average(data, GRID, GRID), data, atol=1e-6)


def test_a_voxel_half_outside_takes_half_of_the_outside_value():
    one = Grid((0.0, 0.0, 0.0), (4.0, 4.0, 4.0), (1, 1, 1))
    shifted = Grid((2.0, 0.0, 0.0), (4.0, 4.0, 4.0), (1, 1, 1))
    assert box_average(np.ones((1, 1, 1)), one, shifted, outside=0.2)[0, 0, 0] == pytest.approx(0.6)
    far = Grid((200.0, 0.0, 0.0), (4.0, 4.0, 4.0), (1, 1, 1))
    assert box_average(np.ones((1, 1, 1)), one, far, outside=0.2)[0, 0, 0] == pytest.approx(0.2)


def test_overlap_rows_are_shares():
    m = overlap(0.0, 1.0, 10, 2.25, 2.5, 3)
    assert np.allclose(m.sum(axis=1), 1.0)
    assert np.allclose(m[0, 2:5] * 2.5, (0.75, 1.0, 0.75))


def test_another_grid_reads_what_points_read_and_keeps_the_rim():
    data = np.random.default_rng(2).random(GRID.shape).astype(np.float32)
    target = Grid((-19.5, 4.5, 99.0), (1.5, 1.7, 2.3), (9, 11, 10))
    z, y, x = np.meshgrid(target.z_mm, target.y_mm, target.x_mm, indexing="ij")
    points = np.stack([x, y, z], axis=-1)
    found = on_grid(data, GRID, target)
    assert found.dtype == np.float32
    assert found.shape == target.shape
    assert np.allclose(found, trilinear(data, GRID, points), atol=1e-5)
    assert np.allclose(on_grid(data, GRID, GRID), data, atol=1e-6)
    flat = Grid((-20.0, 5.0, 100.0), (2.0, 3.0, 4.0), (1, 7, 8))
    beyond = on_grid(data[:1], flat, Grid((-40.0, 5.0, 300.0), (2.0, 3.0, 4.0), (2, 7, 1)))
    assert np.allclose(beyond[1, :, 0], data[0, :, 0], atol=1e-6)
