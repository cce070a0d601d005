"""Let the active beam turn while it delivers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from app.core.plan_desk import PlanDesk
from app.panels.bare_box import bare
from app.panels.number_box import NumberBox


class BeamArc(QWidget):
    """From where to where, which way, how often leaves are set; then around the target or with one opening."""

    def __init__(self, desk: PlanDesk, margins: Callable[[], Any]) -> None:
        super().__init__()
        self._workspace, self._beams, self._shapes, self._margins = desk.workspace, desk.beams, desk.shapes, margins
        self.start, self.stop = (
            self._angle(self.tr("First gantry angle"), 181.0),
            self._angle(self.tr("Last gantry angle"), 179.0),
        )
        self.way = QComboBox()
        self.way.setAccessibleName(self.tr("Which way the gantry turns"))
        self.way.addItem(self.tr("clockwise"), "CW")
        self.way.addItem(self.tr("anticlockwise"), "CC")
        self.way.setToolTip(self.tr("Seen by someone who faces the gantry; clockwise angles grow (IEC 61217)"))
        self.every = NumberBox(decimals=0, minimum=1.0, maximum=30.0, suffix="°")
        self.every.setValue(4.0)
        bare(self.every)
        self.every.setFixedWidth(44)
        self.every.setAccessibleName(self.tr("Degrees between control points"))
        self.around = QPushButton(self.tr("Arc around the target"))
        self.around.setToolTip(self.tr("Leaves follow the target's outline with the margins of Opening"))
        self.around.clicked.connect(lambda: self._make(self._margins()))
        self.same = QPushButton(self.tr("Arc with this opening"))
        self.same.setToolTip(self.tr("Jaws and leaves stay as they are shown"))
        self.same.clicked.connect(lambda: self._make(None))
        self.still = QPushButton(self.tr("Stand still"))
        self.still.setToolTip(self.tr("Make it a beam that stands still at the control point shown"))
        self.still.clicked.connect(self._shapes.make_still)
        self.point = QSlider(Qt.Orientation.Horizontal)
        self.point.setAccessibleName(self.tr("Control point shown"))
        self.point.valueChanged.connect(self._show)
        self.said = QLabel()
        self.said.setObjectName("quiet")
        self.said.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(8)
        for row in (
            (
                QLabel(self.tr("From")),
                self.start,
                QLabel(self.tr("to")),
                self.stop,
                self.way,
                QLabel(self.tr("every")),
                self.every,
            ),
            (self.around, self.same, self.still),
        ):
            line = QHBoxLayout()
            line.setSpacing(6)
            for widget in row:
                line.addWidget(widget)
            line.addStretch(1)
            column.addLayout(line)
        column.addWidget(self.said)
        column.addWidget(self.point)
        column.addStretch(1)
        self._workspace.case_changed.connect(self._take)
        self._workspace.active_changed.connect(self._take)
        self._beams.part_changed.connect(self._take)
        self._take()

    def _angle(self, name: str, value: float) -> NumberBox:
        box = NumberBox(circle=360.0, decimals=0, minimum=0.0, maximum=359.0, suffix="°")
        box.setWrapping(True)
        bare(box)
        box.setFixedWidth(56)
        box.setValue(value)
        box.setAccessibleName(name)
        box.setToolTip(self.tr("Degrees, IEC 61217"))
        return box

    def _make(self, margins: Any) -> None:
        self._shapes.make_arc(self.start.value(), self.stop.value(), self.way.currentData(), self.every.value(), margins)

    def _show(self, n: int) -> None:
        beam = self._workspace.beam
        if beam is not None:
            self._beams.show_part(beam.key, n)

    def _take(self, *_: object) -> None:
        beam = self._workspace.beam
        self.setEnabled(beam is not None)
        turning = beam is not None and beam.is_arc
        self.point.setVisible(turning)
        self.still.setEnabled(turning)
        if beam is None or not turning:
            self.said.setText(self.tr("This beam stands still. An arc gives its monitor units while the gantry turns."))
            return
        from engine.beams.arcs import span_deg

        n = self._beams.part_of(beam)
        with QSignalBlocker(self.point):
            self.point.setRange(0, len(beam.points) - 1)
            self.point.setValue(n)
        words = self.tr("{0} turns over {1}°. Control point {2} of {3}, gantry {4}°.")
        at = beam.points[n].gantry_deg
        self.said.setText(words.format(beam.name, f"{span_deg(beam):.0f}", n + 1, len(beam.points), f"{at:g}"))
