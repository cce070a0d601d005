"""The open case and everything that follows it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from engine.base.values import Fingerprint, Value
from engine.beams.beam import Beam
from engine.case import edits
from engine.case.case import Case, Draft
from engine.case.requests import Standing, standing
from engine.volumes.volume import Volume

Point = tuple[float, float, float]


def only_beams(before: Case | None, after: Case | None) -> bool:
    """Whether an edit left all of a case but beams and their weights as it was: what shows neither need not look again.

    A step that was refused (the same case twice) is none: what was typed is to be taken back then.
    """
    if before is None or after is None or before is after or len(before.drafts) != len(after.drafts):
        return False
    return _same(_BESIDE_DRAFTS, before, after) and all(
        a is b or _same(_BESIDE_BEAMS, a, b) for a, b in zip(before.drafts, after.drafts, strict=True)
    )


def _same(names: tuple[str, ...], one: Value, other: Value) -> bool:
    return all(getattr(one, name) is getattr(other, name) for name in names)


_BESIDE_DRAFTS = tuple(f.name for f in fields(Case) if f.name != "drafts")
_BESIDE_BEAMS = tuple(f.name for f in fields(Draft) if f.name not in ("beams", "weights"))

BEFORE_KEPT = 32


class EditCase(QUndoCommand):
    """One undoable step: the case before and after. Steps with the same merge text in a row become one."""

    def __init__(self, workspace: Workspace, text: str, before: Case, after: Case, merge: str | None) -> None:
        super().__init__(text)
        self._workspace, self._before, self._after, self._merge = workspace, before, after, merge

    def id(self) -> int:
        return -1 if self._merge is None else hash(self._merge) & 0x7FFFFFFF

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, EditCase) or other._merge != self._merge:
            return False
        self._after = other._after
        return True

    def undo(self) -> None:
        self._workspace._swap(self._before)

    def redo(self) -> None:
        self._workspace._swap(self._after)


class Workspace(QObject):
    """Holds the case, the results by fingerprint, the shared cursor and what is active. Views follow its signals.

    Signals
    -------
    case_changed(before, after) : Case or None each; redraw a part only if ``before.part is not after.part``
    results_changed() : a result was filed
    cursor_changed(point) : (x, y, z) mm, patient axes
    active_changed() : another volume, draft or beam is active
    shown_changed() : volumes were hidden or shown again (``hidden``, a matter of looking, not of the case)
    message(level, text) : "info", "warning" or "error"; for the message strip
    """

    case_changed = Signal(object, object)
    results_changed = Signal()
    cursor_changed = Signal(object)
    active_changed = Signal()
    shown_changed = Signal()
    message = Signal(str, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._case: Case | None = None
        self.undo_stack = QUndoStack(self)
        self.results: dict[Fingerprint, Value] = {}
        # How often the results changed: what was said of them is known to be old by it.
        self.results_turn = 0
        self.read_only = False
        self.hidden: frozenset[str] = frozenset()
        self._cursor: Point = (0.0, 0.0, 0.0)
        self._volume_key = self._draft_key = self._beam_key = ""
        self._volumes_before: list[str] = []  # the active ones from before, the latest first
        self._standing: tuple[Any, ...] = (None,)

    @property
    def case(self) -> Case | None:
        """The present case, or None."""
        return self._case

    def open(self, case: Case | None, results: dict[Fingerprint, Value] | None = None, read_only: bool = False) -> None:
        """Show another case (or none); clears undo."""
        self.undo_stack.clear()
        self.results = dict(results or {})
        self.read_only = read_only
        self.hidden = frozenset()
        if case is not None:
            middle = case.image.grid.centre_mm
            self._cursor = middle
            self._volume_key = case.volumes[0].key if case.volumes else ""
            self._volumes_before = []
            self._draft_key = case.drafts[-1].key if case.drafts else ""
            draft = case.drafts[-1] if case.drafts else None
            self._beam_key = draft.beams[0].key if draft and draft.beams else ""
        self._swap(case)
        self.cursor_changed.emit(self._cursor)
        self.active_changed.emit()

    def edit(self, text: str, case: Case, merge: str | None = None) -> None:
        """Make `case` the present one as one undoable step; a run of equal `merge` texts becomes one step."""
        if self._case is None or case is self._case or case == self._case:
            return
        if self.read_only:
            self.message.emit(
                "warning", self.tr("This case is open elsewhere, so it is read-only here. Save a copy to work on it.")
            )
            self.case_changed.emit(self._case, self._case)
            return
        self.undo_stack.push(EditCase(self, text, self._case, case, merge))

    def amend(self, text: str, case: Case) -> None:
        """Let what follows from the last step become part of it; a step of its own (`text`) when there is none."""
        if self._case is None or case == self._case or self.read_only:
            return
        stack, at = self.undo_stack, self.undo_stack.index()
        last = stack.command(at - 1) if at else None
        if not isinstance(last, EditCase) or last._after is not self._case:
            self.edit(text, case)
            return
        last._after = case
        following = stack.command(at)
        if isinstance(following, EditCase):
            following._before = case
        self._swap(case)

    def edit_draft(self, text: str, draft: Draft, merge: str | None = None) -> None:
        """Replace a draft as one undoable step."""
        if self._case is not None:
            self.edit(text, edits.with_draft(self._case, draft), merge)

    def end_merge(self) -> None:
        """Close a run of merged steps: the next edit starts a new one."""
        if self.undo_stack.count():
            command = self.undo_stack.command(self.undo_stack.count() - 1)
            if isinstance(command, EditCase):
                command._merge = None

    def file_result(self, result: Any) -> None:
        """Keep a result under the fingerprint of the request it answers."""
        self.results[result.inputs] = result
        self.results_turn += 1
        self.results_changed.emit()

    def drop_results(self, fingerprints: Iterable[Fingerprint]) -> None:
        """Forget results that can be computed again and that nothing shown needs; nobody is told."""
        for fingerprint in fingerprints:
            self.results.pop(fingerprint, None)
        self.results_turn += 1

    @property
    def standing(self) -> Standing:
        """How the stored doses stand against the active draft; remembered while weights and goals change.

        Raises
        ------
        UserError
            If the draft cannot ask for doses as it is.
        """
        case, draft = self._case, self.draft
        if case is None or draft is None:
            return Standing("none")
        key = (
            draft.beams, case.volumes, case.image, case.curve, case.machines, draft.dose_spacing_mm, draft.report_to,
            self.results_turn, id(self.results),
        )  # fmt: skip
        if len(self._standing) != 2 or any(a is not b and a != b for a, b in zip(self._standing[0], key, strict=True)):
            self._standing = (key, standing(case, draft, self.results))
        return self._standing[1]

    @property
    def cursor_mm(self) -> Point:
        """The point all views share."""
        return self._cursor

    def set_cursor(self, point_mm: Point) -> None:
        """Move the shared point."""
        point = (float(point_mm[0]), float(point_mm[1]), float(point_mm[2]))
        if point != self._cursor:
            self._cursor = point
            self.cursor_changed.emit(point)

    @property
    def volume(self) -> Volume | None:
        """The active volume: the chosen one; when undo has taken it away, the one chosen before."""
        if self._case is None or not self._volume_key:
            return None
        chosen = (self._case.volume(key) for key in (self._volume_key, *self._volumes_before))
        return next((volume for volume in chosen if volume is not None), None)

    @property
    def draft(self) -> Draft | None:
        """The active draft: the chosen one, else the last."""
        if self._case is None or not self._case.drafts:
            return None
        return self._case.draft(self._draft_key) or self._case.drafts[-1]

    @property
    def beam(self) -> Beam | None:
        """The active beam of the active draft: the chosen one, else the first."""
        draft = self.draft
        if draft is None or not draft.beams:
            return None
        return next((b for b in draft.beams if b.key == self._beam_key), draft.beams[0])

    def activate(self, *, volume: str | None = None, draft: str | None = None, beam: str | None = None) -> None:
        """Choose the active volume, draft or beam by key."""
        before = (self._volume_key, self._draft_key, self._beam_key)
        if volume is not None and volume != self._volume_key:
            self._volumes_before = [self._volume_key, *(k for k in self._volumes_before if k != volume)][:BEFORE_KEPT]
            self._volume_key = volume
        self._draft_key = self._draft_key if draft is None else draft
        self._beam_key = self._beam_key if beam is None else beam
        if before != (self._volume_key, self._draft_key, self._beam_key):
            self.active_changed.emit()

    def show_volume(self, key: str, shown: bool) -> None:
        """Show a volume on the stage or hide it there."""
        self.hide(self.hidden - {key} if shown else self.hidden | {key})

    def hide(self, hidden: frozenset[str]) -> None:
        """Hide these volumes on the stage and show all others."""
        if hidden != self.hidden:
            self.hidden = hidden
            self.shown_changed.emit()

    def _swap(self, case: Case | None) -> None:
        before, self._case = self._case, case
        self.case_changed.emit(before, case)
