"""Compiled loops over doses: weighted sums, histograms, highest voxels. Serial, safe on the screen thread."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def _ends(dose):  # type: ignore[no-untyped-def]
    # Doses that are not negative are ordered as their bits are, and whole numbers are compared many at a time.
    bits = dose.view(np.int32)
    least, most = bits[0], bits[0]
    for i in range(bits.size):
        least = min(least, bits[i])
        most = max(most, bits[i])
    if least >= 0:
        both = np.array([least, most]).astype(np.int32).view(np.float32)
        return both[0], both[1]
    low, high = dose[0], dose[0]
    for i in range(dose.size):
        low = min(low, dose[i])
        high = max(high, dose[i])
    return low, high


@njit(cache=True, nogil=True)
def binned(dose, share, bins):  # type: ignore[no-untyped-def]
    """Return the curve of doses in `bins` equal steps, each kept as its own mean dose, and the mean dose.

    Parameters
    ----------
    dose, share : float32 (n,), at least one with a share

    Returns
    -------
    (dose ascending, share of the volume below it) float64, as ``dvh.Dvh`` has them, and the mean
    """
    low, high = _ends(dose)
    step = np.float32(0.0) if high <= low else np.float32(bins * 0.999999) / (high - low)
    # Weight and moment of a step side by side, twice: neighbours often share a step, and a sum waits for the one before.
    table = np.zeros(4 * bins)
    for i in range(dose.size):
        at = 4 * int((dose[i] - low) * step) + 2 * (i & 1)
        table[at] += share[i]
        table[at + 1] += share[i] * dose[i]
    points, below = np.empty(bins + 2), np.empty(bins + 2)
    points[0], below[0] = low, 0.0
    n, total, moment = 1, 0.0, 0.0
    for b in range(bins):
        weight = table[4 * b] + table[4 * b + 2]
        if weight > 0:
            part = table[4 * b + 1] + table[4 * b + 3]
            points[n] = min(max(part / weight, float(low)), float(high))
            below[n] = total + 0.5 * weight
            total += weight
            moment += part
            n += 1
    for i in range(1, n):
        below[i] /= total
    points[n], below[n] = high, 1.0
    return points[: n + 1].copy(), below[: n + 1].copy(), moment / total


@njit(cache=True, nogil=True)
def thinned(dose, below, points):  # type: ignore[no-untyped-def]
    """Return (dose, percent that receives it or more) of a curve at even steps, from zero dose on; see ``Dvh.curve``."""
    out, percent = np.empty(points + 2), np.empty(points + 2)
    out[0], percent[0] = 0.0, 100.0
    low, high = dose[0], dose[-1]
    at = 0
    for i in range(points):
        gy = high if i == points - 1 else low + (high - low) * i / (points - 1)
        while at < dose.size - 2 and dose[at + 1] <= gy:
            at += 1
        width = dose[at + 1] - dose[at]
        share = (gy - dose[at]) / width if width > 0 else 1.0
        out[i + 1] = gy
        percent[i + 1] = 100.0 * (1.0 - (below[at] + share * (below[at + 1] - below[at])))
    out[points + 1], percent[points + 1] = high, 0.0
    return out, percent


@njit(cache=True, nogil=True)
def raised(rest, gy, factor, out):  # type: ignore[no-untyped-def]
    """Fill `out` float32 (n,) with `rest` float64 (n,) plus factor times `gy` float32 (n,)."""
    for i in range(out.size):
        out[i] = np.float32(rest[i] + factor * gy[i])


@njit(cache=True, nogil=True)
def raise_by(gy, factor, rest):  # type: ignore[no-untyped-def]
    """Add factor times `gy` float32 (n,) to `rest` float64 (n,)."""
    for i in range(rest.size):
        rest[i] += factor * gy[i]


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
def bounds(tops, factors, out):  # type: ignore[no-untyped-def]
    """Fill `out` (blocks,) with what bounds the sum in each block from above, -1 without a voxel; return where it is most.

    Parameters
    ----------
    tops : float32 (beams, blocks), see ``block_tops``
    """
    combine(tops, factors, out)
    most, where = np.float32(-1.0), 0
    for i in range(out.size):
        # Rounding must not hide the best block behind its own bound.
        out[i] = out[i] * np.float32(1 + 1e-6) if tops[0, i] >= 0 else np.float32(-1.0)
        if out[i] > most:
            most, where = out[i], i
    return where


@njit(cache=True, nogil=True)
def block_tops(gy, mask, block):  # type: ignore[no-untyped-def]
    """Return the highest dose of each block of `block`^3 voxels, float32 (blocks,); -1 where the mask holds none."""
    planes, rows, columns = gy.shape
    nr, nc = (rows + block - 1) // block, (columns + block - 1) // block
    nk = (planes + block - 1) // block
    top = np.full(nk * nr * nc, -1.0, dtype=np.float32)
    line, none = np.empty(columns, np.float32), np.float32(-1.0)
    for kb in range(nk):
        for rb in range(nr):
            # Rows upon each other first: that is one step for many columns.
            line[:] = none
            for k in range(kb * block, min(planes, (kb + 1) * block)):
                for r in range(rb * block, min(rows, (rb + 1) * block)):
                    dose, inside = gy[k, r], mask[k, r]
                    for c in range(columns):
                        line[c] = max(line[c], dose[c] if inside[c] else none)
            base = (kb * nr + rb) * nc
            for c in range(columns):
                if line[c] > top[base + c // block]:
                    top[base + c // block] = line[c]
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
