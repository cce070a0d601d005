"""Compiled loops over doses: weighted sums, histograms, highest voxels. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def gathered(dose, share, bins):  # type: ignore[no-untyped-def]
    low, high = dose[0], dose[0]
    for i in range(dose.shape[0]):
        low = min(low, dose[i])
        high = max(high, dose[i])
    step = np.float32(0.0) if high <= low else np.float32(bins * 0.999999) / (high - low)
    weight = np.zeros((2, bins))
    moment = np.zeros((2, bins))
    # Two interleaved tables: neighbours often share a bin, and a sum waits for the one before.
    for i in range(dose.shape[0]):
        b = int((dose[i] - low) * step)
        side = i & 1
        weight[side, b] += share[i]
        moment[side, b] += share[i] * dose[i]
    out_dose = np.empty(bins)
    out_share = np.empty(bins)
    n = 0
    for b in range(bins):
        w = weight[0, b] + weight[1, b]
        if w > 0:
            out_dose[n] = min(max((moment[0, b] + moment[1, b]) / w, float(low)), float(high))
            out_share[n] = w
            n += 1
    return float(low), float(high), out_dose[:n].copy(), out_share[:n].copy()


@njit(cache=True, nogil=True)
def combine(per_beam, factors, out):  # type: ignore[no-untyped-def]
    """Fill `out` (n,) with the sum of factor times dose over beams; `per_beam` float32 (beams, n)."""
    n = out.shape[0]
    for i in range(n):
        out[i] = 0.0
    for b in range(per_beam.shape[0]):
        f = np.float32(factors[b])
        if f != 0.0:
            row = per_beam[b]
            for i in range(n):
                out[i] += f * row[i]


@njit(cache=True, nogil=True)
def block_tops(gy, mask, block):  # type: ignore[no-untyped-def]
    """Return the highest dose of each block of `block`^3 voxels, float32 (blocks,); -1 where the mask holds none."""
    planes, rows, columns = gy.shape
    nr, nc = (rows + block - 1) // block, (columns + block - 1) // block
    nk = (planes + block - 1) // block
    top = np.full(nk * nr * nc, -1.0, dtype=np.float32)
    for k in range(planes):
        for r in range(rows):
            base = ((k // block) * nr + r // block) * nc
            for c in range(columns):
                if mask[k, r, c] and gy[k, r, c] > top[base + c // block]:
                    top[base + c // block] = gy[k, r, c]
    return top


@njit(cache=True, nogil=True)
def add_blocks(gy, mask, blocks, factor, side, out):  # type: ignore[no-untyped-def]
    planes, rows, columns = gy.shape
    nr, nc = (rows + side - 1) // side, (columns + side - 1) // side
    f = np.float32(factor)
    for i in range(blocks.shape[0]):
        k0, r0, c0 = blocks[i] // (nr * nc) * side, blocks[i] // nc % nr * side, blocks[i] % nc * side
        for k in range(k0, min(k0 + side, planes)):
            for r in range(r0, min(r0 + side, rows)):
                for c in range(c0, min(c0 + side, columns)):
                    j = ((k - k0) * side + r - r0) * side + c - c0
                    if mask[k, r, c]:
                        out[i, j] = max(out[i, j], np.float32(0.0)) + f * gy[k, r, c]


@njit(cache=True, nogil=True)
def add(gy, factor, out):  # type: ignore[no-untyped-def]
    f = np.float32(factor)
    for i in range(out.shape[0]):
        out[i] += f * gy[i]


@njit(cache=True, nogil=True)
def add_two(first, second, f, g, out):  # type: ignore[no-untyped-def]
    a, b = np.float32(f), np.float32(g)
    for r in range(out.shape[0]):
        for c in range(out.shape[1]):
            out[r, c] += a * first[r, c] + b * second[r, c]


@njit(cache=True, nogil=True)
def sort_voxels(gy, mask, level):  # type: ignore[no-untyped-def]
    planes, rows, columns = gy.shape
    sure = 0
    split = np.empty((gy.size, 3), dtype=np.int32)
    n = 0
    for k in range(planes):
        for r in range(rows):
            for c in range(columns):
                if not mask[k, r, c]:
                    continue
                above = gy[k, r, c] >= level
                mixed = False
                for kk in range(max(0, k - 1), min(planes, k + 2)):
                    for rr in range(max(0, r - 1), min(rows, r + 2)):
                        for cc in range(max(0, c - 1), min(columns, c + 2)):
                            if (gy[kk, rr, cc] >= level) != above:
                                mixed = True
                if mixed:
                    split[n, 0], split[n, 1], split[n, 2] = k, r, c
                    n += 1
                elif above:
                    sure += 1
    return sure, split[:n].copy()
