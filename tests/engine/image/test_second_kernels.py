from __future__ import annotations

import numpy as np

from engine.image.second_kernels import colours, sample_plane
from engine.space.grid import Grid
from engine.space.sampling import trilinear


def test_sampling_agrees_with_the_general_function():
    rng = np.random.default_rng(3)
    data = rng.normal(size=(6, 7, 8)).astype(np.float32)
    start, across, down = np.array([0.2, 0.3, 0.4]), np.array([0.31, 0.05, 0.1]), np.array([-0.02, 0.4, 0.17])
    out = np.empty((12, 15), dtype=np.float32)
    sample_plane(data, start, across, down, out)
    i, j = np.mgrid[0:12, 0:15]
    points = start + j[..., None] * across + i[..., None] * down
    wanted = trilinear(data, Grid((0, 0, 0), (1, 1, 1), data.shape), points, outside=np.nan)
    assert np.array_equal(np.isnan(out), np.isnan(wanted))
    assert np.nanmax(np.abs(out - wanted)) < 1e-5


def test_colours_clip_at_both_ends_and_mark_nothing():
    table = np.arange(256, dtype=np.uint32)
    out = np.empty((1, 4), dtype=np.uint32)
    colours(np.array([[-5.0, 5.0, 50.0, np.nan]], dtype=np.float32), 0.0, 10.0, table, np.uint32(999), out)
    assert out.tolist() == [[0, 127, 255, 999]]
