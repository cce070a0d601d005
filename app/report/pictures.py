"""The contact sheet's pictures, drawn from the plan and encoded for the record."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from PySide6.QtGui import QImage

from app.core.language import translated
from app.report.beam_picture import draw_beam
from app.report.chart_pictures import draw_dvh, draw_goals
from app.report.paper import png
from app.report.plane_picture import draw_plane
from engine.base.progress import Report, quiet
from engine.base.values import frozen_array
from engine.case.case import Case, Draft
from engine.review.record import Picture
from engine.review.sheet import Item

WIDTH, HEIGHT = 960, 720


def draw(
    item: Item, case: Case, draft: Draft, now: Any, width: int = WIDTH, height: int = HEIGHT, radiograph: Any = None
) -> QImage:
    """Return the picture of one item of the contact sheet; a beam's-eye view takes the radiograph made for it."""
    if item.kind == "plane":
        return draw_plane(item, case, draft, now, width, height)
    if item.kind == "beam":
        return draw_beam(item, case, draft, width, height, radiograph)
    return (draw_dvh if item.kind == "dvh" else draw_goals)(item, case, draft, now, width, height)


def encoded(item: Item, image: QImage) -> Picture:
    """Return a drawn item as it goes on the record."""
    return Picture(item.title, item.place, frozen_array(np.frombuffer(png(image), dtype=np.uint8)))


def pictures(items: Sequence[Item], case: Case, draft: Draft, now: Any, report: Report = quiet) -> tuple[Picture, ...]:
    """Return every item drawn and encoded as PNG."""
    out = []
    for i, item in enumerate(items):
        report(i / max(1, len(items)), translated(item.title))
        out.append(encoded(item, draw(item, case, draft, now)))
    return tuple(out)
