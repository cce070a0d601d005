"""Aim: prescription, isocentre, beams around the patient, beam's-eye view, apertures."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from app.core.context import Context
from app.panels.beam_arc import BeamArc
from app.panels.beam_devices import BeamDevices
from app.panels.beam_setup import BeamSetup
from app.panels.beam_shape import BeamShape
from app.panels.beams import BeamsPanel
from app.panels.dose_state import DoseState
from app.panels.number_box import NumberBox
from app.panels.pane import Pane
from app.panels.prescription import PrescriptionPanel
from app.stations.plan_stage import PlanStage
from app.stations.station import Station
from app.views.beam_view import BeamView
from app.views.room_view import RoomView


class Aim(Station):
    """Panels at the right of the stage; the ring on it."""

    name = "aim"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.title = self.tr("Aim")
        self.stage = PlanStage.of(context)
        desk = self.desk = self.stage.desk
        self.state = DoseState(desk.follower)
        self.prescription = PrescriptionPanel(context.workspace, desk.draft)
        self.prescription.outline_wanted.connect(lambda: context.go("outline"))
        self.beams = BeamsPanel(desk)
        self.view = BeamView(context.workspace, desk.pictures, desk.beams)
        self.room = RoomView(context.workspace, desk.room, desk.beams)
        eye = self._eye()
        self.devices = BeamDevices(context.workspace, desk.beams)
        self.shape = BeamShape(desk)
        self.arc = BeamArc(desk, lambda: self.shape.margins)
        self.setup = BeamSetup(desk)
        self.margin.valueChanged.connect(self.shape.set_margin)
        self.tabs = self._tabs()
        self.pane = Pane(self.state, self.tabs, eye, stretch=eye, spacing=10)
        self.pane.setMinimumWidth(430)
        self.pane.column.setContentsMargins(12, 12, 12, 12)
        self.stage.ring.signals.open_beam.connect(self._open_beam)
        self._actions = self._make_actions()

    @property
    def right_px(self) -> int:
        """Enough for the table of beams; on a large screen the beam's-eye view gets a good quarter."""
        return max(462, self.context.stage.window().width() * 27 // 100)

    def _tabs(self) -> QTabWidget:
        """Return the pages above the beam's-eye view; all as high as the highest, so that it stays where it is."""
        beams = QWidget()
        column = QVBoxLayout(beams)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.beams)
        column.addWidget(self.devices)
        column.addStretch(1)
        tabs = QTabWidget()
        tabs.setProperty("plain", True)
        for page, name in (
            (beams, self.tr("Beams")),
            (self.shape, self.tr("Opening")),
            (self.arc, self.tr("Arc")),
            (self.setup, self.tr("Set-up")),
            (self.prescription, self.tr("Prescription")),
        ):
            tabs.addTab(page, name)
        tabs.tabBar().setAccessibleName(self.tr("Pages of Aim"))
        tabs.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        return tabs

    def _eye(self) -> QWidget:
        """Return the beam's-eye view with its row of commands."""
        box = QWidget()
        self.margin = NumberBox(decimals=0, minimum=0.0, maximum=50.0, suffix=self.tr(" mm"))
        self.margin.setValue(self.desk.beams.margin_mm)
        self.margin.setAccessibleName(self.tr("Margin around the target"))
        self.fit = QPushButton(self.tr("Fit to target"))
        self.fit.setToolTip(self.tr("Jaws and leaves of this beam around the target with the margin"))
        self.fit.clicked.connect(lambda: self._fit(False))
        self.fit_all = QPushButton(self.tr("Fit all"))
        self.fit_all.clicked.connect(lambda: self._fit(True))
        row = QHBoxLayout()
        row.setSpacing(6)
        for widget in (self.fit, QLabel(self.tr("with")), self.margin, QLabel(self.tr("margin"))):
            row.addWidget(widget)
        row.addWidget(self.fit_all)
        row.addStretch(1)
        self.room_shown = QPushButton(self.tr("Room"), checkable=True)
        self.room_shown.setToolTip(self.tr("Show patient, volumes and beams in the room in place of the beam's-eye view"))
        row.addWidget(self.room_shown)
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(row)
        views = QStackedWidget()
        for widget in (self.view, self.room):
            views.addWidget(widget)
            widget.setMinimumHeight(150)
        self.room_shown.toggled.connect(lambda on: views.setCurrentIndex(int(on)))
        column.addWidget(views, 1)
        return box

    def _make_actions(self) -> list[object]:
        wanted = (
            (self.tr("Add beam"), "Ctrl+B", self.beams._add),
            (self.tr("Fit beam to target"), "Ctrl+F", lambda: self._fit(False)),
            (self.tr("Isocentre at target"), "", lambda: self.desk.beams.isocentre_at_target()),
            (self.tr("Isocentre at cursor"), "Ctrl+I", self._isocentre_here),
            (self.tr("Go to isocentre"), "Ctrl+G", self._go_to_isocentre),
        )
        return [*(_action(self, *w) for w in wanted), ring_action(self), probe_action(self, self.stage)]

    def _fit(self, every: bool) -> None:
        draft, beam = self.context.workspace.draft, self.context.workspace.beam
        if draft is not None and beam is not None:
            keys = [b.key for b in draft.beams] if every else [beam.key]
            self.desk.beams.fit(keys, self.margin.value())
        else:
            self.beams.tell_no_beam()

    def _isocentre_here(self) -> None:
        self.desk.beams.set_isocentre(self.context.workspace.cursor_mm, text=self.tr("Isocentre at cursor"))

    def _go_to_isocentre(self) -> None:
        beam = self.context.workspace.beam
        if beam is not None:
            self.context.stage.centre_on(beam.isocentre_mm)
        else:
            self.beams.tell_no_beam()

    def _open_beam(self, key: str) -> None:
        if self.context.stage.isVisible() and not self.pane.isVisible():
            self.context.go("aim")
        self.room_shown.setChecked(False)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    # what stands where

    def panels(self) -> tuple[QWidget, ...]:
        return (self.pane,)

    def right(self) -> QWidget | None:
        return self.pane if self.context.workspace.case is not None else None

    def centre(self) -> QWidget | None:
        return None

    def empty_words(self) -> str:
        return self.tr("Here beams are arranged around the patient and opened around the target.")

    def enter(self) -> None:
        self.stage.enter()

    def leave(self) -> None:
        self.stage.leave()

    def state_line(self) -> str:
        draft = self.context.workspace.draft
        if draft is None or not draft.beams:
            return self.tr("no beams")
        count = self.tr("1 beam") if len(draft.beams) == 1 else self.tr("{0} beams").format(len(draft.beams))
        wanted = draft.prescription
        return f"{count}, {wanted.dose_gy:g} Gy / {wanted.fractions}" if wanted else count

    def actions(self) -> list[object]:
        return self._actions


def _action(parent: Station, text: str, keys: str, do: object) -> QAction:
    action = QAction(text, parent)
    if keys:
        action.setShortcut(QKeySequence(keys))
    action.triggered.connect(lambda *_: do())  # type: ignore[operator]
    return action


def probe_action(station: Station, stage: PlanStage) -> QAction:
    """Return the action that keeps the point probe on the stage."""
    action = QAction(QCoreApplication.translate("PlanStage", "Point probe (or hold Space)"), station, checkable=True)
    action.setShortcut(QKeySequence("P"))
    action.toggled.connect(stage.probe.set_pinned)
    return action


def ring_action(station: Station) -> QAction:
    """Return the action that puts the beam ring around the slice or takes it away; remembered for all stations."""
    settings = station.context.settings
    action = QAction(QCoreApplication.translate("PlanStage", "Beam ring"), station, checkable=True)
    action.setShortcut(QKeySequence("O"))
    action.setChecked(settings.get("stage/ring"))
    action.toggled.connect(lambda on: settings.set("stage/ring", on))
    settings.changed.connect(lambda key: action.setChecked(settings.get(key)) if key == "stage/ring" else None)
    return action
