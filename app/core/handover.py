"""The hand-over of volumes to planning: releasing, withdrawing, and saying when a change lets a release lapse."""

from __future__ import annotations

from datetime import UTC, datetime

from PySide6.QtCore import QObject, Signal

from app.core.language import translated
from app.core.messages import Messages
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.case import release
from engine.case.case import Case

TOPIC = "case/release"


class Handover(QObject):
    """Follows the case and says once per release that it lapsed, with the way back.

    Signals
    -------
    changed() : state, release or what changed since may be others now
    """

    changed = Signal()

    def __init__(self, workspace: Workspace, messages: Messages) -> None:
        super().__init__(workspace)
        self._workspace, self._messages = workspace, messages
        self._told: set[str] = set()
        self.release: release.Release | None = None
        self.lapsed_by: tuple[str, ...] = ()
        workspace.case_changed.connect(self._follow)
        self._follow(None, workspace.case)

    @property
    def state(self) -> str:
        """ "in work", "released" or "lapsed"."""
        return "in work" if self.release is None else "lapsed" if self.lapsed_by else "released"

    def give(self, who: str, note: str = "") -> bool:
        """Release the volumes as they are, as one undoable step; says what is missing for it."""
        case = self._workspace.case
        if case is None:
            return False
        at = datetime.now(UTC).isoformat(timespec="seconds")
        try:
            after = release.released(case, who, at, note)
        except UserError as error:
            self._messages.warning(translated(error))
            return False
        self._workspace.edit(self.tr("Release the volumes"), after)
        return True

    def withdraw(self) -> None:
        """Take the volumes back into work, as one undoable step."""
        case = self._workspace.case
        if case is not None and case.releases:
            self._workspace.edit(self.tr("Take the volumes back into work"), release.withdrawn(case))

    def _follow(self, before: Case | None, after: Case | None) -> None:
        same = before is not None and after is not None and before.volumes is after.volumes
        if same and before is not None and after is not None and before.releases is after.releases:
            return
        held = self.release if self.state == "released" else None
        self.release = release.last_release(after) if after is not None else None
        self.lapsed_by = release.changed_since(after, self.release) if after is not None and self.release else ()
        if self.state == "lapsed":
            self._ask(held)
        else:
            self._messages.settle(TOPIC)
        self.changed.emit()

    def _ask(self, held: release.Release | None) -> None:
        if held is None or held != self.release or held.digest in self._told:
            return
        self._told.add(held.digest)
        words = self.tr("{} released these volumes for planning. With this change of {} the release lapses.")
        text = words.format(held.who, ", ".join(self.lapsed_by[:3]))
        # The stack counts a step once it has been done: at this moment it still stands before the change.
        before = self._workspace.undo_stack.index()
        self._messages.warning(text, self.tr("Undo the change"), lambda: self._back_to(before), TOPIC)

    def _back_to(self, index: int) -> None:
        """Go back to before the change; what was done after it can be redone."""
        stack = self._workspace.undo_stack
        if index < stack.index():
            stack.setIndex(index)
        if self.state == "lapsed":
            stack.undo()
