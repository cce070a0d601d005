"""Laws of the comparison of two volumes; its closed forms are in tests/reference."""

import numpy as np
import pytest

from engine.base.errors import GeometryError, InputError
from engine.compute import run
from engine.volumes.coverage import Coverage
from engine.volumes.likeness import CompareVolumes, added_path
from tests.support.solids import cube_grid, sphere

GRID = cube_grid(20, 1.0, 3.0)


def test_a_volume_is_like_itself():
    ball = sphere(GRID, 9.0)
    found = run(CompareVolumes(ball, ball))
    assert (found.dice, found.jaccard, found.surface_dice) == (1.0, 1.0, 1.0)
    assert found.largest_mm == pytest.approx(0.0, abs=1e-5)
    assert (found.added_path_mm, found.shift_mm, found.worst_plane) == (0.0, (0.0, 0.0, 0.0), None)


def test_distances_do_not_depend_on_the_order_but_shift_turns_round():
    a, b = sphere(GRID, 9.0), sphere(GRID, 11.0, (2.0, -1.0, 0.0))
    one, other = run(CompareVolumes(a, b)), run(CompareVolumes(b, a))
    for name in ("dice", "jaccard", "mean_mm", "p95_mm", "largest_mm", "surface_dice", "common_cm3", "worst_plane"):
        assert getattr(one, name) == pytest.approx(getattr(other, name))
    assert one.shift_mm == pytest.approx([-v for v in other.shift_mm])
    assert one.inputs != other.inputs


def test_the_worst_place_is_where_the_surfaces_are_furthest_apart():
    bump = Coverage.from_dense(GRID, np.maximum(sphere(GRID, 9.0).dense(), sphere(GRID, 4.0, (12.0, 0.0, 0.0)).dense()))
    found = run(CompareVolumes(sphere(GRID, 9.0), bump))
    assert found.largest_mm == pytest.approx(7.0, abs=0.3)
    assert found.worst_mm[0] == pytest.approx(16.0, abs=0.5)
    assert abs(GRID.z_mm[found.worst_plane]) < 3


def test_empty_volumes_have_a_stated_answer():
    ball, nothing = sphere(GRID, 9.0), Coverage(GRID)
    found = run(CompareVolumes(ball, nothing))
    assert (found.dice, found.mean_mm, found.surface_dice, found.shift_mm) == (0.0, None, None, None)
    assert found.added_path_mm == 0.0
    assert run(CompareVolumes(nothing, ball)).added_path_mm == pytest.approx(run(CompareVolumes(nothing, ball)).path_mm)
    assert run(CompareVolumes(nothing, nothing)).dice == 1.0


def test_one_slice_is_enough():
    ball = sphere(GRID, 9.0)
    one = Coverage(GRID, (ball.tiles[len(ball.tiles) // 2],))
    found = run(CompareVolumes(one, ball))
    assert 0 < found.dice < 1
    assert found.largest_mm > 3


def test_a_tolerance_takes_lines_out_of_the_path_to_redraw():
    a, b = sphere(GRID, 9.0), sphere(GRID, 9.0, (2.0, 0.0, 0.0))
    lengths = [added_path(a, b, t)[0] for t in (0.0, 0.5, 1.0, 1.9, 2.5)]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[-1] == 0.0


def test_other_grids_and_odd_tolerances_are_refused():
    with pytest.raises(GeometryError, match="different grids"):
        CompareVolumes(sphere(GRID, 5.0), sphere(cube_grid(20, 1.0, 2.0), 5.0))
    with pytest.raises(InputError, match="tolerance"):
        CompareVolumes(sphere(GRID, 5.0), sphere(GRID, 5.0), -1.0)
