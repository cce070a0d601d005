"""The menu of how the active volume looks: colour, fill, line, and which volumes are shown."""

from __future__ import annotations

from PySide6.QtGui import QAction, QActionGroup, QIcon
from PySide6.QtWidgets import QMenu, QWidget

from app.core.looks import Look, choose_look, is_alone, look_of, show_all, show_alone
from app.core.settings import Settings
from app.core.workspace import Workspace
from app.models.volume_table import swatch
from engine.case import edits
from engine.volumes.volume import COLOURS

FILLS = (0, 10, 20, 40, 60)
LINES = (1.0, 1.5, 2.0, 3.0, 4.0)


class LookMenu(QMenu):
    """Colour is part of the case and can be undone; fill, line and what is shown are a matter of looking."""

    def __init__(self, workspace: Workspace, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._workspace, self._settings = workspace, settings
        colours = self.addMenu(self.tr("Colour"))
        for i, rgb in enumerate(COLOURS):
            action = colours.addAction(QIcon(swatch(rgb)), self.tr("Colour {}").format(i + 1))
            action.triggered.connect(lambda _=False, c=rgb: self._recolour(c))
        fill = self.addMenu(self.tr("Fill"))
        line = self.addMenu(self.tr("Line"))
        self._fills: dict[int | None, QAction] = {}
        self._lines: dict[float | None, QAction] = {}
        group = QActionGroup(self)
        for percent in (None, *FILLS):
            words = self.tr("As usual") if percent is None else self.tr("{} %").format(percent)
            self._fills[percent] = self._choice(fill, group, words)
            self._fills[percent].triggered.connect(lambda _=False, p=percent: self._choose(fill=p))
        group = QActionGroup(self)
        for width in (None, *LINES):
            words = self.tr("As usual") if width is None else self.tr("{:g} pixels").format(width)
            self._lines[width] = self._choice(line, group, words)
            self._lines[width].triggered.connect(lambda _=False, w=width: self._choose(line=w))
        self.addSeparator()
        self.alone = self.addAction(self.tr("Show only this volume") + "\tCtrl+Shift+Y")
        self.alone.setCheckable(True)
        self.alone.triggered.connect(lambda: show_alone(workspace))
        self.addAction(self.tr("Show all volumes")).triggered.connect(lambda: show_all(workspace))
        self.addAction(self.tr("Hide all volumes")).triggered.connect(lambda: show_all(workspace, False))
        self.aboutToShow.connect(self._follow)

    def _choice(self, menu: QMenu, group: QActionGroup, words: str) -> QAction:
        action = menu.addAction(words)
        action.setCheckable(True)
        group.addAction(action)
        return action

    def _follow(self) -> None:
        v = self._workspace.volume
        look = look_of(self._settings, v.name) if v is not None else Look()
        self._fills.get(look.fill_percent, self._fills[None]).setChecked(True)
        self._lines.get(look.line_px, self._lines[None]).setChecked(True)
        self.alone.setChecked(is_alone(self._workspace))

    def _choose(self, **part: float | None) -> None:
        v = self._workspace.volume
        if v is None:
            return
        look = look_of(self._settings, v.name)
        fill, line = part.get("fill", look.fill_percent), part.get("line", look.line_px)
        choose_look(self._settings, v.name, Look(None if fill is None else int(fill), line))

    def _recolour(self, rgb: tuple[int, int, int]) -> None:
        case, v = self._workspace.case, self._workspace.volume
        if case is not None and v is not None and v.colour != rgb:
            text = self.tr("Colour of {}").format(v.name)
            self._workspace.edit(text, edits.with_volume(case, v.but(colour=rgb)))
