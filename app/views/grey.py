"""CT numbers to grey: window presets, look-up table and the picture of one plane."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QT_TRANSLATE_NOOP
from PySide6.QtGui import QImage

from engine.image.ct import CtImage


@dataclass(frozen=True)
class Preset:
    """A named level and width in HU (common practice)."""

    name: str
    level: float
    width: float


PRESETS = (
    Preset(QT_TRANSLATE_NOOP("Preset", "Soft tissue"), 40, 400),
    Preset(QT_TRANSLATE_NOOP("Preset", "Lung"), -600, 1500),
    Preset(QT_TRANSLATE_NOOP("Preset", "Bone"), 400, 1800),
    Preset(QT_TRANSLATE_NOOP("Preset", "Brain"), 40, 80),
    Preset(QT_TRANSLATE_NOOP("Preset", "Wide"), 0, 2000),
)


def look_up(level: float, width: float) -> NDArray[np.uint8]:
    """Return the grey of every int16 CT number, indexed by its bits as uint16."""
    numbers = np.arange(65536, dtype=np.uint16).view(np.int16).astype(np.float32)
    return np.clip((numbers - (level - width / 2)) * (255.0 / max(width, 1.0)), 0, 255).astype(np.uint8)


def plane_numbers(image: CtImage, axis: str, index: int) -> NDArray[Any]:
    """Return the CT numbers of a plane as it lies on screen: rows from top to bottom."""
    if axis == "z":
        return image.hu[index]
    return image.hu[::-1, :, index] if axis == "x" else image.hu[::-1, index, :]


def picture(numbers: NDArray[Any], table: NDArray[np.uint8]) -> QImage:
    """Return an 8-bit grey picture that owns its pixels."""
    grey = np.ascontiguousarray(table[np.ascontiguousarray(numbers).view(np.uint16)])
    rows, columns = grey.shape
    return QImage(grey.data, columns, rows, columns, QImage.Format.Format_Grayscale8).convertToFormat(
        QImage.Format.Format_RGB32
    )
