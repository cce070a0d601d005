"""The dose on each shown plane and its isodose paths, made once for every plan and plane."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from app.views.outline_paths import polygon
from engine.evaluation.isodose import lines

Line = NDArray[np.float64]


@dataclass
class LevelLines:
    """One isodose level on one plane: percent, dose, path and lines in in-plane mm; `turn` sets labels apart."""

    percent: float
    gy: float
    path: QPainterPath
    lines: list[Line]
    turn: int = 0

    @property
    def anchor_mm(self) -> QPointF | None:
        """Where the label sits: outward in a direction that turns from level to level."""
        return _anchor(max(self.lines, key=len), self.turn) if self.lines else None


@dataclass
class DosePlane:
    """The dose of one plane: Gy (rows, columns) and the in-plane mm of rows (v) and columns (u)."""

    gy: NDArray[np.float32]
    v_mm: NDArray[np.float64]
    u_mm: NDArray[np.float64]

    def at(self, u_mm: float, v_mm: float) -> tuple[float, float]:
        """Return dose (Gy) and the size of its gradient (Gy/mm) by linear interpolation; (nan, nan) outside."""
        du, dv = self.u_mm[1] - self.u_mm[0], self.v_mm[1] - self.v_mm[0]
        c, r = (u_mm - self.u_mm[0]) / du, (v_mm - self.v_mm[0]) / dv
        rows, columns = self.gy.shape
        if not (0 <= r <= rows - 1 and 0 <= c <= columns - 1):
            return float("nan"), float("nan")
        i, j = min(int(r), rows - 2), min(int(c), columns - 2)
        a, b = r - i, c - j
        q = self.gy[i : i + 2, j : j + 2].astype(np.float64)
        value = (q[0, 0] * (1 - b) + q[0, 1] * b) * (1 - a) + (q[1, 0] * (1 - b) + q[1, 1] * b) * a
        gu = ((q[0, 1] - q[0, 0]) * (1 - a) + (q[1, 1] - q[1, 0]) * a) / du
        gv = ((q[1, 0] - q[0, 0]) * (1 - b) + (q[1, 1] - q[0, 1]) * b) / dv
        return float(value), float(np.hypot(gu, gv))


class DosePlanes:
    """Keeps the planes and lines of the plan that is shown, one per axis."""

    def __init__(self) -> None:
        self._planes: dict[str, tuple[Any, float, DosePlane]] = {}
        self._levels: dict[str, tuple[Any, float, tuple[float, ...], float, list[LevelLines]]] = {}

    def plane(self, now: Any, axis: str, position_mm: float) -> DosePlane | None:
        """Return the dose of a plane of a plan, or None outside its grid."""
        kept = self._planes.get(axis)
        if kept is not None and kept[0] is now and kept[1] == position_mm:
            return kept[2]
        found = now.plane(axis, position_mm)
        if found is None or min(found[0].shape) < 2:
            return None
        made = DosePlane(*found)
        self._planes[axis] = (now, position_mm, made)
        return made

    def level_lines(
        self, now: Any, axis: str, position_mm: float, percents: tuple[float, ...], reference_gy: float
    ) -> list[LevelLines]:
        """Return the isodose lines of a plane at percentages of a reference dose, highest level first."""
        kept = self._levels.get(axis)
        if kept is not None and kept[0] is now and kept[1:4] == (position_mm, percents, reference_gy):
            return kept[4]
        plane = self.plane(now, axis, position_mm)
        made: list[LevelLines] = []
        if plane is not None and reference_gy > 0:
            gys = [p * reference_gy / 100.0 for p in percents]
            for i, (percent, gy, found) in enumerate(zip(percents, gys, lines(plane.gy, gys), strict=True)):
                made.append(_level(percent, gy, found, plane, i))
        self._levels[axis] = (now, position_mm, percents, reference_gy, made)
        return made


def _level(percent: float, gy: float, found: list[Line], plane: DosePlane, turn: int) -> LevelLines:
    if not found:
        return LevelLines(percent, gy, QPainterPath(), [])
    du, dv = plane.u_mm[1] - plane.u_mm[0], plane.v_mm[1] - plane.v_mm[0]
    rc = np.concatenate(found) if len(found) > 1 else found[0]
    mm = np.empty_like(rc)
    mm[:, 0] = plane.u_mm[0] + rc[:, 1] * du
    mm[:, 1] = plane.v_mm[0] + rc[:, 0] * dv
    path, pieces, start = QPainterPath(), [], 0
    for line in found:
        piece = mm[start : start + len(line)]
        start += len(line)
        pieces.append(piece)
        path.addPolygon(polygon(piece))
    return LevelLines(percent, gy, path, pieces, turn)


def _anchor(line: Line, turn: int) -> QPointF:
    """Return where on a line its label sits: outward in a direction that turns from level to level, so they stay apart."""
    middle = line.mean(axis=0)
    angle = np.deg2rad(-55.0 + 38.0 * turn)
    away = (line - middle) @ np.array([np.cos(angle), np.sin(angle)])
    u, v = line[int(np.argmax(away))]
    return QPointF(float(u), float(v))
