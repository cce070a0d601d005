"""How a dose looks: one ramp from dark to light, and line weights and dashes that say the same without colour.

The ramp was sampled at equal steps of lightness (0.60 to 0.95 in the OKLab space of B. Ottosson, 2020) along a turn of
hue from violet over rose to pale yellow, at the chroma the screen allows: lightness rises with dose everywhere, so the
order survives every colour-vision deficiency and a grey print. Its dark end still stands out from the stage's ground by
more than 4.5 to 1; on bone and air alike a dark casing sets the lines off.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

STOPS: tuple[tuple[int, int, int], ...] = (
    (143, 98, 220), (188, 98, 208), (224, 103, 189), (255, 113, 159), (255, 146, 143),
    (255, 173, 141), (255, 196, 146), (255, 218, 155), (255, 241, 155),
)  # fmt: skip
TOP_PERCENT = 110.0
LEAST_AT_REST = 1.6  # px; while lines move, low levels are thinner, which is drawn faster


@lru_cache(maxsize=1)
def ramp() -> NDArray[np.uint8]:
    """Return the ramp as 256 rows of red, green, blue."""
    at = np.linspace(0, 255, len(STOPS))
    stops = np.array(STOPS, dtype=np.float64)
    return np.stack([np.interp(np.arange(256), at, stops[:, i]) for i in range(3)], axis=1).round().astype(np.uint8)


def ink(percent: float) -> QColor:
    """Return the colour of a dose in percent of the prescription."""
    i = int(min(max(percent / TOP_PERCENT, 0.0), 1.0) * 255)
    return QColor(*(int(c) for c in ramp()[i]))


def stroke(percent: float) -> tuple[float, list[float]]:
    """Return line width in px and dash pattern (in units of the width; [] = unbroken) of an isodose level.

    The prescription is the one thick unbroken line; above it dots and dashes alternate, below it the breaks grow
    with the distance from it. Low levels are long lines, so they are one pixel wide, which is also drawn fastest.
    """
    if abs(percent - 100.0) < 0.05:
        return 2.8, []
    if percent > 100.0:
        return 1.8, [6.0, 2.0, 1.0, 2.0]
    if percent >= 90.0:
        return 1.8, []
    if percent >= 70.0:
        return 1.3, [9.0, 3.0]
    if percent >= 40.0:
        return 1.0, [6.0, 4.0]
    return 1.0, [3.0, 4.0]


@lru_cache(maxsize=64)
def pen(percent: float) -> QPen:
    """Return the pen of an isodose level, its width in pixels whatever the magnification; copy it before changing it."""
    width, dashes = stroke(percent)
    out = QPen(ink(percent), width)
    out.setCosmetic(True)
    out.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashes:
        out.setDashPattern(dashes)
    return out


@lru_cache(maxsize=64)
def pen_at_rest(percent: float) -> QPen:
    """Return the pen of an isodose level for pictures that stand still: low levels are as wide as their casing expects."""
    out = QPen(pen(percent))
    if out.widthF() < LEAST_AT_REST:
        out.setDashPattern([d * out.widthF() / LEAST_AT_REST for d in out.dashPattern()])
        out.setWidthF(LEAST_AT_REST)
    return out


@lru_cache(maxsize=64)
def casing(percent: float) -> QPen:
    """Return the dark pen that is drawn under the pen of an isodose level: under its dashes only, not between them."""
    drawn, dashes = stroke(percent)
    width = max(drawn, LEAST_AT_REST)
    out = QPen(QColor(8, 9, 11, 150), width + 1.4)
    out.setCosmetic(True)
    out.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashes:
        out.setDashPattern([d * drawn / out.widthF() for d in dashes])
    return out


def wash_table(alpha: int) -> NDArray[np.uint8]:
    """Return 256 premultiplied BGRA rows of the ramp for a dose wash; the first is clear."""
    out = np.empty((256, 4), dtype=np.uint8)
    out[:, :3] = (ramp()[:, ::-1].astype(np.uint16) * alpha // 255).astype(np.uint8)
    out[:, 3] = alpha
    out[0] = 0
    return out
