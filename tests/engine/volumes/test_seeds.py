"""Lungs, bone and ranges of CT numbers, found in a chest made of ellipses."""

from __future__ import annotations

import numpy as np
import pytest

from engine import compute
from engine.base.errors import GeometryError, InputError
from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.paint import stamp
from engine.volumes.seeds import FindInside, find_inside, in_range
from tests.support.solids import cube_grid

N = 160
GRID = Grid((-159.0, -159.0, 0.0), (2.0, 2.0, 5.0), (24, N, N))


def oval(row, column, radii):
    out = np.zeros((N, N), np.uint8)
    stamp(out, row, column, radii)
    return out / 255.0


def chest(joined=False, gas=False):
    """Return the image, the body, and the true left and right lung."""
    body, spine, pipe = oval(80, 80, (55, 72)), oval(112, 80, (8, 9)), oval(72, 80, (4, 4.5))
    right, left = oval(78, 45, (34, 21)), oval(78, 115, (34, 19))
    bridge = np.zeros((N, N))
    bridge[56:59, 60:100] = 1.0
    planes = []
    for k in range(GRID.shape[0]):
        hu = -1000 + body * 1040
        if 3 <= k < 21:
            hu = hu - (left + right) * 840
            if joined and 9 <= k < 15:
                hu = np.where(bridge > hu * 0 + 0.5, np.minimum(hu, -750), hu)
        if k > 8:
            hu = hu - pipe * 1020
        if gas and k < 2:
            hu = hu - oval(60, 95, (14, 20)) * 1030
        planes.append(hu + spine * 400)
    stack = np.stack(planes) + np.random.default_rng(3).normal(0, 15, GRID.shape)
    image = CtImage(own_array(np.round(stack).astype("<i2")), GRID)
    outline = Coverage.from_dense(GRID, np.repeat((255 * body).astype(np.uint8)[None], GRID.shape[0], axis=0))
    truth = []
    for lung in (left, right):
        dense = np.zeros(GRID.shape, np.uint8)
        dense[3:21] = (255 * lung).astype(np.uint8)
        truth.append(Coverage.from_dense(GRID, dense))
    return image, outline, truth


def alike(a, b):
    p, q = a.dense().astype(float), b.dense().astype(float)
    return 2 * np.minimum(p, q).sum() / (p.sum() + q.sum())


@pytest.mark.parametrize("joined", [False, True])
@pytest.mark.parametrize("gas", [False, True])
def test_both_lungs_are_found_apart_and_without_the_windpipe(joined, gas):
    image, body, truth = chest(joined, gas)
    found = find_inside(FindInside("lungs", image, body, -400.0))
    assert found.names == ("Lung_L", "Lung_R")
    left, right = found.coverages
    assert left.centroid_mm()[0] > 20 > -20 > right.centroid_mm()[0]
    for lung, true in zip(found.coverages, truth):
        assert alike(lung, true) > (0.96 if joined else 0.98)
        assert lung.slice(15)[72, 80] == 0
    assert (left.dense().astype(int) + right.dense()).max() <= 255  # a pixel they share is shared out


def test_bone_is_what_is_dense_inside_the_body():
    image, body, _ = chest()
    found = find_inside(FindInside("bone", image, body, 200.0))
    assert found.names == ("Bones",)
    true = np.pi * 8 * 9 * 4 * 5 * GRID.shape[0] / 1000
    assert found.coverages[0].volume_cm3 == pytest.approx(true, rel=0.05)


def test_what_is_not_there_is_said():
    image, body, _ = chest()
    with pytest.raises(InputError, match="denser than 2000 HU"):
        find_inside(FindInside("bone", image, body, 2000.0))
    with pytest.raises(InputError, match="no two lungs"):
        find_inside(FindInside("lungs", image, body, -950.0))
    with pytest.raises(InputError, match="outline is empty"):
        find_inside(FindInside("lungs", image, Coverage(GRID), -400.0))
    with pytest.raises(InputError, match="nothing to find"):
        find_inside(FindInside("liver", image, body, 0.0))
    with pytest.raises(GeometryError, match="another grid"):
        find_inside(FindInside("bone", image, Coverage(cube_grid(10)), 0.0))


def test_a_range_has_its_line_between_the_pixels():
    image, body, _ = chest()
    ramp = np.broadcast_to((np.arange(N) * 10).astype("<i2"), GRID.shape)
    found = in_range(image.but(hu=own_array(ramp.copy())), 303, 597)
    assert found.planes == tuple(range(GRID.shape[0]))
    assert found.slice(2)[50].sum() / 255 == pytest.approx(29.5, abs=0.02)
    assert in_range(image, 100, 3000, Coverage(GRID)).is_empty
    inside = in_range(image, -2000, 3000, body)
    assert inside == body
    with pytest.raises(GeometryError, match="holds nothing"):
        in_range(image, 10, 5)
    with pytest.raises(GeometryError, match="another grid"):
        in_range(image, 0, 5, Coverage(cube_grid(10)))


def test_reached_through_the_table_and_reports():
    image, body, _ = chest()
    seen = []
    compute.run(FindInside("lungs", image, body, -400.0), lambda f, w="": seen.append(f))
    assert seen == sorted(seen)
    assert seen[-1] == pytest.approx(1)
