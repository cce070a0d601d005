"""The demonstration patients: what they are called."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication


def demonstrations() -> tuple[tuple[str, str], ...]:
    """Return (name, words) of each demonstration patient."""
    return (
        ("thorax", QCoreApplication.translate("Demonstration", "Chest with a tumour in the lung")),
        ("head", QCoreApplication.translate("Demonstration", "Head and neck")),
        ("pelvis", QCoreApplication.translate("Demonstration", "Pelvis with a prostate")),
    )
