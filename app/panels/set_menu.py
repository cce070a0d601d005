"""The menu of volume sets: a site's usual volumes, one's own sets, saving and loading them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QMenu, QWidget

from app.core.language import translated
from app.core.settings import Settings
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.case import edits
from engine.volumes import sets


class SetMenu(QMenu):
    """Offers sets; one that is chosen adds its missing volumes, empty, as one undoable step.

    One's own sets are the files in ``folder``, beside the settings.

    Signals
    -------
    said(level, words)
    """

    said = Signal(str, str)

    def __init__(self, workspace: Workspace, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._workspace = workspace
        self.folder = settings.folder / "volume-sets"
        self.aboutToShow.connect(self.fill)

    def fill(self) -> None:
        """List the sets there are now."""
        self.clear()
        own, bad = sets.sets_in(self.folder)
        for wanted in sets.shipped_sets():
            self._offer(wanted)
        if own:
            self.addSection(self.tr("Own sets"))
        for wanted in own:
            self._offer(wanted)
        for error in bad:
            self.addAction(self.tr("{} cannot be read").format(Path(error.where).name)).setEnabled(False)
        self.addSeparator()
        case = self._workspace.case
        clear = self.addAction(self.tr("Remove the volumes that are empty"))
        clear.setEnabled(case is not None and edits.without_empty(case) is not case)
        clear.triggered.connect(self.remove_empty)
        self.addSeparator()
        self.addAction(self.tr("Load a set from a file\u2026")).triggered.connect(self._ask_load)
        save = self.addAction(self.tr("Save these volumes as a set\u2026"))
        save.setEnabled(case is not None and bool(case.volumes))
        save.triggered.connect(self._ask_save)

    def _offer(self, wanted: sets.VolumeSet) -> None:
        action = self.addAction(self.tr("{} ({} volumes)").format(wanted.title, len(wanted.volumes)))
        action.triggered.connect(lambda _=False, w=wanted: self.apply(w))

    def apply(self, wanted: sets.VolumeSet) -> None:
        """Add the volumes of a set that are missing."""
        case = self._workspace.case
        if case is None:
            return
        after = edits.with_set(case, wanted)
        count = len(after.volumes) - len(case.volumes)
        if not count:
            self.said.emit("info", self.tr("Every volume of {} is there already.").format(wanted.title))
            return
        self._workspace.edit(self.tr("Add the volumes of {}").format(wanted.title), after)
        if self._workspace.case is after:
            self._workspace.activate(volume=after.volumes[len(case.volumes)].key)
            words = self.tr("1 volume added, empty.") if count == 1 else self.tr("{} volumes added, empty.").format(count)
            self.said.emit("info", words)

    def remove_empty(self) -> None:
        """Remove the volumes that hold nothing and that nothing names, as one undoable step."""
        case = self._workspace.case
        if case is not None:
            self._workspace.edit(self.tr("Remove the empty volumes"), edits.without_empty(case))

    def load(self, path: Path) -> None:
        """Add the volumes of a set in a file."""
        try:
            self.apply(sets.load_set(path))
        except UserError as error:
            self.said.emit("error", translated(error))

    def save(self, path: Path) -> None:
        """Write the names, roles and colours of the case's volumes as a set named like the file."""
        case = self._workspace.case
        if case is None:
            return
        path = path if path.suffix == ".toml" else path.with_name(path.name + ".toml")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(sets.set_text(sets.set_of(case.volumes, path.stem)), encoding="utf-8")
        except OSError as error:
            words = self.tr("{} cannot be written ({}). Choose another place.")
            self.said.emit("error", words.format(path, error.strerror))
            return
        self.said.emit("info", self.tr("Saved as {}.").format(path))

    def _ask_load(self) -> None:
        start = str(self.folder if self.folder.is_dir() else Path.home())
        path, _ = QFileDialog.getOpenFileName(self.parentWidget(), self.tr("Load a set of volumes"), start, "TOML (*.toml)")
        if path:
            self.load(Path(path))

    def _ask_save(self) -> None:
        start = str(self.folder / "own-set.toml")
        self.folder.mkdir(parents=True, exist_ok=True)
        path, _ = QFileDialog.getSaveFileName(self.parentWidget(), self.tr("Save a set of volumes"), start, "TOML (*.toml)")
        if path:
            self.save(Path(path))
