"""Isocentre, set-up point, how the couch goes from one to the other, and the room around the head of the machine."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, QTimer
from PySide6.QtWidgets import QGridLayout, QLabel, QMenu, QPushButton, QSizePolicy, QWidget

from app.core.plan_desk import PlanDesk
from app.panels.bare_box import bare
from app.panels.number_box import NumberBox
from app.panels.places import offer_places
from app.panels.point_list import PointList
from engine.beams.beam import Beam
from engine.case.case import Case

Point = tuple[float, float, float]

REACH_MM = 2000.0
NO_PLACE_MM = -REACH_MM - 0.1  # stands for no point in a box


class BeamSetup(QWidget):
    """Coordinates are those of the image: +x to the patient's left, +y to the back, +z to the head."""

    def __init__(self, desk: PlanDesk) -> None:
        super().__init__()
        self._workspace, self._beams = desk.workspace, desk.beams
        self.isocentre = [self._box(self.tr("Isocentre"), axis) for axis in "xyz"]
        self.marker = [self._unset(self._box(self.tr("Set-up point"), axis), axis) for axis in "xyz"]
        self.to = QPushButton(self.tr("Put at"))
        self.to.setToolTip(self.tr("The isocentre of all beams: at the cross-hair or in the middle of a volume"))
        self.here = QPushButton(self.tr("Put at"))
        self.here.setToolTip(self.tr("The point the patient is set up to: at the cross-hair, at a marker, at an isocentre"))
        for button, fill in ((self.to, self._fill), (self.here, self._fill_here)):
            menu = QMenu(self)
            menu.aboutToShow.connect(fill)
            button.setMenu(menu)
        self.couch, self.room = QLabel(), QLabel()
        for label in (self.couch, self.room):
            label.setWordWrap(True)
            label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._soon = QTimer(self, singleShot=True, interval=120)
        self._soon.timeout.connect(self._tell_room)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 8, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(8)
        rows = (
            (self.tr("Isocentre"), self.isocentre, self.to),
            (self.tr("Set-up point"), self.marker, self.here),
        )
        for row, (name, boxes, button) in enumerate(rows):
            label = QLabel(name)
            label.setObjectName("quiet")
            grid.addWidget(label, row, 0)
            for column, box in enumerate(boxes, 1):
                grid.addWidget(box, row, column)
            grid.addWidget(button, row, 4)
        for row, (name, said) in enumerate(((self.tr("Couch"), self.couch), (self.tr("Room"), self.room)), 2):
            label = QLabel(name)
            label.setObjectName("quiet")
            grid.addWidget(label, row, 0)
            grid.addWidget(said, row, 1, 1, 4)
        self.points = PointList(self._workspace)
        grid.addWidget(self.points.label, 4, 0)
        grid.addWidget(self.points, 4, 1, 1, 4)
        self.points.take()
        grid.setColumnStretch(4, 1)
        grid.setRowStretch(5, 1)
        for n in range(3):
            self.isocentre[n].editingFinished.connect(self._typed_isocentre)
            self.marker[n].editingFinished.connect(self._typed_marker)
        self._workspace.case_changed.connect(self._take)
        self._workspace.active_changed.connect(self._take)
        self._take()

    def _box(self, what: str, axis: str) -> NumberBox:
        box = NumberBox(decimals=1, minimum=-REACH_MM, maximum=REACH_MM)
        box.setPrefix(f"{axis} ")
        bare(box)
        box.setFixedWidth(74)
        box.setAccessibleName(f"{what}, {axis}, mm")
        box.setToolTip(self.tr("mm in the patient: +x left, +y back, +z head"))
        return box

    def _unset(self, box: NumberBox, axis: str) -> NumberBox:
        """Let a box say that there is no point yet: nought would be a place."""
        box.setMinimum(NO_PLACE_MM)
        box.setSpecialValueText(f"{axis} –")
        return box

    def _fill(self) -> None:
        offer_places(self.to.menu(), self._workspace, self._put_isocentre, "isocentre")

    def _fill_here(self) -> None:
        menu = self.here.menu()
        offer_places(menu, self._workspace, lambda at, _: self._set_marker(at), "set-up point")
        if self._marker() is not None:
            menu.addSeparator()
            menu.addAction(self.tr("Remove the set-up point")).triggered.connect(lambda *_: self._set_marker(()))

    def _put_isocentre(self, place_mm: tuple[float, float, float], name: str) -> None:
        self._beams.set_isocentre(place_mm, text=self.tr("Isocentre: {0}").format(name))

    def _typed_isocentre(self) -> None:
        beam, wanted = self._workspace.beam, tuple(b.value() for b in self.isocentre)
        if beam is not None and any(abs(a - b) > 0.051 for a, b in zip(wanted, beam.isocentre_mm, strict=True)):
            self._beams.set_isocentre(wanted)

    def _typed_marker(self) -> None:
        """Take over what was typed; coordinates that are not typed yet are nought."""
        typed, held = [b.value() for b in self.marker], self._marker()
        if all(v == NO_PLACE_MM for v in typed):
            if held is not None:
                self._set_marker(())
            return
        x, y, z = (0.0 if v == NO_PLACE_MM else v for v in typed)
        if held is None or any(abs(a - b) > 0.051 for a, b in zip((x, y, z), held, strict=True)):
            self._set_marker((x, y, z))

    def _marker(self) -> Point | None:
        draft = self._workspace.draft
        return draft.marker_mm if draft is not None and draft.marker_mm else None

    def _set_marker(self, point_mm: Point | tuple[()]) -> None:
        draft = self._workspace.draft
        if draft is None:
            return
        if not point_mm:
            self._workspace.edit_draft(self.tr("Remove the set-up point"), draft.but(marker_mm=()))
            return
        x, y, z = (round(float(v), 2) for v in point_mm)
        self._workspace.edit_draft(self.tr("Set-up point"), draft.but(marker_mm=(x, y, z)))

    def _take(self, *_: object) -> None:
        case, beam = self._workspace.case, self._workspace.beam
        self.setEnabled(case is not None and beam is not None)
        if case is None or beam is None:
            return
        for boxes, point in ((self.isocentre, beam.isocentre_mm), (self.marker, self._marker() or (NO_PLACE_MM,) * 3)):
            for box, value in zip(boxes, point, strict=True):
                if not box.hasFocus() or abs(box.value() - value) > 0.051:
                    with QSignalBlocker(box):
                        box.setValue(value)
        self._tell_couch(case, beam)
        self._soon.start()

    def _tell_couch(self, case: Case, beam: Beam) -> None:
        from engine.beams.couch import couch_move

        marker = self._marker()
        if marker is None:
            self.couch.setText(self.tr("Give the set-up point, and the couch's way from it to the isocentre stands here."))
            return
        move = couch_move(marker, beam.isocentre_mm, case.image.patient_position)
        words = self.tr("vertical {0}, longitudinal {1}, lateral {2} mm").format(
            *(f"{v:+.1f}".replace("-", "−") for v in (move.vertical_mm, move.longitudinal_mm, move.lateral_mm))
        )
        self.couch.setText(words)
        self.couch.setToolTip(self.tr("IEC 61217, couch at 0°: up, towards the gantry, to the right of who faces it"))

    def _tell_room(self) -> None:
        from engine.beams.clearance import NEAR_MM, clearance

        case, beam = self._workspace.case, self._workspace.beam
        if case is None or beam is None or not self.isVisible():
            return
        body = case.body
        found = clearance(beam, body.coverage, case.machine(beam.machine), case.image.patient_position) if body else None
        if found is None:
            self.room.setText(self.tr("Without a body outline nothing is known."))
            return
        what = self.tr("the body") if found.what == "body" else self.tr("the couch")
        if found.distance_mm < NEAR_MM:
            words = self.tr("Look before you turn: {0} mm between head and {1} at {2}°.")
        else:
            words = self.tr("{0} mm between head and {1} at {2}°.")
        self.room.setText(words.format(f"{found.distance_mm:.0f}", what, f"{found.gantry_deg:g}"))
        self.room.setToolTip(self.tr("Head and couch have the sizes of the machine file, typical and not verified"))

    def showEvent(self, event: object) -> None:
        self._soon.start()
