"""Loops of one plane -> closed lines without nesting: a hole is joined to its outer line by a channel of no width."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

Points = NDArray[np.float64]


def keyholes(loops: Sequence[Points]) -> list[Points]:
    """Return lines that mean the same as nested loops read by the even-odd rule, none inside another's hole.

    A hole becomes part of its outer line through a channel between their nearest points, as PS3.3 C.8.8.6.3 describes
    for an inner void; an island inside a hole is a line of its own.

    Parameters
    ----------
    loops : (n, 3) points of closed lines of one plane that do not cross; first point not repeated
    """
    solid = [loop for loop in loops if len(loop) >= 3]
    depth = [sum(_inside(a, b) for b in solid if b is not a) for a in solid]
    out: list[Points] = []
    for i, loop in enumerate(solid):
        if depth[i] % 2:
            continue
        holes = [h for j, h in enumerate(solid) if depth[j] == depth[i] + 1 and _inside(h, loop)]
        out.append(_joined(loop, holes))
    return out


def nested(loops: Sequence[Points]) -> bool:
    """Whether one loop of a plane lies inside another."""
    return any(_inside(a, b) for a in loops for b in loops if a is not b and len(a) >= 3 and len(b) >= 3)


def _inside(loop: Points, outer: Points) -> bool:
    """Whether the first point of `loop` lies inside `outer` (even-odd)."""
    x, y = loop[0, :2]
    px, py = outer[:, 0], outer[:, 1]
    qx, qy = np.roll(px, -1), np.roll(py, -1)
    crosses = (py > y) != (qy > y)
    if not crosses.any():
        return False
    at = px[crosses] + (y - py[crosses]) / (qy[crosses] - py[crosses]) * (qx[crosses] - px[crosses])
    return bool(np.count_nonzero(at > x) % 2)


def _joined(outer: Points, holes: list[Points]) -> Points:
    """Take the nearest hole first, so that no channel crosses another hole."""
    line, left = outer, list(holes)
    while left:
        best = min(range(len(left)), key=lambda j: _nearest(line, left[j])[0])
        hole = left.pop(best)
        _, i, j = _nearest(line, hole)
        turned = np.concatenate((hole[j:], hole[: j + 1]))
        line = np.concatenate((line[: i + 1], turned, line[i:]))
    return line


def _nearest(a: Points, b: Points) -> tuple[float, int, int]:
    """Return the least distance between points of two lines, and their indices."""
    distance, index = cKDTree(a[:, :2]).query(b[:, :2])
    j = int(np.argmin(distance))
    return float(distance[j]), int(index[j]), j
