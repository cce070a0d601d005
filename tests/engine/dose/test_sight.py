import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.dose.sight import sight_of
from engine.space.frames import beam_from_patient, project, source_mm
from engine.space.grid import Grid
from tests.support.dose import beam

GRID = Grid((-41.0, 13.0, 5.0), (4.0, 5.0, 6.0), (5, 6, 7))
ANGLES = [(0.0, 0.0, 0.0), (37.0, 15.0, 0.0), (90.0, 300.0, 20.0), (211.0, 90.0, 330.0)]


@pytest.mark.parametrize(("gantry", "collimator", "couch"), ANGLES)
def test_tangents_are_those_of_the_projection(gantry, collimator, couch):
    one = beam(100, (3.0, 20.0, 8.0), gantry, collimator, couch)
    sight = sight_of(one, "HFS", 1000.0)
    k, j, i = 3, 1, 5
    x, y, t = sight.forms(GRID) @ np.array((1.0, k, j, i))
    m = beam_from_patient("HFS", gantry, collimator, couch)
    assert np.allclose((1000 * x / t, 1000 * y / t), project(GRID.point((k, j, i)), one.isocentre_mm, m, 1000.0))


@pytest.mark.parametrize(("gantry", "collimator", "couch"), ANGLES)
def test_a_voxel_is_found_again_from_its_tangents(gantry, collimator, couch):
    one = beam(100, (3.0, 20.0, 8.0), gantry, collimator, couch)
    sight = sight_of(one, "FFP", 1000.0)
    source, along = sight.in_grid(GRID)
    assert np.allclose(GRID.point(source), source_mm(one.isocentre_mm, "FFP", gantry, couch, 1000.0))
    x, y, t = sight.forms(GRID) @ np.array((1.0, 4.0, 2.0, 6.0))
    assert np.allclose(source + t * (along[2] + x / t * along[0] + y / t * along[1]), (4, 2, 6))


def test_a_source_beside_the_patient_is_refused_with_the_beam_s_name():
    one = beam(100, (0.0, 1020.0, 0.0)).but(name="Left")
    with pytest.raises(GeometryError, match="Left"):
        sight_of(one, "HFS", 1000.0).corners(GRID)
