"""Looks at the volumes after every edit, off the screen thread, and marks those where something is to be seen."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer

from app.core.context import Context
from app.models.volume_table import VolumeTable
from engine import compute
from engine.base.values import Value
from engine.case.case import Case

KIND = "volume-checks"
REST_MS = 600


class VolumeChecks(QObject):
    """Asks for evidence of the volumes that changed, by themselves or because the body did, and keeps the rest."""

    def __init__(self, context: Context, table: VolumeTable) -> None:
        super().__init__()
        self._context, self._table = context, table
        self._seen: dict[tuple[str, str, str, str], list[str]] = {}
        self._asked: dict[str, list[tuple[str, str, str, str]]] = {}
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._ask)
        context.jobs.result.connect(self._result)

    @property
    def marked(self) -> int:
        """How many volumes of the case carry a mark."""
        return sum(1 for words in self._marks().values() if words)

    def look(self, case: Case | None) -> None:
        """Look at the case's volumes once the hand rests."""
        self._table.set_marks(self._marks())
        if case is not None:
            self._rest.start()
        else:
            self._seen.clear()

    def _keys(self, case: Case) -> dict[str, tuple[str, str, str, str]]:
        body = case.body.coverage.fingerprint if case.body is not None else ""
        return {v.key: (v.coverage.fingerprint, v.name, v.role, "" if v.role == "EXTERNAL" else body) for v in case.volumes}

    def _marks(self) -> dict[str, list[str]]:
        case = self._context.workspace.case
        if case is None:
            return {}
        return {key: self._seen[k] for key, k in self._keys(case).items() if self._seen.get(k)}

    def _ask(self) -> None:
        case = self._context.workspace.case
        if case is None or self._context.stage.painting:
            self._rest.start() if case is not None else None
            return
        keys = self._keys(case)
        wanted = [v for v in case.volumes if keys[v.key] not in self._seen]
        if not wanted:
            self._table.set_marks(self._marks())
            return
        if case.body is not None and case.body not in wanted:
            wanted.append(case.body)
        request = compute.request("CheckVolumes", volumes=tuple(wanted))
        self._asked = {request.fingerprint: [keys[v.key] for v in wanted]}
        self._context.jobs.submit(KIND, [request])

    def _result(self, kind: str, request: Value, evidence: Any) -> None:
        keys = self._asked.get(request.fingerprint) if kind == KIND else None
        if keys is None:
            return
        for volume, key in zip(request.volumes, keys):  # type: ignore[attr-defined]
            self._seen[key] = [e.words for e in evidence if e.volume_key == volume.key]
        self._table.set_marks(self._marks())
        self._context.refresh_states()
