"""Compiled drawing of triangles with a depth buffer. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True, fastmath=True)
def draw(points, triangles, light, colour, depth, image):  # type: ignore[no-untyped-def]
    """Draw triangles nearest first into an image.

    Parameters
    ----------
    points : float32 (n, 3): column, row, and depth that grows away from the eye
    light : float32 (m,), 0..1 brightness of each triangle; negative ones face away and are left out
    colour : (3,) 0..255
    depth, image : float32 (rows, columns), uint8 (rows, columns, 3); both are changed
    """
    rows, columns = depth.shape
    for t in range(triangles.shape[0]):
        if light[t] < 0.0:
            continue
        i, j, k = triangles[t, 0], triangles[t, 1], triangles[t, 2]
        x0, y0, z0 = points[i, 0], points[i, 1], points[i, 2]
        x1, y1, z1 = points[j, 0], points[j, 1], points[j, 2]
        x2, y2, z2 = points[k, 0], points[k, 1], points[k, 2]
        area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
        if abs(area) < 1e-9:
            continue
        left = max(0, int(np.ceil(min(x0, x1, x2))))
        right = min(columns - 1, int(np.floor(max(x0, x1, x2))))
        top = max(0, int(np.ceil(min(y0, y1, y2))))
        bottom = min(rows - 1, int(np.floor(max(y0, y1, y2))))
        for r in range(top, bottom + 1):
            for c in range(left, right + 1):
                b = ((c - x0) * (y2 - y0) - (x2 - x0) * (r - y0)) / area
                g = ((x1 - x0) * (r - y0) - (c - x0) * (y1 - y0)) / area
                if b < -1e-6 or g < -1e-6 or b + g > 1.0 + 1e-6:
                    continue
                z = z0 + b * (z1 - z0) + g * (z2 - z0)
                if z < depth[r, c]:
                    depth[r, c] = z
                    image[r, c, 0] = np.uint8(colour[0] * light[t])
                    image[r, c, 1] = np.uint8(colour[1] * light[t])
                    image[r, c, 2] = np.uint8(colour[2] * light[t])


@njit(cache=True, nogil=True)
def lay_over(depth_over, image_over, depth, image, share):  # type: ignore[no-untyped-def]
    """Lay what is nearer of one picture over another, seen through: `share` 0..1 of it shows."""
    for r in range(depth.shape[0]):
        for c in range(depth.shape[1]):
            if depth_over[r, c] < depth[r, c]:
                for n in range(3):
                    image[r, c, n] = np.uint8(image[r, c, n] * (1.0 - share) + image_over[r, c, n] * share)
