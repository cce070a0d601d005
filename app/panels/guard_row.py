"""Where painting is allowed: anywhere, or only inside or outside one volume."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QWidget

from app.core.guard import Guard
from app.core.workspace import Workspace


class GuardRow(QWidget):
    """Shows and sets the guard."""

    def __init__(self, guard: Guard, workspace: Workspace) -> None:
        super().__init__()
        self.setProperty("plain", True)
        self._guard, self._workspace = guard, workspace
        self.switch = QCheckBox(self.tr("Only"))
        self.switch.setToolTip(self.tr("Guard (O): every tool keeps inside, or outside, the volume beside"))
        self.switch.setAccessibleName(self.tr("Guard"))
        self.side = QComboBox()
        self.side.addItem(self.tr("inside"), True)
        self.side.addItem(self.tr("outside"), False)
        self.side.setAccessibleName(self.tr("Side of the guarding volume"))
        self.volume = QComboBox()
        self.volume.setAccessibleName(self.tr("Guarding volume"))
        self.volume.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.switch)
        row.addWidget(self.side)
        row.addWidget(self.volume, 1)
        self.switch.clicked.connect(lambda on: self._choose(on=on))
        self.side.activated.connect(lambda _: self._choose(inside=bool(self.side.currentData())))
        self.volume.activated.connect(lambda _: self._choose(key=str(self.volume.currentData() or "")))
        guard.changed.connect(self.renew)
        workspace.case_changed.connect(lambda *_: self.renew())
        workspace.active_changed.connect(self.renew)
        self.renew()

    def _choose(self, on: bool | None = None, inside: bool | None = None, key: str | None = None) -> None:
        self._guard.set(on=on, inside=inside, key=key)
        self.renew()

    def renew(self) -> None:
        """Show the guard and the volumes there are; a volume cannot guard itself."""
        case, active = self._workspace.case, self._workspace.volume
        others = [(v.name, v.key) for v in case.volumes if v is not active] if case is not None else []
        if [(self.volume.itemText(i), self.volume.itemData(i)) for i in range(self.volume.count())] != others:
            self.volume.clear()
            for name, key in others:
                self.volume.addItem(name, key)
        self.volume.setCurrentIndex(self.volume.findData(self._guard.key or self._guard.first()))
        self.switch.setChecked(self._guard.on)
        self.side.setCurrentIndex(0 if self._guard.inside else 1)
        for part in (self.switch, self.side, self.volume):
            part.setEnabled(bool(others))
