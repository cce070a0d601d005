from __future__ import annotations

import numpy as np
from scipy.ndimage import gaussian_filter

from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.phantoms.second import resonance_like, way_to_ct
from engine.space.grid import Grid


def ball() -> CtImage:
    grid = Grid((-60.0, -60.0, -60.0), (2.0, 2.0, 2.0), (61, 61, 61))
    z, y, x = np.meshgrid(grid.z_mm, grid.y_mm, grid.x_mm, indexing="ij")
    inside = 1 / (1 + np.exp((np.sqrt((x - 12) ** 2 + (y + 8) ** 2 + (z - 5) ** 2) - 20) / 2))
    return CtImage(own_array((-1000 + 1042 * inside).astype("<i2")), grid)


def test_it_lies_where_its_known_transform_says():
    image = resonance_like(ball(), (3.0, 4.0, 5.0), "Synthetic")
    # Above the brightness of the blurred rim only the ball is left: its centre is that of the CT's ball.
    far = gaussian_filter(image.values.astype(float), 1.0) > 300
    k, r, c = (axis.mean() for axis in np.nonzero(far))
    own = np.array(image.affine).reshape(3, 4) @ [c, r, k, 1.0]
    assert np.allclose((way_to_ct((3.0, 4.0, 5.0)) @ [*own, 1.0])[:3], (12.0, -8.0, 5.0), atol=0.3)


def test_it_is_synthetic_rigid_and_the_same_every_time():
    image = resonance_like(ball(), (0.0, 0.0, 0.0), "Synthetic")
    assert image.synthetic
    turn = way_to_ct((0.0, 0.0, 0.0))[:3, :3]
    assert np.allclose(turn @ turn.T, np.eye(3))
    assert image == resonance_like(ball(), (0.0, 0.0, 0.0), "Synthetic")
