"""Connected pieces."""

import numpy as np
import pytest

from engine.volumes.coverage import Coverage
from engine.volumes.margins import union
from engine.volumes.pieces import joined, pieces_of
from tests.support.solids import cube_grid, sphere


def test_agrees_with_labelling_the_whole_stack():
    from scipy import ndimage

    mask = np.random.default_rng(5).random((12, 20, 20)) < 0.25
    structure = np.zeros((3, 3, 3), int)
    structure[1] = 1
    structure[:, 1, 1] = 1
    labels, count = ndimage.label(mask, structure)
    found = joined(range(12), lambda k: mask[k])
    assert found.count == count
    assert sorted(found.weight[1:]) == sorted(np.bincount(labels.ravel())[1:])


def test_missing_planes_part_pieces():
    mask = np.ones((5, 4, 4), bool)
    assert joined((0, 1, 3, 4), lambda k: mask[k]).weight.tolist() == [0, 32, 32]
    assert joined((), lambda k: mask[k]).count == 0
    assert joined((0,), lambda k: np.zeros((4, 4), bool)).count == 0


def test_weights_are_volumes():
    grid = cube_grid(30)
    one, two = sphere(grid, 10, (-12.0, 0, 0)), sphere(grid, 5, (15.0, 3.0, 0))
    found, box = pieces_of(union(one, two))
    assert sorted(found.weight[1:] * grid.voxel_cm3) == pytest.approx(sorted((one.volume_cm3, two.volume_cm3)))
    assert box[0] < 25
    keep = found.weight == found.weight.max()
    mask = found.mask(0, keep)
    assert mask.sum() >= 1
    assert isinstance(one, Coverage)
