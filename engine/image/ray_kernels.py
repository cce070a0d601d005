"""Compiled ray march of ``projection``; parallel, for the compute thread only."""

from __future__ import annotations

import numpy as np
from numba import njit, prange


@njit(cache=True, nogil=True, parallel=True, fastmath=True)
def march(hu, start, ends, spacing, step_mm, table, out):  # type: ignore[no-untyped-def]
    planes, rows, columns = hu.shape
    for r in prange(ends.shape[0]):
        for c in range(ends.shape[1]):
            dx, dy, dz = ends[r, c, 0] - start[0], ends[r, c, 1] - start[1], ends[r, c, 2] - start[2]
            length = np.sqrt((dx * spacing[0]) ** 2 + (dy * spacing[1]) ** 2 + (dz * spacing[2]) ** 2)
            enter, leave = 0.0, 1e9
            for axis in range(3):
                d = dx if axis == 0 else dy if axis == 1 else dz
                n = columns if axis == 0 else rows if axis == 1 else planes
                lo, hi = -0.5 - start[axis], n - 0.5 - start[axis]
                if abs(d) < 1e-12:
                    if lo > 0 or hi < 0:
                        leave = -1.0
                else:
                    a, b = lo / d, hi / d
                    enter, leave = max(enter, min(a, b)), min(leave, max(a, b))
            total = 0.0
            if leave > enter:
                inside_mm = (leave - enter) * length
                steps = max(1, int(np.ceil(inside_mm / step_mm)))
                dt = (leave - enter) / steps
                for i in range(steps):
                    t = enter + (i + 0.5) * dt
                    x = np.float32(min(max(start[0] + t * dx, 0.0), columns - 1.0))
                    y = np.float32(min(max(start[1] + t * dy, 0.0), rows - 1.0))
                    z = np.float32(min(max(start[2] + t * dz, 0.0), planes - 1.0))
                    ix, iy, iz = np.int32(x), np.int32(y), np.int32(z)
                    jx, jy, jz = min(ix + 1, columns - 1), min(iy + 1, rows - 1), min(iz + 1, planes - 1)
                    fx, fy, fz = x - np.float32(ix), y - np.float32(iy), z - np.float32(iz)
                    a00, a01 = np.float32(hu[iz, iy, ix]), np.float32(hu[iz, iy, jx])
                    a10, a11 = np.float32(hu[iz, jy, ix]), np.float32(hu[iz, jy, jx])
                    b00, b01 = np.float32(hu[jz, iy, ix]), np.float32(hu[jz, iy, jx])
                    b10, b11 = np.float32(hu[jz, jy, ix]), np.float32(hu[jz, jy, jx])
                    a00 += (a01 - a00) * fx
                    a10 += (a11 - a10) * fx
                    b00 += (b01 - b00) * fx
                    b10 += (b11 - b10) * fx
                    a00 += (a10 - a00) * fy
                    b00 += (b10 - b00) * fy
                    value = a00 + (b00 - a00) * fz
                    total += table[min(max(int(value + np.float32(1024.5)), 0), 5119)]
                total *= inside_mm / steps
            out[r, c] = total
