"""What stands in the active beam or lies on the patient for it: wedge and bolus."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QMenu, QPushButton, QWidget

from app.core.beam_edits import BeamEdits
from app.core.workspace import Workspace
from engine.beams.beam import Beam
from engine.beams.wedge import TOE_JAWS
from engine.case.case import Case


class BeamDevices(QWidget):
    """One row: the wedge of the active beam, where its toe points, and its boluses; hidden when there is no choice."""

    def __init__(self, workspace: Workspace, edits: BeamEdits) -> None:
        super().__init__()
        self._workspace, self._edits = workspace, edits
        self._quiet = False
        self._listed: dict[str, str] = {}
        self.wedge, self.toe = QComboBox(), QComboBox()
        self.wedge.setAccessibleName(self.tr("Wedge of this beam"))
        self.wedge.setToolTip(self.tr("Wedge in this beam; the dose and the monitor units follow"))
        self.toe.setAccessibleName(self.tr("Where the toe of the wedge points"))
        self.toe.setToolTip(self.tr("The jaw that the thin end of the wedge points to"))
        self.wedge.activated.connect(self._choose_wedge)
        self.toe.activated.connect(self._choose_toe)
        self.bolus = QPushButton()
        self.bolus.setToolTip(self.tr("Boluses that lie on the patient for this beam: volumes of role BOLUS"))
        self._menu = QMenu(self)
        self.bolus.setMenu(self._menu)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        self._label = QLabel(self.tr("Wedge"))
        self._label.setBuddy(self.wedge)
        for widget in (self._label, self.wedge, self.toe):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.bolus)
        workspace.case_changed.connect(self._take)
        workspace.active_changed.connect(self._take)
        self._take()

    def _take(self, *_: object) -> None:
        case, beam = self._workspace.case, self._workspace.beam
        machine = case.machine(beam.machine) if case is not None and beam is not None else None
        wedges = machine.wedges if machine else ()
        boluses = self._boluses(case, beam)
        self.setVisible(bool(wedges or boluses))
        if machine is None or beam is None:
            return
        self._quiet = True
        self.wedge.clear()
        self.wedge.addItem(self.tr("none"), "")
        for wedge in wedges:
            kind = self.tr("{0} (virtual)") if wedge.kind == "virtual" else "{0}"
            self.wedge.addItem(kind.format(wedge.name), wedge.name)
        self.wedge.setCurrentIndex(max(0, self.wedge.findData(beam.wedge)))
        chosen = machine.wedge(beam.wedge)
        self.toe.clear()
        for angle in chosen.orientations_deg if chosen else ():
            self.toe.addItem(self.tr("toe to {0}").format(TOE_JAWS[angle]), angle)
        self.toe.setCurrentIndex(self.toe.findData(beam.wedge_orientation_deg))
        for widget in (self._label, self.wedge):
            widget.setVisible(bool(wedges))
        self.toe.setVisible(chosen is not None)
        self._fill_boluses(beam, boluses)
        self._quiet = False

    @staticmethod
    def _boluses(case: Case | None, beam: Beam | None) -> dict[str, str]:
        """Return names of the boluses of a case by key, and of those a beam names though they are gone."""
        if case is None or beam is None:
            return {}
        found = {v.key: v.name for v in case.volumes if v.role == "BOLUS"}
        for key in beam.bolus:
            volume = case.volume(key)
            found.setdefault(key, volume.name if volume else "")
        return found

    def _fill_boluses(self, beam: Beam, boluses: dict[str, str]) -> None:
        # The menu is filled anew only when other boluses are there: an action must not be deleted while it acts.
        if boluses != self._listed:
            self._listed = boluses
            self._menu.clear()
            for key, name in boluses.items():
                action = self._menu.addAction(name or self.tr("a bolus that is gone"))
                action.setCheckable(True)
                action.setData(key)
                action.toggled.connect(lambda on, k=key: self._lay(k, on))
        for action in self._menu.actions():
            action.setChecked(action.data() in beam.bolus)
        count = len(beam.bolus)
        self.bolus.setText(self.tr("No bolus") if not count else self.tr("Bolus: {0}").format(self._named(beam, boluses)))
        self.bolus.setVisible(bool(boluses))

    def _lay(self, key: str, on: bool) -> None:
        beam = self._workspace.beam
        if beam is not None and not self._quiet and on != (key in beam.bolus):
            self._edits.set_bolus(beam.key, key, on)
            self._take()

    def _named(self, beam: Beam, boluses: dict[str, str]) -> str:
        first = boluses.get(beam.bolus[0], "") or self.tr("gone")
        return first if len(beam.bolus) == 1 else self.tr("{0} and {1} more").format(first, len(beam.bolus) - 1)

    def _choose_wedge(self, _: int) -> None:
        beam = self._workspace.beam
        if beam is not None and not self._quiet and self.wedge.currentData() != beam.wedge:
            self._edits.set_wedge(beam.key, self.wedge.currentData())

    def _choose_toe(self, _: int) -> None:
        beam = self._workspace.beam
        if beam is not None and not self._quiet and self.toe.currentData() != beam.wedge_orientation_deg:
            self._edits.set_wedge(beam.key, beam.wedge, self.toe.currentData())
