"""Makes derived volumes again, beside the screen, whenever what they stand on has changed."""

from __future__ import annotations

from collections import OrderedDict
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.messages import Messages
from app.core.workspace import Workspace
from engine.base.errors import UserError
from engine.base.values import Fingerprint, Value
from engine.case import derived, edits
from engine.case.case import Case
from engine.volumes.volume import Volume

KIND = "derived-volumes"
REST_MS = 120
KEPT = 40


class DerivedVolumes(QObject):
    """Follows the case: what is old is asked for in order, parents first, and joins the step that made it old.

    So one undo takes back the edit of a parent and all that followed from it; the case before holds the old shapes. What
    was made is kept for a while by the request it answers, so that redo and undo back and forth need no computing.

    Signals
    -------
    changed() : which volumes are old, or why one could not be made, changed
    """

    changed = Signal()

    def __init__(self, workspace: Workspace, jobs: JobRunner, messages: Messages) -> None:
        super().__init__(workspace)
        self._workspace, self._jobs, self._messages = workspace, jobs, messages
        self._made: OrderedDict[Fingerprint, Any] = OrderedDict()
        self._failed: dict[Fingerprint, str] = {}
        self._asked: Value | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._ask)
        workspace.case_changed.connect(self._case_changed)
        jobs.result.connect(self._result)
        jobs.failed.connect(self._on_failed)

    def state_of(self, volume: Volume) -> str:
        """Return how a derived volume stands, in words: being made again, or why it cannot be; "" when current."""
        case = self._workspace.case
        if case is None or volume.recipe is None or volume.key not in derived.out_of_date(case):
            return ""
        request = derived.request_of(case, volume)
        why = self._failed.get(request.fingerprint) if request is not None else None
        return self.tr("it could not be made again: {}").format(why) if why else self.tr("it is being made again")

    def make_plain(self, key: str) -> None:
        """Let a derived volume keep its shape and follow nothing any more, as one undoable step."""
        case = self._workspace.case
        volume = case.volume(key) if case is not None else None
        if case is not None and volume is not None:
            self._workspace.edit(self.tr("Make {} a plain volume").format(volume.name), derived.plain(case, key))

    def set_numbers(self, key: str, numbers: tuple[float, ...]) -> None:
        """Change the numbers of a recipe as one undoable step; raises UserError when they cannot be."""
        case = self._workspace.case
        volume = case.volume(key) if case is not None else None
        if case is None or volume is None or volume.recipe is None:
            return
        recipe = volume.recipe.with_numbers(numbers)
        if recipe.numbers != volume.recipe.numbers:
            text = self.tr("Change how {} is derived").format(volume.name)
            self._workspace.edit(text, derived.derive(case, key, recipe))

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if after is None or before is after:
            return
        if before is None or before.image is not after.image:
            self._made.clear()
            self._failed.clear()
        elif before.volumes is after.volumes:
            return
        else:
            self._tell(before, after)
        if derived.out_of_date(after):
            self._rest.start()
        self.changed.emit()

    def _ask(self) -> None:
        case = self._workspace.case
        if case is None or self._workspace.read_only:
            return
        wanted = derived.next_wanted(case)
        made = case
        while wanted is not None and wanted[1].fingerprint in self._made:
            made = derived.with_made(made, wanted[0], self._made[wanted[1].fingerprint])
            wanted = derived.next_wanted(made)
        if made is not case:
            self._workspace.amend(self.tr("Make derived volumes again"), made)
        self._asked = None
        if wanted is not None and wanted[1].fingerprint not in self._failed:
            self._asked = wanted[1]
            self._jobs.submit(KIND, [wanted[1]])

    def _result(self, kind: str, request: Value, shaped: Any) -> None:
        if kind != KIND:
            return
        self._made[request.fingerprint] = shaped
        while len(self._made) > KEPT:
            self._made.popitem(last=False)
        self._ask()

    def _on_failed(self, kind: str, error: BaseException) -> None:
        if kind != KIND or self._asked is None:
            return
        words = translated(error) if isinstance(error, UserError) else self.tr("the log says why")
        self._failed[self._asked.fingerprint] = words
        self.changed.emit()

    def _tell(self, before: Case, after: Case) -> None:
        """Say which volumes follow nothing any more because the hand changed them or deleted what they stood on."""
        for old in before.volumes:
            new = after.volume(old.key) if old.recipe is not None else None
            if new is None or new.recipe is not None or old.recipe is None:
                continue
            names = derived.in_words(before, old)
            topic = f"case/plain/{old.key}"
            if new.coverage is not old.coverage:
                text = self.tr("{} was derived ({}). Now it is a plain volume with the shape you gave it.")
                self._messages.warning(
                    text.format(new.name, names), self.tr("Derive it again"), lambda v=old: self._again(v), topic
                )
            elif any(after.volume(p) is None for p in old.recipe.parents):
                text = self.tr("{} was derived ({}). It keeps its shape as a plain volume; undo brings both back.")
                self._messages.info(text.format(new.name, names), topic=topic)
        for new in after.volumes:
            old_ = before.volume(new.key)
            if new.recipe is not None and old_ is not None and old_.recipe is None:
                self._messages.settle(f"case/plain/{new.key}")

    def _again(self, old: Volume) -> None:
        """Take the recipe up again for a volume that was painted over: its shape is made from the parents anew."""
        case = self._workspace.case
        volume = case.volume(old.key) if case is not None else None
        if case is None or volume is None or old.recipe is None:
            return
        text = self.tr("Derive {} again").format(volume.name)
        try:
            after = derived.derive(case, old.key, old.recipe.but(made_from=()))
        except UserError as error:
            self._messages.failure(error)
            return
        self._workspace.edit(text, edits.with_volume(case, after.volume(old.key) or volume))
