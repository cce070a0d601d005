"""Runs the operations of the Outline station: preview first, then one edit."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, QTimer

from app.core.context import Context
from app.core.language import translated
from app.panels.volume_list import VolumeList
from app.panels.volume_operations import VolumeOperations
from engine import compute
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case import edits
from engine.case.case import Case
from engine.volumes.coverage import Coverage
from engine.volumes.recipe import FOLLOWING, Recipe

KIND = "volume-operation"
WAIT_MS = 150


class Operations(QObject):
    """Turns what the form says into a request, its result into a preview, and Apply into an edit.

    A result is shown only if it answers the request the form makes now, so a late one can do no harm.
    """

    def __init__(self, context: Context, form: VolumeOperations, volumes: VolumeList) -> None:
        super().__init__()
        self._context, self._form, self._list = context, form, volumes
        self._awake = False
        self._asked: Value | None = None
        self._made: Coverage | None = None
        self._wait = QTimer(self, singleShot=True, interval=WAIT_MS)
        self._wait.timeout.connect(self._ask)
        form.changed.connect(self._again)
        form.apply_wanted.connect(self.apply)
        form.discard_wanted.connect(lambda: form.choose(None))
        w = context.workspace
        w.case_changed.connect(self._case_changed)
        w.active_changed.connect(self._volumes_changed)
        w.cursor_changed.connect(self._moved)
        context.jobs.result.connect(self._result)
        context.jobs.failed.connect(self._failed)

    def wake(self, awake: bool) -> None:
        """Make previews while the form is in front, none otherwise."""
        self._awake = awake
        self._volumes_changed()

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if before is None or after is None or before.volumes is not after.volumes:
            self._volumes_changed()

    def _volumes_changed(self) -> None:
        self._form.show_volumes(self._context.workspace.case, self._context.workspace.volume)
        self._again()

    def _moved(self, point: Any) -> None:
        o = self._form.operation
        if o is not None and o.name.startswith("copy"):
            self._again()

    def _again(self) -> None:
        """What is shown no longer holds: drop it, and ask anew once the hand rests."""
        self._made, self._asked = None, None
        self._context.stage.preview.show(None)
        self._context.jobs.cancel(KIND)
        self._form.show_outcome("", False)
        if self._awake and self._form.operation is not None:
            self._wait.start()
        else:
            self._wait.stop()

    def request(self) -> Value | str:
        """Return the request of the form, or words saying what is missing for it."""
        w, o = self._context.workspace, self._form.operation
        assert o is not None
        case, volume = w.case, w.volume
        if case is None:
            return self.tr("Open a patient first.")
        if o.name == "body":
            return compute.request("FindBody", image=case.image, threshold_hu=self._form.numbers[0])
        if volume is None:
            return self.tr("Choose a volume first.")
        if volume.coverage.is_empty and o.name != "union":
            return self.tr("{} is empty. Paint it first.").format(volume.name)
        other = case.volume(self._form.other.currentData() or "") if o.other else None
        if o.other and other is None:
            return self.tr("This needs a second volume.")
        what, numbers = o.name, self._form.numbers
        if o.name.startswith("copy"):
            here = case.image.grid.plane_at(w.cursor_mm[2])
            there = here + (1 if o.name == "copy above" else -1)
            if volume.coverage.tile(there) is None:
                return self.tr("{} holds nothing on that slice.").format(volume.name)
            what, numbers = "copy slice", (there, here)
        return compute.request(
            "ShapeVolume",
            what=what,
            coverage=volume.coverage,
            other=other.coverage if other is not None else None,
            image=case.image if o.name == "threshold" else None,
            numbers=numbers,
        )

    def _ask(self) -> None:
        if not self._awake or self._form.operation is None:
            return
        asked = self.request()
        if isinstance(asked, str):
            self._form.show_outcome(asked, False)
            return
        self._asked = asked
        self._form.show_outcome(self.tr("Working\u2026"), False)
        self._context.jobs.submit(KIND, [asked])

    def _result(self, kind: str, request: Value, value: Any) -> None:
        if kind != KIND or self._asked is None or request != self._asked:
            return
        made: Coverage = value if isinstance(value, Coverage) else value.coverage
        volume = self._context.workspace.volume
        before = volume.coverage if volume is not None else None
        self._made = made
        self._context.stage.preview.show(made)
        words = self.tr("{:.2f} cm\u00b3 on {} slices").format(made.volume_cm3, len(made.tiles))
        if before is not None and not self._form.fresh.isChecked() and self._form.operation is not None:
            if before == made:
                self._form.show_outcome(self.tr("This changes nothing."), False)
                return
            if self._form.operation.needs_shape:
                words = self.tr("{:.2f} cm\u00b3 becomes {}").format(before.volume_cm3, words)
        self._form.show_outcome(words, True)

    def _failed(self, kind: str, error: BaseException) -> None:
        if kind == KIND:
            words = translated(error) if isinstance(error, UserError) else self.tr("This failed; the log says why.")
            self._form.show_outcome(words, False)

    def apply(self) -> None:
        """Make the previewed shape one undoable step."""
        made, o, w = self._made, self._form.operation, self._context.workspace
        if made is None or o is None or w.case is None:
            return
        case, volume = w.case, w.volume
        body = case.body
        note = self._note()
        if o.name == "body" and body is not None and not self._form.fresh.isChecked():
            target = body
        elif o.name == "body":
            self._list.make(made, "Body" if body is None else "Body_2", "EXTERNAL" if body is None else "OTHER", note)
            self._form.choose(None)
            return
        elif volume is None:
            return
        elif self._form.fresh.isChecked():
            name, role = (f"{volume.name}_m", "OTHER")
            if o.name == "margin" and volume.role in ("GTV", "CTV", "ITV"):
                role = "CTV" if volume.role == "GTV" else "PTV"
                name = volume.name.replace(volume.role, role) if volume.role in volume.name else role
            elif o.name == "margin" and volume.role == "OAR":
                role, name = "PRV", f"{volume.name}_PRV"
            elif o.name == "ring":
                name = f"zRing_{volume.name}"
            self._list.make(made, name, role, note, self._recipe())
            self._form.choose(None)
            return
        else:
            target = volume
        w.edit(f"{o.words}: {target.name}", edits.with_volume(case, target.with_coverage(made, note)))
        self._form.choose(None)

    def _recipe(self) -> Recipe | None:
        """Return what a new volume follows, or None if it is to be a plain one."""
        o, w = self._form.operation, self._context.workspace
        if o is None or w.volume is None or o.name not in FOLLOWING or not self._form.follow.isChecked():
            return None
        parents = (w.volume.key, self._form.other.currentData()) if o.other else (w.volume.key,)
        return Recipe(o.name, parents, self._form.numbers)

    def _note(self) -> str:
        o, w = self._form.operation, self._context.workspace
        assert o is not None
        parts = [o.words]
        if o.name != "body" and w.volume is not None:
            parts.append(self.tr("of {}").format(w.volume.name))
        if o.other:
            parts.append(self.tr("with {}").format(self._form.other.currentText()))
        if self._form.numbers:
            parts.append(", ".join(f"{n:g}" for n in self._form.numbers) + f" {o.numbers[0].unit}")
        return " ".join(parts)
