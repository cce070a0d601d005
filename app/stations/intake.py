"""Intake: find images, see what is wrong with them, choose the density curve, open the case."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QPushButton, QWidget

from app.core.context import Context
from app.core.language import translated
from app.panels.case_facts import CaseFacts
from app.panels.density_curve import DensityPanel
from app.panels.pane import Pane
from app.panels.series_list import SeriesList
from app.panels.welcome import Welcome
from app.stations.second_reading import SecondReading
from app.stations.station import Station
from app.stations.structures import StructureReading
from engine import compute
from engine.base.errors import UserError
from engine.case.case import Case

FIND, OPEN, DEMONSTRATE, PLAN = "find-series", "open-series", "demonstration", "demonstration-plan"


class Intake(Station):
    """With no case (or when another is wanted) it stands in place of the stage, else beside it."""

    name = "intake"
    right_px = 330

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.title = self.tr("Intake")
        self._another = False
        self._folder = ""
        self._notes: tuple[Any, tuple[Any, ...]] = (None, ())
        self.structures, self.second = StructureReading(context), SecondReading(context)
        self._build()
        context.jobs.result.connect(self._result)
        context.jobs.failed.connect(self._failed)
        context.jobs.finished.connect(self._finished)
        context.workspace.case_changed.connect(self._case_changed)

    def _build(self) -> None:
        self.welcome, self.series = Welcome(), SeriesList()
        self.welcome.folder_wanted.connect(self._ask_folder)
        self.welcome.case_wanted.connect(self._ask_case)
        self.welcome.recent_wanted.connect(lambda p: self.context.open_path(p))
        self.welcome.demonstration_wanted.connect(self.demonstrate)
        self.series.open_wanted.connect(self._open)
        self.series.over_wanted.connect(lambda uid: self.second.read(self._folder, uid))
        self.series.registration_wanted.connect(lambda uid: self.second.ask_registration(self.page, self._folder, uid))
        self.back = QPushButton(self.tr("Back to the open patient"))
        self.back.clicked.connect(lambda: self._show_page(False))
        left = Pane(self.back, self.welcome)
        left.setFixedWidth(400)
        self.page = QWidget()
        self.series_pane = Pane(self.series, stretch=self.series)
        row = QHBoxLayout(self.page)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(1)
        row.addWidget(left)
        row.addWidget(self.series_pane, 1)
        self.series.show_nothing()
        self.facts, self.density = CaseFacts(), DensityPanel()
        self.density.edited.connect(self._curve)
        self.density.refused.connect(self.context.messages.warning)
        self.other = QPushButton(self.tr("Open another patient\u2026"))
        self.other.clicked.connect(lambda: self._show_page(True))
        self.read = QPushButton(self.tr("Read volumes from a structure set\u2026"))
        self.read.clicked.connect(lambda: self.structures.ask(self.page))
        self.over = QPushButton(self.tr("Lay a second image over the CT\u2026"))
        self.over.setToolTip(self.tr("Choose the folder of an MR, PET or CT series with its registration"))
        self.over.clicked.connect(self.ask_second)
        self.beside = Pane(self.facts, self.density, self.read, self.over, self.other, stretch=self.density)

    # what stands where

    def panels(self) -> tuple[QWidget, ...]:
        return self.page, self.beside

    def centre(self) -> QWidget | None:
        return self.page if self._another or self.context.workspace.case is None else None

    def right(self) -> QWidget | None:
        return None if self.centre() is not None else self.beside

    def enter(self) -> None:
        self.back.setVisible(self.context.workspace.case is not None)
        self.welcome.show_recent(self.context.settings.recent())

    def leave(self) -> None:
        self._another = False

    def tells(self, kind: str) -> bool:
        return kind == FIND

    def state_line(self) -> str:
        case = self.context.workspace.case
        if case is None:
            return self.tr("no patient yet")
        return self.tr("{} slices").format(case.image.grid.shape[0])

    def _show_page(self, shown: bool) -> None:
        self._another = shown
        self.back.setVisible(self.context.workspace.case is not None)
        self.welcome.show_recent(self.context.settings.recent())
        self.context.refresh()

    def ask_second(self) -> None:
        """Let the person choose the folder of what is to lie over the planning CT."""
        if self.context.workspace.case is None:
            self.context.messages.warning(self.tr("Open the planning CT first, then what is to lie over it."))
        else:
            self._ask_folder()

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        self.series.offer_over(after is not None)
        if before is None or after is None or before.image is not after.image or before.patient is not after.patient:
            self.facts.show_case(after)
            self._another = False
            image, notes = self._notes
            if notes and after is not None and after.image is image:
                # Once everything is said about opening the case; it stands as long as this patient is open.
                words = " ".join(_sentence(translated(n)) for n in notes)
                QTimer.singleShot(0, self, lambda: self.context.messages.warning(words, topic="case/image"))
        self.density.show_curve(after.curve if after is not None else None)

    # finding and opening

    def search(self, folder: Path) -> None:
        """Look for series in a folder and show them."""
        self._folder = str(folder)
        self.context.settings.set("folder/images", str(folder))
        self.series.show_searching(self._folder)
        self._show_page(True)
        self.context.jobs.submit(FIND, [compute.request("FindSeries", folder=self._folder)])

    def demonstrate(self, name: str) -> None:
        """Open a demonstration patient."""
        self.page.setFocus()  # else the keyboard would go to the next button that is not being disabled
        for button in self.welcome.demonstrations.values():
            button.setEnabled(False)
        self.context.jobs.submit(DEMONSTRATE, [compute.request("MakeDemonstration", name=name)])

    def _open(self, uid: str, position: str) -> None:
        request = compute.request("OpenSeries", folder=self._folder, series_uid=uid, patient_position=position)
        self.series.open.setEnabled(False)
        self.context.jobs.submit(OPEN, [request])

    def _result(self, kind: str, request: Any, value: Any) -> None:
        if kind == FIND and request.folder == self._folder:
            self.series.show_found(value)
            self.structures.remember(value.series)
        elif kind == OPEN:
            self._notes = (value.image, tuple(value.notes))
            self.context.open_case(Case(value.patient, value.image))
        elif kind == DEMONSTRATE:
            self.context.jobs.submit(PLAN, [compute.request("PlanDemonstration", phantom=value)])
        elif kind == PLAN:
            self.context.open_case(value)

    def _failed(self, kind: str, error: BaseException) -> None:
        if kind != FIND:
            return
        words = self.tr("This folder cannot be read.")
        if isinstance(error, UserError) and error.where == self._folder:  # the heading names the folder already
            words = f"{_sentence(translated(error.what))} {translated(error.do)}".strip()
        elif isinstance(error, UserError):
            words = translated(error)
        self.series.show_failed(words)

    def _finished(self, kind: str, state: str) -> None:
        if kind == OPEN:
            self.series._chosen()
        elif kind in (DEMONSTRATE, PLAN) and not self.context.jobs.busy(PLAN):
            for button in self.welcome.demonstrations.values():
                button.setEnabled(True)
        elif kind == FIND and state == "cancelled" and not self.context.jobs.busy(FIND):
            self.series.show_failed(self.tr("Reading was cancelled. Choose the folder again."))

    def _curve(self, curve: Any) -> None:
        case = self.context.workspace.case
        if case is not None:
            self.context.workspace.edit(self.tr("Change the density curve"), case.but(curve=curve))
            self.density.show_curve(self.context.workspace.case.curve if self.context.workspace.case else None)

    def _ask_folder(self) -> None:
        start = self.context.settings.get("folder/images")
        folder = QFileDialog.getExistingDirectory(self.page, self.tr("Open a folder of images"), start)
        if folder:
            self.search(Path(folder))

    def _ask_case(self) -> None:
        path, _ = QFileDialog.getOpenFileName(self.page, self.tr("Open a case"), "", self.tr("Cases (*.halfshade)"))
        if path:
            self.context.open_path(Path(path))


def _sentence(words: str) -> str:
    """Return words as a sentence of their own."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."
