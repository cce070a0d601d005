"""Compiled loop over the points of one volume: value and gradient of its demands. Serial."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def demands_of_points(rows, x, counts, side, limit, weight, gradient):  # type: ignore[no-untyped-def]
    """Return the value of all demands on one volume's points, and add its gradient to `gradient`.

    Parameters
    ----------
    rows : float32 (points, beams), Gy per unit of the weight
    x : float64 (beams,)
    counts : float32 (demands, points), how much each point counts for each demand
    side, limit, weight : float64 (demands,)
    gradient : float64 (beams,)
    """
    points, beams = rows.shape
    value = 0.0
    for i in range(points):
        gy = 0.0
        for b in range(beams):
            gy += rows[i, b] * x[b]
        push = 0.0
        for t in range(len(side)):
            off = side[t] * (gy / limit[t] - 1.0)
            if off > 0.0 and counts[t, i] > 0.0:
                part = weight[t] * counts[t, i] * off
                value += part * off
                push += 2.0 * part * side[t] / limit[t]
        if push != 0.0:
            for b in range(beams):
                gradient[b] += push * rows[i, b]
    return value


@njit(cache=True, nogil=True)
def squares(rows, counts, out):  # type: ignore[no-untyped-def]
    """Add to `out` (beams,) the mean square of every beam's dose over points that count `counts` (points,)."""
    points, beams = rows.shape
    for i in range(points):
        if counts[i] > 0.0:
            for b in range(beams):
                out[b] += counts[i] * np.float64(rows[i, b]) ** 2
