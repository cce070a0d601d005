"""A menu of places in the patient that already have a name."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QMenu

from app.core.workspace import Workspace

Point = tuple[float, float, float]


def _tr(text: str) -> str:
    return QCoreApplication.translate("Places", text)


def offer_places(menu: QMenu, workspace: Workspace, take: Callable[[Point, str], object], leave_out: str = "") -> None:
    """Fill a menu with places; the one that is chosen is given to ``take(place_mm, name)``.

    Parameters
    ----------
    leave_out : "isocentre" or "set-up point": what is to be placed itself
    """
    menu.clear()

    def offer(words: str, place_mm: Callable[[], Point], name: str) -> None:
        menu.addAction(words).triggered.connect(lambda *_: take(place_mm(), name))

    case, draft, beam = workspace.case, workspace.draft, workspace.beam
    offer(_tr("The cross-hair"), lambda: workspace.cursor_mm, _tr("Cross-hair"))
    if beam is not None and leave_out != "isocentre":
        offer(_tr("The isocentre"), lambda: beam.isocentre_mm, _tr("Isocentre"))
    if draft is not None and draft.marker_mm and leave_out != "set-up point":
        marker = draft.marker_mm
        offer(_tr("The set-up point"), lambda: marker, _tr("Set-up point"))
    if case is None:
        return
    for point in case.points:
        offer(_tr("{0} (from the structure set)").format(point.name), lambda p=point: p.place_mm, point.name)  # type: ignore[misc]
    for volume in case.volumes:
        middle = volume.coverage.centroid_mm()
        if middle is not None and volume.role not in ("SUPPORT", "BOLUS"):
            words = _tr("The middle of {0}").format(volume.name)
            offer(words, lambda at=middle: at, _tr("Middle of {0}").format(volume.name))  # type: ignore[misc]
