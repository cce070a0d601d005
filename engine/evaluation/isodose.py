"""Isodose lines of one dose plane: marching squares with linear interpolation, joined to lines."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Line = NDArray[np.float64]


def lines(dose_2d: NDArray[np.float32], levels_gy: Sequence[float]) -> list[list[Line]]:
    """Return, for each level, its lines as (n, 2) fractional (row, column) points.

    A closed line repeats its first point at the end; a line that leaves the plane ends at its border. Values equal to
    the level count as inside. Where the four corners of a cell leave a choice, their mean decides. Exact for a dose that
    is linear between neighbours.
    """
    from engine.evaluation.tracing import trace

    plane = np.ascontiguousarray(dose_2d, dtype=np.float32)
    levels = np.asarray(levels_gy, dtype=np.float32).reshape(-1)
    if plane.shape[0] < 2 or plane.shape[1] < 2 or levels.size == 0:
        return [[] for _ in range(levels.size)]
    points, starts, owner = trace(plane, levels)
    out: list[list[Line]] = [[] for _ in range(levels.size)]
    for i, level in enumerate(owner.tolist()):
        out[level].append(points[starts[i] : starts[i + 1]])
    return out
