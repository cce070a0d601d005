"""Connected parts of one slice: labels, holes, spreading. Compiled, serial, without the interpreter's lock."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

Mask = NDArray[np.bool_]
Labels = NDArray[np.int32]


def label(mask: Mask, corners: bool = False) -> tuple[Labels, int]:
    """Return the parts of a slice as numbers from 1 (0 outside), in the order of their first pixels, and how many.

    Pixels join over their sides, with `corners` over these as well.
    """
    labels, count = _label(np.ascontiguousarray(mask), corners)
    return labels, int(count)


@njit(cache=True, nogil=True)
def _root(parent, i):  # type: ignore[no-untyped-def]
    while parent[i] != i:
        parent[i] = parent[parent[i]]
        i = parent[i]
    return i


@njit(cache=True, nogil=True)
def _join(parent, i, j):  # type: ignore[no-untyped-def]
    i, j = _root(parent, i), _root(parent, j)
    if i < j:
        parent[j] = i
    elif j < i:
        parent[i] = j


@njit(cache=True, nogil=True)
def _label(mask, corners):  # type: ignore[no-untyped-def]
    """Label runs of pixels along the rows and join those that touch a run of the row above."""
    rows, columns = mask.shape
    most = rows * ((columns + 1) // 2)
    begin, end = np.empty(most, np.int32), np.empty(most, np.int32)
    parent = np.empty(most, np.int32)
    first = np.zeros(rows + 1, np.int64)
    reach = 1 if corners else 0
    n = 0
    for r in range(rows):
        first[r] = n
        above, last = (first[r - 1], first[r]) if r > 0 else (0, 0)
        c = 0
        while c < columns:
            if not mask[r, c]:
                c += 1
                continue
            begin[n] = c
            while c < columns and mask[r, c]:
                c += 1
            end[n] = c
            parent[n] = n
            while above < last and end[above] + reach <= begin[n]:
                above += 1
            k = above
            while k < last and begin[k] < c + reach:
                _join(parent, n, k)
                k += 1
            n += 1
    first[rows] = n
    number = np.zeros(n, np.int32)
    count = 0
    for i in range(n):
        root = _root(parent, i)
        if root == i:
            count += 1
            number[i] = count
        else:
            number[i] = number[root]
    out = np.zeros((rows, columns), np.int32)
    for r in range(rows):
        for i in range(first[r], first[r + 1]):
            out[r, begin[i] : end[i]] = number[i]
    return out, count


def sizes(labels: Labels, count: int, weights: NDArray[np.generic] | None = None) -> NDArray[np.float64]:
    """Return the pixels of each label from 0 on, or the sum of their weights (uint8 shares, 255 = 1)."""
    if weights is None:
        return _counted(labels, count)
    return _weighed(labels, count, np.ascontiguousarray(weights))


@njit(cache=True, nogil=True)
def _counted(labels, count):  # type: ignore[no-untyped-def]
    out = np.zeros(count + 1)
    for r in range(labels.shape[0]):
        begin = 0  # a run at a time: adding to one place again and again would wait for itself
        for c in range(1, labels.shape[1] + 1):
            if c == labels.shape[1] or labels[r, c] != labels[r, begin]:
                out[labels[r, begin]] += c - begin
                begin = c
    return out


@njit(cache=True, nogil=True)
def _weighed(labels, count, shares):  # type: ignore[no-untyped-def]
    whole = np.zeros(count + 1, np.int64)
    for r in range(labels.shape[0]):
        for c in range(labels.shape[1]):
            whole[labels[r, c]] += shares[r, c]
    return whole / 255.0


def filled(mask: Mask) -> Mask:
    """Return a slice with everything filled that no way along the sides of empty pixels joins to the slice's rim."""
    out: Mask = _filled(np.ascontiguousarray(mask))
    return out


def holes(mask: Mask) -> tuple[Labels, int]:
    """Return the parts, joined over their sides, that a slice closes in: labels from 1 and how many."""
    mask = np.ascontiguousarray(mask)
    return label(_filled(mask) & ~mask)


@njit(cache=True, nogil=True)
def _filled(mask):  # type: ignore[no-untyped-def]
    rows, columns = mask.shape
    if rows == 0 or columns == 0:
        return mask.copy()
    empty, count = _label(~mask, False)
    open_to_rim = np.zeros(count + 1, np.bool_)
    for c in range(columns):
        open_to_rim[empty[0, c]] = True
        open_to_rim[empty[rows - 1, c]] = True
    for r in range(rows):
        open_to_rim[empty[r, 0]] = True
        open_to_rim[empty[r, columns - 1]] = True
    open_to_rim[0] = False
    out = np.empty((rows, columns), np.bool_)
    for r in range(rows):
        for c in range(columns):
            out[r, c] = not open_to_rim[empty[r, c]]
    return out


def spread(mask: Mask, times: int, within: Mask | None = None) -> Mask:
    """Return a slice spread over the sides of pixels, `times` over, all of it `within`; nothing comes over the rim."""
    allowed = np.ones(mask.shape, np.bool_) if within is None else np.ascontiguousarray(within)
    out: Mask = _spread(np.ascontiguousarray(mask), times, allowed, within is not None)
    return out


@njit(cache=True, nogil=True)
def _spread(mask, times, allowed, bounded):  # type: ignore[no-untyped-def]
    """Follow the front only: each step looks at the pixels that the step before added."""
    rows, columns = mask.shape
    out = mask.copy()
    front = np.empty((mask.size, 2), np.int32)
    n = 0
    for r in range(rows):
        for c in range(columns):
            if not mask[r, c]:
                continue
            if bounded and not allowed[r, c]:
                out[r, c] = False
            if (
                (r > 0 and not mask[r - 1, c])
                or (r + 1 < rows and not mask[r + 1, c])
                or (c > 0 and not mask[r, c - 1])
                or (c + 1 < columns and not mask[r, c + 1])
            ):
                front[n, 0], front[n, 1] = r, c
                n += 1
    start = 0
    for _ in range(times):
        stop = n
        for i in range(start, stop):
            r, c = front[i, 0], front[i, 1]
            for side in range(4):
                y = r + (side == 0) - (side == 1)
                x = c + (side == 2) - (side == 3)
                if y < 0 or x < 0 or y >= rows or x >= columns or out[y, x] or not allowed[y, x]:
                    continue
                out[y, x] = True
                front[n, 0], front[n, 1] = y, x
                n += 1
        start = stop
    return out
