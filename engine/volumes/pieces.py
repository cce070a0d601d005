"""Connected pieces of a stack of slices, found slice by slice and joined where they overlap."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.volumes.coverage import Coverage


@dataclass(frozen=True)
class Pieces:
    """Labels of each slice (0 = outside, one number per piece and slice) and the piece of each label.

    Attributes
    ----------
    planes : plane of each slice
    labels : int32 arrays, one per slice
    piece : label -> piece number from 1; entry 0 is 0
    weight : summed weight of each piece (pixels by default), entry 0 is 0
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
        return np.asarray(keep[self.piece[self.labels[index]]])


def joined(
    planes: Sequence[int],
    mask_of: Callable[[int], NDArray[np.bool_]],
    weight_of: Callable[[int], NDArray[np.generic]] | None = None,
    report: Report = quiet,
) -> Pieces:
    """Find the connected pieces of a stack: pixels join over sides and corners, slices where pixels overlie.

    Parameters
    ----------
    planes : ascending; only neighbours in number join
    mask_of, weight_of : called with a plane; slices all have one shape
    """
    from scipy import ndimage
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    labels: list[NDArray[np.int32]] = []
    pairs: list[NDArray[np.int64]] = []
    sums: list[NDArray[np.float64]] = [np.zeros(1)]
    total = 0
    for i, plane in enumerate(planes):
        found, count = ndimage.label(mask_of(plane), structure=np.ones((3, 3), dtype=int))
        own = found.astype(np.int32)
        weights = None if weight_of is None else weight_of(plane).ravel()
        sums.append(np.bincount(own.ravel(), weights=weights, minlength=count + 1)[1:].astype(np.float64))
        own[own > 0] += total
        if i and planes[i - 1] == plane - 1:
            both = (own > 0) & (labels[-1] > 0)
            code = labels[-1][both].astype(np.int64) * (1 << 31) + own[both]
            # Runs along the rows say the same again and again: sort each run once.
            code = np.unique(code[np.flatnonzero(np.diff(code, prepend=-1))])
            pairs.append(np.stack((code >> 31, code & ((1 << 31) - 1))))
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


def pieces_of(coverage: Coverage, least: int = 1) -> tuple[Pieces, tuple[int, int, int, int]]:
    """Return the pieces of a volume (pixels of alpha >= `least`), weighted by share, and their box (r0, r1, c0, c1)."""
    r0 = min(t.row for t in coverage.tiles)
    c0 = min(t.column for t in coverage.tiles)
    r1 = max(t.row + t.alpha.shape[0] for t in coverage.tiles)
    c1 = max(t.column + t.alpha.shape[1] for t in coverage.tiles)

    def share(plane: int) -> NDArray[np.uint8]:
        return coverage.slice(plane)[r0:r1, c0:c1]

    found = joined(coverage.planes, lambda k: share(k) >= least, lambda k: share(k).astype(np.float64) / 255.0)
    return found, (r0, r1, c0, c1)
