"""Sentences that stand in more than one place."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication


def caution() -> str:
    """Return the line that stands at the foot of every window and page."""
    return QCoreApplication.translate(
        "Caution",
        "For research and education; not a medical device. Every plan must be checked by qualified, licensed staff "
        "under local rules before it is used for anything.",
    )
