"""The title of a sum of drafts where there is little room."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF


def fitted_title(plan: Any, metrics: QFontMetricsF, room: float) -> str:
    """Return "sum of A and B" with names cut, not the words between them, where it is too long."""
    title = str(plan.title())
    if metrics.horizontalAdvance(title) <= room:
        return title
    left = room - metrics.horizontalAdvance(plan.title(lambda name: ""))
    widths: dict[str, float] = {}
    # Short names stay whole; the long ones share what they leave.
    for i, name in enumerate(sorted(plan.names, key=metrics.horizontalAdvance)):
        widths[name] = max(24.0, min(metrics.horizontalAdvance(name) + 1, left / (len(plan.names) - i)))
        left -= widths[name]
    return str(plan.title(lambda name: metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, widths[name])))
