"""Compiled loops of ``samples``: points in painted pixels, and dose at points. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit

from engine.base.apart import fetch, put
from engine.space.lines import trilinear

_TRIES = 8
# Powers of 1 / 1.16730397826141868, the root of x^5 = x + 1.
_A, _B, _C, _D = 0.856674883854503, 0.733891856627126, 0.628706721037809, 0.538597257223610


@njit(cache=True, nogil=True)
def refined(alpha, n, along, first):  # type: ignore[no-untyped-def]
    rows, columns = alpha.shape
    count = 0
    for r in range(rows):
        for c in range(columns):
            if alpha[r, c] > 0:
                count += n * n * along
    p = np.empty((count, 3))
    w = np.zeros(count, dtype=np.float32)
    part = np.empty(n * n)
    i = 0
    for r in range(rows):
        for c in range(columns):
            a = alpha[r, c]
            if a == 0:
                continue
            gr, gc = _slope(alpha, r, c)
            _split(a / 255.0, gr, gc, n, part)
            for z in range(along):
                for j in range(n * n):
                    t = float(first + i)
                    p[i, 0] = (z + (t * _A) % 1.0) / along - 0.5
                    if n == 1:
                        u, v = _place(a, gr, gc, t)
                        p[i, 1], p[i, 2] = r + u, c + v
                    else:
                        p[i, 1] = r + (j // n + (t * _B) % 1.0) / n - 0.5
                        p[i, 2] = c + (j % n + (t * _C) % 1.0) / n - 0.5
                    w[i] = part[j] / (n * n * along)
                    i += w[i] > 0
    return p[:i].copy(), w[:i].copy()


@njit(cache=True, nogil=True)
def _slope(alpha, r, c):  # type: ignore[no-untyped-def]
    rows, columns = alpha.shape
    gr, gc = 0.0, 0.0
    if alpha[r, c] < 255:
        gr += alpha[r + 1, c] if r + 1 < rows else 0.0
        gr -= alpha[r - 1, c] if r > 0 else 0.0
        gc += alpha[r, c + 1] if c + 1 < columns else 0.0
        gc -= alpha[r, c - 1] if c > 0 else 0.0
    return gr, gc


@njit(cache=True, nogil=True)
def _place(a, gr, gc, t):  # type: ignore[no-untyped-def]
    # One point on the covered side of a pixel: of _TRIES points anywhere in it, the one that so many others exceed
    # towards the inside as the covered share and chance say.
    u, v = (t * _B) % 1.0 - 0.5, (t * _C) % 1.0 - 0.5
    if abs(gr) + abs(gc) < 8.0:
        return u, v
    want = int((t * _D) % 1.0 * _TRIES * a / 255.0)
    for i in range(_TRIES):
        s = t * _TRIES + i
        u, v = (s * _B) % 1.0 - 0.5, (s * _C) % 1.0 - 0.5
        ahead = 0
        for j in range(_TRIES):
            s = t * _TRIES + j
            if gr * ((s * _B) % 1.0 - 0.5) + gc * ((s * _C) % 1.0 - 0.5) > gr * u + gc * v:
                ahead += 1
        if ahead == want:
            break
    return u, v


@njit(cache=True, nogil=True)
def _split(a, gr, gc, n, part):  # type: ignore[no-untyped-def]
    size = abs(gr) + abs(gc)
    if size < 8.0 or n == 1:
        part[:] = a
        return
    nr, nc = gr / size, gc / size
    want = a * n * n
    lo, hi = -1.0, 1.0
    for _ in range(24):
        edge = 0.5 * (lo + hi)
        total = 0.0
        for j in range(n * n):
            along = nr * ((j // n + 0.5) / n - 0.5) + nc * ((j % n + 0.5) / n - 0.5)
            part[j] = min(1.0, max(0.0, (along - edge) * n + 0.5))
            total += part[j]
        if total > want:
            lo = edge
        else:
            hi = edge
    # Slivers would put the highest and lowest dose where hardly anything is painted.
    least = min(0.1, 0.5 * part.max())
    total = 0.0
    for j in range(n * n):
        if part[j] < least:
            part[j] = 0.0
        total += part[j]
    if total > 0:
        for j in range(n * n):
            part[j] *= want / total


@njit(cache=True, nogil=True)
def blocks(alpha, b, along, first):  # type: ignore[no-untyped-def]
    rows, columns = alpha.shape
    most = ((rows + b - 1) // b) * ((columns + b - 1) // b) * along
    p = np.empty((most, 3))
    w = np.empty(most, dtype=np.float32)
    i = 0
    for r0 in range(0, rows, b):
        for c0 in range(0, columns, b):
            total = 0
            for r in range(r0, min(rows, r0 + b)):
                for c in range(c0, min(columns, c0 + b)):
                    total += alpha[r, c]
            if total == 0:
                continue
            for z in range(along):
                t = float(first + i)
                left = ((t * _D) % 1.0) * total
                pr, pc, found = r0, c0, False
                for r in range(r0, min(rows, r0 + b)):
                    for c in range(c0, min(columns, c0 + b)):
                        if not found and alpha[r, c] > 0:
                            pr, pc = r, c
                            left -= alpha[r, c]
                            found = left < 0
                p[i, 0] = (z + (t * _A) % 1.0) / along - 0.5
                gr, gc = _slope(alpha, pr, pc)
                u, v = _place(alpha[pr, pc], gr, gc, t)
                p[i, 1], p[i, 2] = pr + u, pc + v
                w[i] = total / 255.0 / along
                i += 1
    return p[:i].copy(), w[:i].copy()


@njit(cache=True, nogil=True, error_model="numpy")
def _gather(gy, shape, index, out):  # type: ignore[no-untyped-def]
    f = np.float32
    last = max(shape[0] - 2, 0), max(shape[1] - 2, 0), max(shape[2] - 2, 0)
    whole = np.int32
    row, plane = whole(shape[2]), whole(shape[1] * shape[2])
    # In a grid of one plane the next one is itself.
    dz, dy, dx = plane if shape[0] > 1 else whole(0), row if shape[1] > 1 else whole(0), whole(shape[2] > 1)
    last_z, last_y, last_x = np.int32(last[0]), np.int32(last[1]), np.int32(last[2])
    for i in range(np.uint32(out.size)):
        three = np.uint64(3) * np.uint64(i)
        z, y, x = fetch(index, three), fetch(index, three + np.uint64(1)), fetch(index, three + np.uint64(2))
        k, r, c = min(np.int32(z), last_z), min(np.int32(y), last_y), min(np.int32(x), last_x)
        fz, fy, fx = z - f(k), y - f(r), x - f(c)
        at = whole(whole(k * plane) + whole(whole(r * row) + c))
        put(out, i, trilinear(gy, at, dz, dy, dx, fz, fy, fx))


@njit(cache=True, nogil=True)
def gather(gy, index, out):  # type: ignore[no-untyped-def]
    """Fill `out` (n,) with trilinear dose of `gy` at `index` (n, 3), which lies within the voxel centres."""
    _gather(gy.reshape(-1), gy.shape, index.reshape(-1), out)
