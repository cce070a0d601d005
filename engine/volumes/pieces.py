"""Connected pieces of a stack of slices, found slice by slice and joined where they overlap."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.volumes.coverage import Coverage
from engine.volumes.labels import label, sizes


@dataclass(frozen=True)
class Pieces:
    """Labels of each slice (0 = outside, one number per piece and slice) and the piece of each label.

    Attributes
    ----------
    planes : plane of each slice
    labels : int32 arrays, one per slice
    piece : label -> piece number from 1; entry 0 is 0
    weight : pixels of each piece, or the sum of its shares; entry 0 is 0
    """

    planes: tuple[int, ...]
    labels: tuple[NDArray[np.int32], ...]
    piece: NDArray[np.int64]
    weight: NDArray[np.float64]

    @property
    def count(self) -> int:
        """Number of pieces."""
        return len(self.weight) - 1

    def mask(self, index: int, keep: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Return where the slice at `index` belongs to a piece with keep[piece]; keep[0] must be False."""
        out: NDArray[np.bool_] = _chosen(self.labels[index], keep[self.piece])
        return out


def joined(
    planes: Sequence[int],
    mask_of: Callable[[int], NDArray[np.bool_]],
    share_of: Callable[[int], NDArray[np.uint8]] | None = None,
    report: Report = quiet,
) -> Pieces:
    """Find the connected pieces of a stack: pixels join over sides and corners, slices where pixels overlie.

    Parameters
    ----------
    planes : ascending; only neighbours in number join
    mask_of, share_of : called with a plane; slices all have one shape; shares (255 = a whole pixel) weigh the pieces
    """
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    labels: list[NDArray[np.int32]] = []
    pairs: list[NDArray[np.int64]] = []
    sums: list[NDArray[np.float64]] = [np.zeros(1)]
    total = 0
    for i, plane in enumerate(planes):
        own, count = label(mask_of(plane), corners=True)
        sums.append(sizes(own, count, None if share_of is None else share_of(plane))[1:])
        if i and planes[i - 1] == plane - 1:
            pairs.append(_overlying(labels[-1], own, total).T)
        _raise(own, total)
        total += count
        labels.append(own)
        report((i + 1) / len(planes), "finding pieces")
    link = np.concatenate(pairs, axis=1) if pairs else np.zeros((2, 0), np.int64)
    graph = coo_matrix((np.ones(link.shape[1]), (link[0], link[1])), shape=(total + 1, total + 1))
    _, group = connected_components(graph, directed=False)
    # Label 0 touches nothing, so it is a group of its own; number that one 0.
    order = np.unique(np.concatenate((group[:1], group)), return_index=True)[0]
    rank = np.zeros(int(order.max()) + 1, np.int64)
    rank[[g for g in order if g != group[0]]] = np.arange(1, len(order))
    piece = rank[group]
    weight = np.bincount(piece, weights=np.concatenate(sums)).astype(np.float64)
    return Pieces(tuple(planes), tuple(labels), piece, weight)


@njit(cache=True, nogil=True)
def _chosen(labels, keep):  # type: ignore[no-untyped-def]
    out = np.empty(labels.shape, np.bool_)
    for r in range(labels.shape[0]):
        for c in range(labels.shape[1]):
            out[r, c] = keep[labels[r, c]]
    return out


@njit(cache=True, nogil=True)
def _overlying(below, above, more):  # type: ignore[no-untyped-def]
    """Return pairs of labels (label below, label above + `more`) whose pixels overlie, a pair once a run."""
    rows, columns = above.shape
    found = np.empty((rows * columns, 2), np.int64)
    n = 0
    for r in range(rows):
        a = b = 0
        for c in range(columns):
            if below[r, c] and above[r, c] and (below[r, c] != a or above[r, c] != b):
                a, b = below[r, c], above[r, c]
                if n == 0 or found[n - 1, 0] != a or found[n - 1, 1] != b + more:
                    found[n, 0], found[n, 1] = a, b + more
                    n += 1
    return found[:n].copy()


@njit(cache=True, nogil=True)
def _raise(labels, more):  # type: ignore[no-untyped-def]
    """Add `more` to every label but 0, in place."""
    for r in range(labels.shape[0]):
        for c in range(labels.shape[1]):
            if labels[r, c]:
                labels[r, c] += more


def pieces_of(coverage: Coverage, least: int = 1, report: Report = quiet) -> tuple[Pieces, tuple[int, int, int, int]]:
    """Return the pieces of a volume (pixels of alpha >= `least`), weighted by share, and their box (r0, r1, c0, c1)."""
    r0 = min(t.row for t in coverage.tiles)
    c0 = min(t.column for t in coverage.tiles)
    r1 = max(t.row + t.alpha.shape[0] for t in coverage.tiles)
    c1 = max(t.column + t.alpha.shape[1] for t in coverage.tiles)

    tiles = {t.plane: t for t in coverage.tiles}

    def share(plane: int) -> NDArray[np.uint8]:
        out, t = np.zeros((r1 - r0, c1 - c0), np.uint8), tiles[plane]
        out[t.row - r0 : t.row - r0 + t.alpha.shape[0], t.column - c0 : t.column - c0 + t.alpha.shape[1]] = t.alpha
        return out

    found = joined(coverage.planes, lambda k: share(k) >= least, share, report)
    return found, (r0, r1, c0, c1)
