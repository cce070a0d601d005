"""The point the dose is normalised to: its name, where it lies, and where to take it from."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QMenu, QPushButton, QVBoxLayout, QWidget

from app.core.draft_edits import DraftEdits
from app.core.workspace import Workspace
from app.panels.bare_box import bare
from app.panels.number_box import NumberBox
from app.panels.places import offer_places
from engine.space.point import NamedPoint

REACH_MM = 2000.0
SHOWN_MM = 0.051  # boxes show tenths: what differs by less was not typed


class PointRow(QWidget):
    """Shown while the draft is normalised to a point. Coordinates are those of the image, in mm."""

    def __init__(self, workspace: Workspace, edits: DraftEdits, narrow: bool = False) -> None:
        super().__init__()
        self._workspace, self._edits = workspace, edits
        self.name = QLineEdit(maxLength=64)
        self.name.setAccessibleName(self.tr("Name of the point"))
        self.name.setToolTip(self.tr("What the point is called on the record and in the RT Plan"))
        self.name.editingFinished.connect(self._typed)
        self.boxes = [self._box(axis, narrow) for axis in "xyz"]
        self.at = QPushButton(self.tr("Put at"))
        self.at.setToolTip(self.tr("Take the cross-hair, the isocentre, a point of the structure set or a volume's middle"))
        menu = QMenu(self)
        menu.aboutToShow.connect(self.fill)
        self.at.setMenu(menu)
        self.go = QPushButton(self.tr("Show"))
        self.go.setToolTip(self.tr("Move the cross-hair to the point"))
        self.go.clicked.connect(self._show)
        upper, lower = QHBoxLayout(), QHBoxLayout()
        for widget in (self.name, self.at, self.go):
            upper.addWidget(widget, 1 if widget is self.name else 0)
        for box in self.boxes:
            lower.addWidget(box, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for row in (upper, lower):
            row.setSpacing(6)
            column.addLayout(row)
        self.hide()

    def _box(self, axis: str, narrow: bool) -> NumberBox:
        box = NumberBox(decimals=1, minimum=-REACH_MM, maximum=REACH_MM, suffix=self.tr(" mm"))
        box.setPrefix(f"{axis} ")
        bare(box)
        box.setMinimumWidth(60 if narrow else 80)
        box.setKeyboardTracking(False)
        box.setAccessibleName(self.tr("Point of the normalisation, {0}, mm").format(axis))
        box.setToolTip(self.tr("mm in the patient: +x left, +y back, +z head"))
        box.editingFinished.connect(self._typed)
        return box

    def fill(self) -> None:
        """List the places there are now."""
        offer_places(self.at.menu(), self._workspace, self._take_place)

    def take(self) -> None:
        """Show the draft's point, or nothing where the draft is normalised otherwise."""
        draft, point = self._workspace.draft, self._point()
        self.setVisible(draft is not None and draft.normalisation == "Point")
        if point is None:
            return
        with QSignalBlocker(self.name):
            self.name.setText(point.name)
        for box, value in zip(self.boxes, point.place_mm, strict=True):
            if not box.hasFocus() or abs(box.value() - value) > SHOWN_MM:
                with QSignalBlocker(box):
                    box.setValue(value)

    def _point(self) -> NamedPoint | None:
        draft = self._workspace.draft
        return draft.prescription.point if draft is not None and draft.prescription is not None else None

    def _take_place(self, place_mm: tuple[float, float, float], name: str) -> None:
        self._edits.normalise_at(name, place_mm)

    def _typed(self) -> None:
        point = self._point()
        typed = [box.value() for box in self.boxes]
        held = point.place_mm if point is not None else (0.0, 0.0, 0.0)
        x, y, z = (v if abs(v - h) > SHOWN_MM else h for v, h in zip(typed, held, strict=True))
        name = self.name.text().strip()
        if point is None or (x, y, z) != held or (name and name != point.name):
            self._edits.normalise_at(name or (point.name if point else self.tr("Point")), (x, y, z))

    def _show(self) -> None:
        point = self._point()
        if point is not None:
            self._workspace.set_cursor(point.place_mm)
