"""Looks at the volumes after every edit, off the screen thread, marks those where something is to be seen and lists it."""

from __future__ import annotations

from itertools import combinations
from typing import Any

from PySide6.QtCore import QObject, QTimer

from app.core import warm
from app.core.context import Context
from app.core.language import translated
from app.models.volume_table import VolumeTable
from app.panels.volume_findings import SKIN, VolumeFindings
from engine import compute
from engine.base.values import Value
from engine.case.case import Case
from engine.volumes.evidence import EMPTY, SCAN_END, SIZE, UNLISTED, Evidence
from engine.volumes.volume import Volume

KIND = "volume-checks"
REST_MS = 600
KEPT, KEPT_PAIRS = 400, 8000
_LISTED_ONLY = (EMPTY, SIZE, UNLISTED)  # an empty volume is no fault while painting is in work; before signing it is

Key = tuple[Any, ...]
# What was seen, in words as well, and the very coverages it was seen in: held, so that an id is never used twice.
Seen = tuple[list[tuple[Evidence, str]], tuple[Any, ...]]
NOTHING: Seen = ([], ())


class VolumeChecks(QObject):
    """Asks for evidence of the volumes that changed, by themselves or because the body did, and keeps the rest.

    What was seen is kept by coverage and name: hashing a body at every stroke would cost more than the stroke. The worker
    gives way to the hand: nobody waits for marks.
    """

    def __init__(self, context: Context, table: VolumeTable, panel: VolumeFindings) -> None:
        super().__init__()
        self._context, self._table, self._panel = context, table, panel
        self._seen: dict[Key, Seen] = {}
        self._pairs: dict[frozenset[Key], Seen] = {}
        self._asked: tuple[Value | None, Case | None] = (None, None)
        self._marked = 0
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._ask)
        context.jobs.result.connect(self._result)
        context.settings.changed.connect(lambda key: self._again() if key == SKIN else None)
        for hand in (context.workspace.case_changed, context.workspace.cursor_changed, context.stage.hovered):
            hand.connect(context.jobs.hand_works)

    @property
    def marked(self) -> int:
        """How many volumes of the case carry a mark."""
        return self._marked

    def evidence(self) -> list[Evidence]:
        """Return what is known of the case's volumes as they are now."""
        return [e for e, _ in self._known()]

    def _known(self) -> list[tuple[Evidence, str]]:
        case = self._context.workspace.case
        if case is None:
            return []
        found: list[tuple[Evidence, str]] = []
        for v in case.volumes:
            found += self._seen.get(self._key(case, v), NOTHING)[0]
        for a, b in combinations([_one(v) for v in case.volumes], 2):
            found += self._pairs.get(frozenset((a, b)), NOTHING)[0]
        return found

    def look(self, case: Case | None) -> None:
        """Look at the case's volumes once the hand rests."""
        if case is not None:
            self._rest.start()
        else:
            self._seen.clear()
            self._pairs.clear()
        self._show()

    def _again(self) -> None:
        self._show()
        self._context.refresh_states()
        self._rest.start()

    def _show(self) -> None:
        known = self._known()
        marks = self._marks(known)
        self._marked = len(marks)
        self._table.set_marks(marks)
        self._context.stage.strip.set_marks(_rows(known))
        self._panel.show_seen(self._context.workspace.case, [e for e, _ in known])

    def _key(self, case: Case, v: Volume) -> Key:
        body = case.body.coverage if case.body is not None and v.role != "EXTERNAL" else None
        skin = self._context.settings.get(SKIN) if v.is_target else 0.0
        return (*_one(v), id(body), skin)

    def _marks(self, known: list[tuple[Evidence, str]]) -> dict[str, list[str]]:
        case = self._context.workspace.case
        targets = {v.key for v in case.volumes if v.is_target} if case is not None else set()
        marks: dict[str, list[str]] = {}
        for e, words in known:
            if e.code not in _LISTED_ONLY and (e.code != SCAN_END or e.volume_key in targets):
                marks.setdefault(e.volume_key, []).append(words)
        return marks

    def _ask(self) -> None:
        case = self._context.workspace.case
        if case is None:
            return
        if self._context.stage.painting or warm.pending(warm.SHAPES):
            self._rest.start()
            return
        wanted = [v for v in case.volumes if self._key(case, v) not in self._seen]
        keys = {v.key for v in wanted}  # never "v in wanted": comparing values hashes them
        for a, b in combinations(case.volumes, 2):
            if a.key not in keys and b.key not in keys and _pair(a, b) not in self._pairs:
                wanted.append(a)
                keys.add(a.key)
        if not wanted:
            return
        request = compute.request(
            "CheckVolumes",
            volumes=tuple(wanted),
            body=case.body,
            among=case.volumes,
            skin_mm=self._context.settings.get(SKIN),
        )
        self._asked = (request, case)
        self._context.jobs.submit(KIND, [request], gives_way=True)

    def _result(self, kind: str, request: Value, evidence: Any) -> None:
        asked, case = self._asked
        if kind != KIND or request is not asked or case is None:
            return
        body = case.body.coverage if case.body is not None else None
        wanted = {v.key for v in request.volumes}  # type: ignore[attr-defined]
        for v in case.volumes:
            if v.key in wanted:
                here = [e for e in evidence if e.volume_key == v.key and not e.other_key]
                key = (*self._key(case, v)[:-1], request.skin_mm if v.is_target else 0.0)  # type: ignore[attr-defined]
                self._seen[key] = (_told(here), (v.coverage, body))
        for a, b in combinations(case.volumes, 2):
            if a.key in wanted or b.key in wanted:
                both = [e for e in evidence if e.other_key and {e.volume_key, e.other_key} == {a.key, b.key}]
                self._pairs[_pair(a, b)] = (_told(both), (a.coverage, b.coverage))
        self._asked = (None, None)
        for kept, most in ((self._seen, KEPT), (self._pairs, KEPT_PAIRS)):
            while len(kept) > most:
                kept.pop(next(iter(kept)))  # type: ignore[attr-defined]
        self._show()
        self._context.refresh_states()


def _one(v: Volume) -> Key:
    return (v.key, id(v.coverage), v.name, v.role)


def _pair(a: Volume, b: Volume) -> frozenset[Key]:
    return frozenset((_one(a), _one(b)))


def _told(seen: list[Evidence]) -> list[tuple[Evidence, str]]:
    return [(e, translated(e.words)) for e in seen]


def _rows(known: list[tuple[Evidence, str]]) -> dict[str, list[tuple[tuple[int, ...], str]]]:
    """Return what is to be marked on the stack strip: key of a volume -> (planes, sentence)."""
    rows: dict[str, list[tuple[tuple[int, ...], str]]] = {}
    for e, words in known:
        if e.code not in _LISTED_ONLY and e.planes:
            rows.setdefault(e.volume_key, []).append((e.planes, words))
    return rows
