"""Range brush: paints only pixels whose CT number lies in a range."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from app.tools.brush import Brush
from engine.volumes import paint
from engine.volumes.planes import plane_of


class RangeBrush(Brush):
    """A brush that keeps to CT numbers between two settings."""

    name = "range"

    def range_mask(self, view: Any, axis: str, index: int) -> NDArray[np.bool_]:
        settings = self.context.settings
        low, high = settings.get("range/low_hu"), settings.get("range/high_hu")
        return paint.level_range(plane_of(view.stage.image.hu, axis, index), min(low, high), max(low, high))
