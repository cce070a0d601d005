"""Kernels of a second image for the screen thread: values on a plane, and their colours. Serial."""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def sample_plane(values: Any, start: Any, across: Any, down: Any, out: Any) -> None:
    """Fill `out` (rows, columns) by linear interpolation in `values` (planes, rows, columns).

    `start`, `across` and `down` are (column, row, plane): the index of the first pixel and the steps between pixels.
    Within half a voxel of the outer centres the edge value holds, beyond it NaN.
    """
    planes, rows, columns = values.shape
    for i in range(out.shape[0]):
        for j in range(out.shape[1]):
            x = start[0] + j * across[0] + i * down[0]
            y = start[1] + j * across[1] + i * down[1]
            z = start[2] + j * across[2] + i * down[2]
            if not (-0.5 <= x <= columns - 0.5 and -0.5 <= y <= rows - 0.5 and -0.5 <= z <= planes - 0.5):
                out[i, j] = np.nan
                continue
            x = min(max(x, 0.0), columns - 1.0)
            y = min(max(y, 0.0), rows - 1.0)
            z = min(max(z, 0.0), planes - 1.0)
            c, r, k = min(int(x), columns - 2), min(int(y), rows - 2), min(int(z), planes - 2)
            a, b, d = x - c, y - r, z - k
            near = (values[k, r, c] * (1 - a) + values[k, r, c + 1] * a) * (1 - b) + (
                values[k, r + 1, c] * (1 - a) + values[k, r + 1, c + 1] * a
            ) * b
            far = (values[k + 1, r, c] * (1 - a) + values[k + 1, r, c + 1] * a) * (1 - b) + (
                values[k + 1, r + 1, c] * (1 - a) + values[k + 1, r + 1, c + 1] * a
            ) * b
            out[i, j] = near * (1 - d) + far * d


@njit(cache=True, nogil=True)
def colours(values: Any, low: float, high: float, table: Any, nothing: Any, out: Any) -> None:
    """Fill `out` (uint32) with the entry of `table` (256) of each value between `low` and `high`; NaN gives `nothing`."""
    scale = 255.0 / (high - low)
    for i in range(values.shape[0]):
        for j in range(values.shape[1]):
            v = values[i, j]
            if np.isnan(v):
                out[i, j] = nothing
            else:
                out[i, j] = table[int(min(max((v - low) * scale, 0.0), 255.0))]
