"""Where an edge lies about a place, for the disc that pushes it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.volumes.outline import outlines


def edge_near(
    alpha: NDArray[np.uint8], place_rc: tuple[float, float], pixel_mm: tuple[float, float]
) -> tuple[bool, float] | None:
    """Return whether a place lies inside the outline of a plane and how far in mm the outline is; None without outline.

    Parameters
    ----------
    alpha : uint8 (rows, columns), 255 = wholly inside
    place_rc : (row, column), pixel centres at whole numbers
    pixel_mm : height and width of a pixel
    """
    rows = np.flatnonzero(alpha.any(axis=1))
    if rows.size == 0:
        return None
    columns = np.flatnonzero(alpha.any(axis=0))
    r0, c0 = int(rows[0]), int(columns[0])
    loops = outlines(alpha[r0 : rows[-1] + 1, c0 : columns[-1] + 1], r0, c0)
    if not loops:
        return None
    scale, place = np.asarray(pixel_mm), np.asarray(place_rc)
    nearest, crossings = np.inf, 0
    for loop in loops:
        a = (loop - place) * scale
        b = np.roll(a, -1, axis=0)
        along = b - a
        long = np.maximum((along**2).sum(axis=1), 1e-12)
        t = np.clip(-(a * along).sum(axis=1) / long, 0, 1)[:, None]
        nearest = min(nearest, float(np.sqrt(((a + t * along) ** 2).sum(axis=1)).min()))
        # a ray along the columns meets an odd number of lines from inside
        over = (a[:, 0] > 0) != (b[:, 0] > 0)
        at = a[over, 1] - a[over, 0] * along[over, 1] / along[over, 0]
        crossings += int((at > 0).sum())
    return crossings % 2 == 1, nearest
