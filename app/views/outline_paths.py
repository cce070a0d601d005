"""Painter paths of volumes on planes, in in-plane mm, remembered as long as the coverage they come from is in use."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable
from typing import Any

import numpy as np
import shiboken6
from numpy.typing import NDArray
from PySide6.QtGui import QPainterPath, QPolygonF

from app.core import warm
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage

KEPT = 600


def polygon(points: NDArray[np.float64]) -> QPolygonF:
    """Return (n, 2) points as a polygon, without a loop over them."""
    n = len(points)
    out = QPolygonF()
    out.resize(n)
    if n:
        buffer = shiboken6.VoidPtr(out.data(), n * 16, True)
        np.frombuffer(buffer, dtype=np.float64).reshape(n, 2)[:] = points
    return out


def path_of(lines: Iterable[NDArray[np.float64]], axis: str, grid: Grid) -> QPainterPath:
    """Return closed (row, column) lines of a plane as one path in in-plane mm.

    For axis "z" rows run along y and columns along x; for "x" and "y" rows are planes and columns run along y and x.
    """
    (ox, oy, oz), (sx, sy, sz) = grid.origin_mm, grid.spacing_mm
    rows, columns = {"z": ((oy, sy), (ox, sx)), "x": ((oz, sz), (oy, sy)), "y": ((oz, sz), (ox, sx))}[axis]
    out = QPainterPath()
    for line in lines:
        mm = np.empty((len(line), 2))
        mm[:, 0] = columns[0] + line[:, 1] * columns[1]
        mm[:, 1] = rows[0] + line[:, 0] * rows[1]
        out.addPolygon(polygon(mm))
        out.closeSubpath()
    return out


class OutlinePaths:
    """Remembers the paths last asked for; entries hold their coverage, so an id is never used twice.

    While the kernels are made ready nothing is shown, unless every path must be there (`complete`: what is signed).
    """

    def __init__(self, complete: bool = False) -> None:
        self._complete = complete
        self._kept: OrderedDict[tuple[int, str, int], tuple[Any, QPainterPath]] = OrderedDict()

    def path(self, coverage: Coverage, axis: str, index: int) -> QPainterPath:
        """Return the outline of a coverage on one plane."""
        source: Any = coverage.tile(index) if axis == "z" else coverage
        if source is None:
            return QPainterPath()
        if warm.pending(warm.OUTLINES) and not self._complete:
            return QPainterPath()
        key = (id(source), axis, index)
        found = self._kept.get(key)
        if found is None:
            found = (source, self._make(coverage, axis, index))
            self._kept[key] = found
            if len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        else:
            self._kept.move_to_end(key)
        return found[1]

    @staticmethod
    def _make(coverage: Coverage, axis: str, index: int) -> QPainterPath:
        from engine.volumes.outline import outlines, section

        if axis == "z":
            tile = coverage.tile(index)
            return (
                QPainterPath() if tile is None else path_of(outlines(tile.alpha, tile.row, tile.column), "z", coverage.grid)
            )
        if coverage.is_empty:
            return QPainterPath()
        return path_of(outlines(section(coverage, axis, index), 0, 0), axis, coverage.grid)


def path_of_plane(alpha: NDArray[np.uint8], box: tuple[int, int, int, int], axis: str, grid: Grid) -> QPainterPath:
    """Return the outline of the part `box` (rows r0..r1, columns c0..c1) of a plane."""
    from engine.volumes.outline import outlines

    r0, r1, c0, c1 = box
    if r1 <= r0 or c1 <= c0:
        return QPainterPath()
    return path_of(outlines(alpha[r0:r1, c0:c1], r0, c0), axis, grid)
