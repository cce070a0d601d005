"""Looks at the volumes after every edit, off the screen thread, and marks those where something is to be seen."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer

from app.core.context import Context
from app.core.language import translated
from app.models.volume_table import VolumeTable
from engine import compute
from engine.base.values import Value
from engine.case.case import Case
from engine.volumes.volume import Volume

KIND = "volume-checks"
EMPTY = "volume-empty"  # as in engine.volumes.quality, which loads compiled code
REST_MS = 600


Key = tuple[int, str, str, int]
KEPT = 400


class VolumeChecks(QObject):
    """Asks for evidence of the volumes that changed, by themselves or because the body did, and keeps the rest.

    What was seen is kept by the very coverages it was seen in (held, so that an id is never used twice): hashing a body
    at every stroke would cost more than the stroke.
    """

    def __init__(self, context: Context, table: VolumeTable) -> None:
        super().__init__()
        self._context, self._table = context, table
        self._seen: dict[Key, tuple[list[str], Any, Any]] = {}
        self._asked: tuple[Value | None, list[tuple[Key, Any, Any]]] = (None, [])
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._ask)
        context.jobs.result.connect(self._result)

    @property
    def marked(self) -> int:
        """How many volumes of the case carry a mark."""
        return len(self._marks())

    def look(self, case: Case | None) -> None:
        """Look at the case's volumes once the hand rests."""
        self._table.set_marks(self._marks())
        if case is not None:
            self._rest.start()
        else:
            self._seen.clear()

    def _keys(self, case: Case) -> list[tuple[Volume, Key, Any]]:
        body = case.body.coverage if case.body is not None else None
        against = [None if v.role == "EXTERNAL" else body for v in case.volumes]
        return [(v, (id(v.coverage), v.name, v.role, id(b)), b) for v, b in zip(case.volumes, against)]

    def _marks(self) -> dict[str, list[str]]:
        case = self._context.workspace.case
        if case is None:
            return {}
        found = {v.key: self._seen[key][0] for v, key, _ in self._keys(case) if key in self._seen}
        return {key: words for key, words in found.items() if words}

    def _ask(self) -> None:
        case = self._context.workspace.case
        if case is None:
            return
        if self._context.stage.painting:
            self._rest.start()
            return
        wanted = [(v, key, body) for v, key, body in self._keys(case) if key not in self._seen]
        if not wanted:
            self._table.set_marks(self._marks())
            return
        volumes = [v for v, _, _ in wanted]
        request = compute.request("CheckVolumes", volumes=tuple(volumes), body=case.body)
        self._asked = (request, [(key, v.coverage, body) for v, key, body in wanted])
        self._context.jobs.submit(KIND, [request])

    def _result(self, kind: str, request: Value, evidence: Any) -> None:
        if kind != KIND or request is not self._asked[0]:
            return
        for volume, (key, coverage, body) in zip(request.volumes, self._asked[1]):  # type: ignore[attr-defined]
            # An empty volume is no fault while painting is in work; before signing it is (engine.review).
            here = [e for e in evidence if e.volume_key == volume.key and e.code != EMPTY]
            self._seen[key] = ([translated(e.words) for e in here], coverage, body)
        while len(self._seen) > KEPT:
            self._seen.pop(next(iter(self._seen)))
        self._table.set_marks(self._marks())
        self._context.refresh_states()
