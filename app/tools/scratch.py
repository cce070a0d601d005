"""What a gesture works on: a copy of one plane, or of the slices a ball touches, until it is kept or dropped."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from app.core.guard import Guard
from engine.case import edits
from engine.volumes.coverage import Coverage

Box = tuple[int, int, int, int]
Slice = NDArray[np.uint8]


class Scratch:
    """A writable copy of one plane of the active volume, shown in its place. `raw` is what the hand did, `alpha` what the
    guard lets through; without a guard they are one array.
    """

    def __init__(self, context: Any, axis: str, plane: int, guard: Guard | None = None) -> None:
        from engine.volumes.planes import slice_of

        self._context = context
        self.axis, self.plane = axis, plane
        self.volume = context.workspace.volume
        self.before: Slice = slice_of(self.volume.coverage, self.axis, self.plane)
        self.allowed = guard.allowed(self.axis, self.plane) if guard is not None else None
        self.alpha: Slice = self.before.copy()
        self.raw: Slice = self.alpha if self.allowed is None else self.before.copy()
        self.box = _box(self.alpha)
        if self.volume.key in context.workspace.hidden:
            context.workspace.show_volume(self.volume.key, True)

    def touched(self, dirty: Box) -> None:
        """Show a part of `raw` that was painted."""
        r0, r1, c0, c1 = dirty
        if r1 <= r0 or c1 <= c0:
            return
        if self.allowed is not None:
            from engine.volumes.guard import held

            part = np.s_[r0:r1, c0:c1]
            self.alpha[part] = held(self.before[part], self.raw[part], self.allowed[part])
        self._show(dirty)

    def replace(self, data: Slice) -> None:
        """Show another plane in place of the scratch."""
        if self.allowed is not None:
            from engine.volumes.guard import held

            self.raw, self.alpha = data, held(self.before, data, self.allowed)
        else:
            self.raw = self.alpha = data
        self.box = _box(self.alpha)
        self._context.stage.active.show_scratch(self.axis, self.plane, self.alpha, self.box, None)

    def combine(self, shape: Slice, subtract: bool) -> None:
        """Show the plane with a shape added or taken away."""
        self.replace(np.minimum(self.before, 255 - shape) if subtract else np.maximum(self.before, shape))

    def made(self, coverage: Coverage) -> Coverage:
        """Return a coverage with what was done here."""
        from engine.volumes.planes import with_plane

        if np.array_equal(self.alpha, self.before):
            return coverage
        return with_plane(coverage, self.axis, self.plane, self.alpha)

    def keep(self, words: str) -> None:
        """Make it one undoable step."""
        workspace = self._context.workspace
        case = workspace.case
        volume = case.volume(self.volume.key) if case is not None else None
        if volume is not None:
            coverage = self.made(volume.coverage)
            if coverage is not volume.coverage:
                workspace.edit(words.format(volume.name), edits.with_volume(case, volume.with_coverage(coverage)))
        self.drop()

    def drop(self) -> None:
        """Show the volume itself again."""
        self._context.stage.active.end_scratch()

    def _show(self, dirty: Box) -> None:
        a, d = self.box, dirty
        self.box = d if a[1] <= a[0] else (min(a[0], d[0]), max(a[1], d[1]), min(a[2], d[2]), max(a[3], d[3]))
        self._context.stage.active.show_scratch(self.axis, self.plane, self.alpha, self.box, dirty)


class BallScratch(Scratch):
    """The axial slices a ball has touched so far; the plane under the hand shows its cut through them."""

    def __init__(self, context: Any, axis: str, plane: int, guard: Guard | None = None) -> None:
        super().__init__(context, axis, plane, guard)
        self._guard = guard
        self._grid = self.volume.coverage.grid
        self._slices: dict[int, tuple[Slice, Slice, Slice, Slice | None]] = {}

    def sweep(
        self,
        start_mm: tuple[float, float, float],
        stop_mm: tuple[float, float, float],
        radius_mm: float,
        erase: bool,
        only: Callable[[int], NDArray[np.bool_] | None],
    ) -> None:
        """Sweep the ball between two points; `only` gives the pixels of a slice that may change."""
        from engine.volumes.ball import planes_of_ball, sweep_ball
        from engine.volumes.guard import held

        union: Box | None = None
        for k in planes_of_ball(self._grid, start_mm, stop_mm, radius_mm):
            before, raw, alpha, allowed = self._slice(k)
            r0, r1, c0, c1 = sweep_ball(raw, k, self._grid, start_mm, stop_mm, radius_mm, erase, only(k))
            if r1 <= r0:
                continue
            part = np.s_[r0:r1, c0:c1]
            if allowed is not None:
                alpha[part] = held(before[part], raw[part], allowed[part])
            if self.axis == "z":
                dirty = (r0, r1, c0, c1) if k == self.plane else None
            elif self.axis == "x":
                dirty = (k, k + 1, r0, r1) if c0 <= self.plane < c1 else None
            else:
                dirty = (k, k + 1, c0, c1) if r0 <= self.plane < r1 else None
            if dirty is not None:
                self.alpha[dirty[0] : dirty[1], dirty[2] : dirty[3]] = self._cut(k, alpha, dirty)
                u = union or dirty
                union = (min(u[0], dirty[0]), max(u[1], dirty[1]), min(u[2], dirty[2]), max(u[3], dirty[3]))
        if union is not None:
            self._show(union)

    def made(self, coverage: Coverage) -> Coverage:
        changed = [(k, alpha) for k, (before, _, alpha, _) in self._slices.items() if not np.array_equal(alpha, before)]
        return coverage.with_slices(changed) if changed else coverage

    def _slice(self, k: int) -> tuple[Slice, Slice, Slice, Slice | None]:
        if k not in self._slices:
            before = self.volume.coverage.slice(k)
            allowed = self._guard.allowed("z", k) if self._guard is not None else None
            alpha = before.copy()
            self._slices[k] = (before, alpha if allowed is None else before.copy(), alpha, allowed)
        return self._slices[k]

    def _cut(self, k: int, alpha: Slice, box: Box) -> Slice:
        _, _, a, b = box
        if self.axis == "z":
            return alpha[box[0] : box[1], a:b]
        return (alpha[a:b, self.plane] if self.axis == "x" else alpha[self.plane, a:b])[None, :]


def _box(alpha: Slice) -> Box:
    """Return the box of what is touched, all zero if nothing is."""
    rows = np.flatnonzero(alpha.any(axis=1))
    if rows.size == 0:
        return (0, 0, 0, 0)
    columns = np.flatnonzero(alpha.any(axis=0))
    return int(rows[0]), int(rows[-1]) + 1, int(columns[0]), int(columns[-1]) + 1
