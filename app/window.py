"""The window: rail, stage, the panels of the station in front, messages and caution."""

from __future__ import annotations

import json
import logging
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QHBoxLayout, QMainWindow, QVBoxLayout, QWidget

from app.actions import fill_menus
from app.core.caution import caution
from app.core.context import Context
from app.core.derived import DerivedVolumes
from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.messages import Messages
from app.core.settings import Settings
from app.core.workspace import Workspace
from app.enter_key import EnterKey
from app.frame import Frame, takes_focus
from app.panels.message_strip import MessageStrip
from app.panels.rail import Rail
from app.panels.second_bar import SecondBar
from app.stations.station import Shelf, Station
from app.text_undo import TextUndo
from app.views.linked_views import Stage
from app.views.second_overlay import SecondOverlay
from engine.base.errors import StoreError, UserError
from engine.case.case import Case

log = logging.getLogger("halfshade.window")
CASE_SUFFIX = ".halfshade"


class Window(QMainWindow):
    """Owns the workspace, the jobs, the stage and the stations, and moves between them."""

    def __init__(self, settings: Settings | None = None) -> None:
        super().__init__()
        self.setAcceptDrops(True)
        workspace, jobs, messages = Workspace(self), JobRunner(self), Messages(self)
        self.context = Context(workspace, jobs, settings or Settings(parent=self), messages)
        self.context.stage = self.stage = Stage(workspace, self.context.settings)
        self.second = SecondOverlay(self.stage, SecondBar(), workspace, self.context.settings)
        self.context.go, self.context.refresh = self.go, self.refresh
        self.context.open_case, self.context.open_path = self.open_case, self.open_path
        self.context.refresh_states = self.show_states
        self._states = QTimer(self, singleShot=True, interval=0)
        self._states.timeout.connect(self._show_states)
        self.context.wings = QWidget(self)
        self.context.wings.hide()
        self.context.derived = DerivedVolumes(workspace, jobs, messages)
        self.shelf = Shelf(self.context)
        self.station: Station | None = None
        self._keeper: Any = None
        self._exporting: Any = None
        self._newborn: Case | None = None
        self._build()
        workspace.case_changed.connect(self._case_changed)
        workspace.results_changed.connect(self.show_states)
        workspace.active_changed.connect(self.show_states)
        workspace.message.connect(messages.post)
        jobs.failed.connect(self._job_failed)
        jobs.finished.connect(lambda kind, state: messages.settle(f"job/{kind}") if state == "done" else None)
        geometry = self.context.settings.get("window/geometry")
        if geometry.isEmpty() or not self.restoreGeometry(geometry):
            room = self.screen().availableGeometry()
            self.resize(min(1600, room.width() - 8), min(1000, room.height() - 40))
        self._title()
        self.go("intake")

    def _build(self) -> None:
        self.rail = Rail(self.shelf.names())
        self.rail.chosen.connect(self.go)
        self.frame = Frame(self.context.settings, self.stage)
        self.frame.empty.way_wanted.connect(lambda: self.go("intake"))
        self.strip = MessageStrip(self.context.messages, self.context.jobs, caution())
        row = QHBoxLayout()
        row.setSpacing(0)
        row.addWidget(self.rail)
        row.addWidget(self.frame, 1)
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row, 1)
        column.addWidget(self.strip)
        middle = QWidget()
        middle.setLayout(column)
        self.setCentralWidget(middle)
        self._text_undo, self._enter_key = TextUndo(self), EnterKey(self)
        fill_menus(self)

    # stations

    def go(self, name: str) -> None:
        """Enter a station."""
        target = self.shelf.get(name)
        if target is None:
            return
        if target is not self.station:
            if self.station is not None:
                self.station.leave()
            self.station = target
            self.rail.show_station(name)
            self.frame.show_station(target)
            self.strip.go_on()
            target.enter()
            self.station_menu.clear()
            self.station_menu.addActions(target.actions())
            self.station_menu.setTitle(target.title)
            self.station_menu.menuAction().setVisible(bool(target.actions()))
            self.show_states()
            self._remember()

    def _remember(self) -> None:
        """Let the case file keep where one is, so that it opens where it was left."""
        w = self.context.workspace
        if self._keeper is not None and w.case is not None and self.station is not None:
            active = w.volume.key if w.volume is not None else ""
            self._keeper.remember(station=self.station.name, cursor=list(w.cursor_mm), volume=active)

    def refresh(self) -> None:
        """Ask the station in front again what stands where, and all for their line of state."""
        if self.station is not None:
            self.frame.show_station(self.station)
        self.show_states()

    def make_all(self) -> None:
        """Make the stations that nobody has asked for yet, so that the rail can tell their state."""
        for name, _ in self.shelf.names():
            self.shelf.get(name)
        self.show_states()

    def show_states(self) -> None:
        """Bring the lines on the rail up to date, once the present event is done."""
        self._states.start()

    def _show_states(self) -> None:
        self.rail.set_states({s.name: s.state_line() for s in self.shelf.made()})

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if (before is None) != (after is None) or before is None or after is None or before.image is not after.image:
            self._title()
            self.refresh()
        self.show_states()

        if before is not after:
            # What the hand was refused is past once the case moves on; what was said about another patient, too.
            self.context.messages.settle()
            if before is None or after is None or before.image is not after.image:
                for topic in {m.topic for m in self.context.messages.standing if m.topic.startswith("case/")}:
                    self.context.messages.settle(topic)

    def _job_failed(self, kind: str, error: BaseException) -> None:
        if isinstance(error, UserError) and any(s.tells(kind) for s in self.shelf.made()):
            log.info("%s: %s", kind, error)
            return
        self.context.messages.failure(error, f"job/{kind}")

    def _title(self) -> None:
        case = self.context.workspace.case
        parts = ["Halfshade"]
        if case is not None:
            name = case.patient.name.replace("^", " ").strip() or self.tr("No name")
            parts.insert(0, self.tr("{} (synthetic)").format(name) if case.patient.synthetic else name)
            if self.context.workspace.read_only:
                parts.insert(1, self.tr("read-only"))
        self.setWindowTitle(" \u2013 ".join(parts))
        for action in (self.copy_action, self.close_action):
            action.setEnabled(case is not None)

    # opening and closing

    @property
    def keeper(self) -> Any:
        """The Keeper of this window, made when first needed so that the start stays quick."""
        if self._keeper is None:
            from app.core.keeper import Keeper

            self._keeper = self.context.keeper = Keeper(self.context.workspace, self)
            self._keeper.opened.connect(self._opened)
            self._keeper.failed.connect(self._not_kept)
            self._keeper.saved.connect(lambda _: self.context.messages.settle("keeping"))
        return self._keeper

    def open_case(self, case: Case) -> None:
        """Put a new case into a file of its own and open it."""
        self._newborn = case
        self.keeper.create(case)

    def _not_kept(self, error: UserError, topic: str) -> None:
        """Say what could not be kept; a new case that found no place waits for another one."""
        if any(s.tells(topic) for s in self.shelf.made()):
            return
        case = self._newborn
        if topic == "opening" and case is not None:
            words = self.tr("{} The case waits meanwhile.").format(translated(error))
            self.context.messages.error(words, self.tr("Choose a place\u2026"), lambda: self._ask_for_place(case), topic)
        else:
            # A file that does not open concerns nobody once the work goes on; what cannot be written does.
            self.context.messages.failure(error, "" if topic == "opening" else topic)

    def _ask_for_place(self, case: Case) -> None:
        path, _ = QFileDialog.getSaveFileName(
            self, self.tr("Keep the new case as"), "", self.tr("Cases (*{})").format(CASE_SUFFIX)
        )
        self._newborn = case
        if path:
            self.keeper.create(case, Path(path).with_suffix(CASE_SUFFIX))
        else:
            self._not_kept(StoreError("the new case has no file yet", do="Choose a place for it."), "opening")

    def open_path(self, path: Path) -> None:
        """Open a case file, or look for images in a folder."""
        path = Path(path)
        self.context.messages.settle()
        if path.is_dir():
            self._search(path)
        elif path.suffix.lower() == CASE_SUFFIX:
            self._newborn = None
            self.keeper.open(path)
        elif path.is_file():
            self._search(path.parent)
        else:
            self.context.messages.error(self.tr("{} is not there. Choose another file or folder.").format(path))

    def _search(self, folder: Path) -> None:
        self.go("intake")
        self.shelf.get("intake").search(folder)  # type: ignore[union-attr]

    def _opened(self, path: Path) -> None:
        self._newborn = None
        self.context.messages.settle("opening")
        self.context.settings.add_recent(path)
        desk = self.keeper.desk
        try:
            x, y, z = json.loads(desk.get("cursor", "[]"))
            self.context.workspace.set_cursor(self.stage.inside((x, y, z)))
        except (ValueError, TypeError):
            self._look_at_target()
        self.stage.fit()
        if desk.get("volume"):
            self.context.workspace.activate(volume=desk["volume"])
        station = desk.get("station", "")
        self.context.messages.info(self.tr("The case is kept in {}; every edit is saved as you work.").format(path))
        self.go(station if station and station != "intake" else "outline")
        self.stage.main.setFocus()

    def _look_at_target(self) -> None:
        case = self.context.workspace.case
        target = next((v for v in case.volumes if v.is_target and not v.coverage.is_empty), None) if case else None
        middle = target.coverage.centroid_mm() if target is not None else None
        if middle is not None:
            self.context.workspace.set_cursor(self.stage.inside(middle))

    def close_case(self) -> None:
        """Close the case file; everything in it has been saved."""
        self._remember()
        if self._keeper is not None:
            self._keeper.close()
            self._keeper.deleteLater()
            self._keeper = self.context.keeper = None
        self.context.jobs.cancel()
        self.context.workspace.open(None)
        self.go("intake")

    def ask_for_folder(self) -> None:
        """Let the person choose a folder of images."""
        start = self.context.settings.get("folder/images")
        folder = QFileDialog.getExistingDirectory(self, self.tr("Open a folder of images"), start)
        if folder:
            self.open_path(Path(folder))

    def ask_for_case(self) -> None:
        """Let the person choose a case file."""
        start = next((str(p.parent) for p in self.context.settings.recent()), "")
        path, _ = QFileDialog.getOpenFileName(
            self, self.tr("Open a case"), start, self.tr("Cases (*{})").format(CASE_SUFFIX)
        )
        if path:
            self.open_path(Path(path))

    def ask_for_structures(self) -> None:
        """Let the person choose an RT Structure Set whose volumes join the case."""
        self.shelf.get("intake").structures.ask(self)  # type: ignore[union-attr]

    def ask_for_second(self) -> None:
        """Let the person choose what is to lie over the planning CT."""
        self.shelf.get("intake").ask_second()  # type: ignore[union-attr]

    def ask_for_export(self) -> None:
        """Let the person choose where structure set, plan and dose are written as DICOM."""
        from app.stations.exporting import Exporting

        if self._exporting is None:
            self._exporting = Exporting(self.context)
        self._exporting.ask(self)

    def ask_for_copy(self) -> None:
        """Let the person choose where a copy of the case goes."""
        near = str(self.keeper.path.with_name(f"{self.keeper.path.stem} copy{CASE_SUFFIX}")) if self.keeper.path else ""
        path, _ = QFileDialog.getSaveFileName(
            self, self.tr("Save a copy"), near, self.tr("Cases (*{})").format(CASE_SUFFIX)
        )
        if path:
            self.keeper.copy_to(Path(path).with_suffix(CASE_SUFFIX))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = [Path(u.toLocalFile()) for u in event.mimeData().urls() if u.isLocalFile()]
        if paths:
            event.acceptProposedAction()
            self.open_path(paths[0])

    def closeEvent(self, event: QCloseEvent) -> None:
        settings = self.context.settings
        settings.set("window/geometry", self.saveGeometry())
        if self.station is not None:
            self.station.leave()
        self.frame.keep_sizes()
        self.context.jobs.close()
        self._remember()
        if self._keeper is not None:
            self._keeper.close()
            self._keeper = self.context.keeper = None
        settings.sync()
        # A station's timer may still fire; there is no window left to ask.
        self.context.refresh = self.context.refresh_states = lambda: None
        event.accept()

    # small things

    def next_part(self) -> None:
        """Move the keyboard from the rail to the stage, to the panels and round again."""
        parts: list[QWidget] = [p for p in (self.rail, *self.frame.parts()) if p.isVisible()]
        focus = QApplication.focusWidget()
        at = next((i for i, p in enumerate(parts) if focus is not None and (p is focus or p.isAncestorOf(focus))), -1)
        for step in range(1, len(parts) + 1):
            part = parts[(at + step) % len(parts)]
            if part is self.stage:
                self.stage.main.setFocus(Qt.FocusReason.TabFocusReason)
                return
            inner = next((w for w in part.findChildren(QWidget) if takes_focus(w)), None)
            if inner is not None:
                inner.setFocus(Qt.FocusReason.TabFocusReason)
                return

    def toggle_full_screen(self) -> None:
        """Fill the screen, or leave it again."""
        self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen)

    def set_theme(self, name: str) -> None:
        """Choose the dark or the light theme."""
        from app import theme

        self.context.settings.set("theme", name)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            theme.apply(app, name)
        for widget in self.findChildren(QWidget):
            widget.update()

    def show_keys(self) -> None:
        """Show keys and gestures."""
        from app.dialogs.keys import KeysDialog

        KeysDialog(self).show()

    def show_log(self) -> None:
        """Show all messages of this run."""
        from app.dialogs.texts import messages_dialog

        messages_dialog(self, self.context.messages).show()

    def show_fault(self) -> None:
        """Show the log for a report."""
        from app.dialogs.texts import fault_dialog

        fault_dialog(self).show()

    def show_about(self) -> None:
        """Say what this is and what it is not."""
        from app.dialogs.texts import about_dialog

        about_dialog(self).show()


def run(path: str | None = None) -> int:
    """Open the window on a case file or folder and return the exit code."""
    from app.start import start

    return start(path)
