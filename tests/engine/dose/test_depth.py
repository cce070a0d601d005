import numpy as np
import pytest

from engine.base.values import own_array
from engine.dose.depth import depth_mm, water_equivalent_depth_mm
from engine.image.density import Density
from engine.space.grid import Grid
from tests.support.dose import slabs, water

SOURCE = (0.0, -1000.0, 0.0)


def test_both_depths_agree_in_water():
    box = water((200.0, 200.0, 200.0), 5.0)
    assert depth_mm(box, (0.0, 120.0, 0.0), SOURCE) == pytest.approx(120.0)
    assert water_equivalent_depth_mm(box, (0.0, 120.0, 0.0), SOURCE) == pytest.approx(120.0)


def test_an_oblique_ray_is_longer_by_its_secant():
    box = water((400.0, 200.0, 200.0), 5.0)
    point = (120.0, 100.0, 30.0)
    secant = np.sqrt(120.0**2 + 1100.0**2 + 30.0**2) / 1100.0
    assert depth_mm(box, point, SOURCE) == pytest.approx(100 * secant)
    assert water_equivalent_depth_mm(box, point, SOURCE) == pytest.approx(100 * secant)


def test_lung_counts_by_its_mass():
    box = slabs([(50, 1.0), (100, 0.26)], (100.0, 240.0, 100.0), 5.0)
    assert depth_mm(box, (1.0, 180.0, 1.0), SOURCE) == pytest.approx(180.0, abs=1e-3)
    assert water_equivalent_depth_mm(box, (1.0, 180.0, 1.0), SOURCE) == pytest.approx(50 + 26 + 30, abs=1e-3)


def test_depth_starts_at_the_surface_not_at_the_image():
    grid = Grid((0.0, 2.5, 0.0), (5.0, 5.0, 5.0), (1, 40, 1))
    column = np.where(np.arange(40) < 10, 0.001, 1.0).astype(np.float32)
    air_first = Density(own_array(column[None, :, None].copy()), grid)
    assert depth_mm(air_first, (0.0, 130.0, 0.0), SOURCE) == pytest.approx(80.0)
    assert depth_mm(air_first, (0.0, 30.0, 0.0), SOURCE) == 0.0
    assert depth_mm(air_first, (90.0, 30.0, 0.0), (90.0, -1000.0, 0.0)) == 0.0
