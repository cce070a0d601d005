"""The guard of the painting hand: only inside, or only outside, one volume."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QCoreApplication, QObject, Signal

from app.core.workspace import Workspace
from engine.volumes.volume import Volume


class Guard(QObject):
    """What every tool keeps to while it is on. A matter of the hand, so it is neither stored nor undone.

    Signals
    -------
    changed() : on or off, side or volume
    """

    changed = Signal()

    def __init__(self, workspace: Workspace, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace = workspace
        self.on, self.inside, self.key = False, True, ""
        workspace.case_changed.connect(self._case_changed)

    @property
    def volume(self) -> Volume | None:
        """The guarding volume, if it still exists."""
        case = self._workspace.case
        return case.volume(self.key) if case is not None and self.key else None

    @property
    def standing(self) -> Volume | None:
        """The guarding volume while the guard is on and has something to hold against; the painted volume cannot."""
        volume = self.volume if self.on else None
        active = self._workspace.volume
        return None if volume is None or (active is not None and active.key == volume.key) else volume

    def set(self, *, on: bool | None = None, inside: bool | None = None, key: str | None = None) -> None:
        """Change what is given. Turned on without a volume it takes the outline of the body, else the first other one."""
        before = (self.on, self.inside, self.key)
        self.on = self.on if on is None else on
        self.inside = self.inside if inside is None else inside
        self.key = self.key if key is None else key
        if self.on and self.volume is None:
            self.key = self.first()
            self.on = bool(self.key)
        if before != (self.on, self.inside, self.key):
            self.changed.emit()

    def words(self) -> str:
        """Say what the guard does, or ""."""
        volume = self.volume
        if not self.on or volume is None:
            return ""
        if self.standing is None:
            return QCoreApplication.translate("Guard", "Guard rests: {} cannot guard itself").format(volume.name)
        if self.inside:
            return QCoreApplication.translate("Guard", "Only inside {}").format(volume.name)
        return QCoreApplication.translate("Guard", "Only outside {}").format(volume.name)

    def allowed(self, axis: str, index: int) -> NDArray[np.uint8] | None:
        """Return the share of each pixel of a plane that may change, or None for all."""
        from engine.volumes.guard import allowed_by
        from engine.volumes.planes import slice_of

        volume = self.standing
        return None if volume is None else allowed_by(slice_of(volume.coverage, axis, index), self.inside)

    def first(self) -> str:
        """Return the key of the volume taken if none is chosen: the body, else the first other one, or ""."""
        case, active = self._workspace.case, self._workspace.volume
        if case is None:
            return ""
        others = [v for v in case.volumes if v is not active and not v.coverage.is_empty]
        body = next((v for v in others if v.role == "EXTERNAL"), None)
        return body.key if body is not None else others[0].key if others else ""

    def _case_changed(self, before: Any, after: Any) -> None:
        if self.on and self.volume is None:
            self.set(on=False)
