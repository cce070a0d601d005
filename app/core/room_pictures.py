"""Surfaces of the volumes of a case, made by jobs and remembered by content."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core import warm
from app.core.jobs import JobRunner
from engine import compute
from engine.base.values import Value
from engine.case.case import Case
from engine.volumes.volume import Volume

KIND = "surfaces"
# The body is large and only a veil.
BODY_CELL_MM, CELL_MM = 6.0, 3.0


class RoomPictures(QObject):
    """Signals: changed() when a surface has come."""

    changed = Signal()

    def __init__(self, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs = jobs
        self._requests: dict[Any, Any] = {}
        self._made: dict[str, Any] = {}
        jobs.result.connect(self._on_result)

    def want(self, case: Case) -> None:
        """Have the surfaces made that are missing; those of volumes that are gone are forgotten."""
        held = {self._request(v).fingerprint for v in case.volumes}
        self._made = {k: v for k, v in self._made.items() if k in held}
        self._requests = {k: r for k, r in self._requests.items() if r.fingerprint in held}
        missing = [r for v in case.volumes if (r := self._request(v)).fingerprint not in self._made]
        if missing:
            self._jobs.submit(KIND, missing)

    def surface(self, volume: Volume) -> Any:
        """Return the surface of a volume, or None until it has come and can be drawn."""
        if warm.pending(warm.VIEWS):
            return None
        return self._made.get(self._request(volume).fingerprint)

    def _request(self, volume: Volume) -> Any:
        key = (volume.coverage, volume.role == "EXTERNAL")
        if key not in self._requests:
            cell = BODY_CELL_MM if key[1] else CELL_MM
            self._requests[key] = compute.request("ShellRequest", coverage=volume.coverage, cell_mm=cell)
        return self._requests[key]

    def _on_result(self, kind: str, request: Value, value: Any) -> None:
        if kind == KIND:
            self._made[request.fingerprint] = value
            self.changed.emit()
