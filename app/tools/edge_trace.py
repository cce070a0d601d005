"""Edge trace: between two clicks the line keeps to the strongest edge of the image."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from app.tools.polygon import Polygon
from engine.volumes import paint
from engine.volumes.planes import pixel_mm, plane_of

FARTHEST_PX = 160


class EdgeTrace(Polygon):
    """A polygon whose legs follow edges; beyond FARTHEST_PX pixels a leg stays straight, so that the hand never waits."""

    name = "trace"

    def leg(self, view: Any, a: tuple[float, float], b: tuple[float, float]) -> list[tuple[float, float]]:
        if max(abs(a[0] - b[0]), abs(a[1] - b[1])) > FARTHEST_PX or a == b:
            return [b]
        hu = plane_of(view.stage.image.hu, *self.layer.plane)
        path = rounded(paint.edge_trace(hu, a, b, margin_px=24, pixel_mm=pixel_mm(view.stage.grid, self.layer.plane[0])))
        return [*((float(r), float(c)) for r, c in path[1:-1]), b]


def rounded(path: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return a path of pixel steps without its staircase: a running mean of five points, its ends kept."""
    if len(path) < 7:
        return path
    kernel = np.full(5, 0.2)
    inner = np.stack([np.convolve(path[:, i], kernel, mode="valid") for i in (0, 1)], axis=1)
    return np.concatenate((path[:1], inner, path[-1:]))
