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
from engine.volumes.recipe import Recipe
from engine.volumes.volume import Volume, new_key

KIND = "volume-operation"
WAIT_MS = 150
WALK = {"copy up": 1, "copy down": -1}  # where the stage goes once the slice is there


class Operations(QObject):
    """Turns what the form says into a request, its result into a preview, and Apply into an edit.

    A result is shown only if it answers the request the form makes now, so a late one can do no harm.
    """

    def __init__(self, context: Context, form: VolumeOperations, volumes: VolumeList) -> None:
        super().__init__()
        self._context, self._form, self._list = context, form, volumes
        self._awake = False
        self._asked: Value | None = None
        self._made: dict[str, Coverage] | None = None
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
        if o.finds:
            if case.body is None or case.body.coverage.is_empty:
                return self.tr("There is no body outline yet. Find it first.")
            return compute.request(
                "FindInside", what=o.name, image=case.image, body=case.body.coverage, number=self._form.numbers[0]
            )
        if o.needs_shape:
            missing = self._missing(volume)
            if missing:
                return missing
        what, other, numbers = self._recipe_parts(case)
        if o.name == "skin" and other is None:
            return self.tr("There is no body outline yet. Find it first.")
        if other is not None and other is volume:
            return self.tr("{} is the body itself. Shrink it by a margin below zero.").format(other.name)
        if o.other and not o.anywhere and other is None:
            return self.tr("This needs a second volume.")
        if o.name.startswith("copy"):
            planes = self._copied(case)
            if isinstance(planes, str):
                return planes
            what, numbers = "copy slice", planes
        held = volume.coverage if volume is not None and o.needs_shape else Coverage(case.image.grid)
        return compute.request(
            "ShapeVolume",
            what=what,
            coverage=held,
            other=other.coverage if other is not None else None,
            image=case.image if o.name in ("threshold", "ct range") else None,
            numbers=numbers,
        )

    def _missing(self, volume: Volume | None) -> str:
        """Return what is missing of the active volume for the operation chosen, "" if nothing."""
        o = self._form.operation
        assert o is not None
        if volume is None:
            return self.tr("Choose a volume first.")
        if volume.coverage.is_empty and o.name != "union":
            return self.tr("{} is empty. Paint it first.").format(volume.name)
        if o.name == "interpolate" and len(volume.coverage.tiles) < 2:
            return self.tr("{} is painted on one slice. Paint a second one to fill what lies between.").format(volume.name)
        return ""

    def _copied(self, case: Case) -> tuple[float, float] | str:
        """Return from which plane to which a slice is copied, or words saying why there is none."""
        w, o = self._context.workspace, self._form.operation
        assert o is not None
        assert w.volume is not None
        here = case.image.grid.plane_at(w.cursor_mm[2])
        there = here + (1 if o.name in ("copy above", "copy up") else -1)
        if not 0 <= there < case.image.grid.shape[0]:
            return self.tr("The scan ends here: there is no next slice.")
        source, target = (here, there) if o.name in WALK else (there, here)
        if w.volume.coverage.tile(source) is None:
            return (
                self.tr("{} holds nothing on the slice shown.")
                if o.name in WALK
                else self.tr("{} holds nothing on that slice.")
            ).format(w.volume.name)
        return source, target

    def _recipe_parts(self, case: Case) -> tuple[str, Volume | None, tuple[float, ...]]:
        """Return the operation of the engine, the second volume and the numbers the form stands for."""
        o = self._form.operation
        assert o is not None
        other = case.volume(self._form.other.currentData() or "") if o.other else None
        if o.name == "skin":
            body = case.body
            return "keep inside", body if body is not None and not body.coverage.is_empty else None, self._form.numbers
        what = "ring inside" if o.name == "ring" and other is not None else o.name
        return what, other, self._form.numbers

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
        volume, o = self._context.workspace.volume, self._form.operation
        note = ""
        if isinstance(value, Coverage):
            made = {"": value}
        elif hasattr(value, "names"):
            made = dict(zip(value.names, value.coverages))
        else:
            made, note = {"": value.coverage}, translated(value.note)
        from engine.volumes.margins import union  # compiled code: not before there is something to show

        shapes = tuple(made.values())
        shown = shapes[0] if len(shapes) == 1 else union(*shapes)
        self._context.stage.preview.show(shown)
        if shown.is_empty:
            self._form.show_outcome(" ".join(w for w in (self.tr("Nothing would be left."), note) if w), False)
            return
        before = volume.coverage if volume is not None and o is not None and o.needs_shape else None
        if before is not None and before == shown and not self._form.fresh.isChecked():
            self._form.show_outcome(self.tr("This changes nothing."), False)
            return
        self._made = made
        words = "; ".join(
            (f"{name}: " if name else "") + self.tr("{:.2f} cm\u00b3 on {} slices").format(c.volume_cm3, len(c.tiles))
            for name, c in made.items()
        )
        if before is not None and not self._form.fresh.isChecked():
            words = self.tr("{:.2f} cm\u00b3 becomes {}").format(before.volume_cm3, words)
        self._form.show_outcome(f"{words}. {note}" if note else words, True)

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
        note = self._note()
        if o.finds:
            w.edit(o.words, self._with_found(case, made, note))
            self._form.choose(None)
            return
        (shape,) = made.values()
        body = case.body
        if o.name == "body" and body is not None and not self._form.fresh.isChecked():
            target = body
        elif o.name == "body":
            self._list.make(shape, "Body" if body is None else "Body_2", "EXTERNAL" if body is None else "OTHER", note)
            self._form.choose(None)
            return
        elif self._form.fresh.isChecked() or volume is None:
            name, role = self._name_and_role(volume)
            self._list.make(shape, name, role, note, self._recipe())
            self._form.choose(None)
            return
        else:
            target = volume
        step = WALK.get(o.name, 0)
        w.edit(f"{o.words}: {target.name}", edits.with_volume(case, target.with_coverage(shape, note)))
        self._form.choose(None)
        if step:
            self._context.stage.walk("z", step)

    def _with_found(self, case: Case, made: dict[str, Coverage], note: str) -> Case:
        """Put each shape into the empty volume of its name, else into a new one."""
        for name, shape in made.items():
            namesake = next((v for v in case.volumes if v.name.lower() == name.lower()), None)
            if namesake is not None and namesake.coverage.is_empty:
                case = edits.with_volume(case, namesake.with_coverage(shape, note))
                continue
            taken, free, n = {v.name.lower() for v in case.volumes}, name, 1
            while free.lower() in taken:
                n += 1
                free = f"{name}_{n}"
            volume = Volume(new_key(), free, "OAR", edits.next_colour(case), shape, note=note)
            case = edits.with_volume(case, volume)
        return case

    def _name_and_role(self, volume: Volume | None) -> tuple[str, str]:
        """Return how a new volume is called first, and what for."""
        o = self._form.operation
        if volume is None or o is None or not o.needs_shape:
            return "Range", "OTHER"
        name, role = f"{volume.name[:60]}_m", "OTHER"
        if o.name == "margin" and volume.role in ("GTV", "CTV", "ITV"):
            role = "CTV" if volume.role == "GTV" else "PTV"
            name = volume.name.replace(volume.role, role) if volume.role in volume.name else role
        elif o.name == "margin" and volume.role == "OAR":
            role, name = "PRV", f"{volume.name[:60]}_PRV"
        elif o.name == "ring":
            name = f"zRing_{volume.name[:56]}"
        return name, role

    def _recipe(self) -> Recipe | None:
        """Return what a new volume follows, or None if it is to be a plain one."""
        o, w = self._form.operation, self._context.workspace
        if o is None or w.case is None or w.volume is None or not self._form.follows or not self._form.follow.isChecked():
            return None
        what, other, numbers = self._recipe_parts(w.case)
        return Recipe(what, (w.volume.key, other.key) if other is not None else (w.volume.key,), numbers)

    def _note(self) -> str:
        o, w = self._form.operation, self._context.workspace
        assert o is not None
        parts = [o.words]
        if o.needs_shape and w.volume is not None:
            parts.append(self.tr("of {}").format(w.volume.name))
        if o.other and self._form.other.currentData():
            parts.append(self.tr("with {}").format(self._form.other.currentText()))
        if self._form.numbers:
            parts.append(", ".join(f"{v:g} {n.unit}" for v, n in zip(self._form.numbers, o.numbers)))
        return " ".join(parts)
