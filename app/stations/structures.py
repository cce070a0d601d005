"""Reading volumes from an RT Structure Set into the open case."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QFileDialog, QWidget

from app.core.context import Context
from app.core.language import translated
from engine import compute
from engine.base.values import Value
from engine.case import edits
from engine.case.case import Case
from engine.image.ct import CtImage
from engine.volumes.volume import new_key

KIND = "read-structures"


class StructureReading(QObject):
    """Asks for a file, reads it beside the screen and adds its volumes as one undoable step."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._found: tuple[Any, ...] = ()
        context.jobs.result.connect(self._result)
        context.workspace.case_changed.connect(self._case_changed)

    def remember(self, series: tuple[Any, ...]) -> None:
        """Note the structure sets that lie in the folder an image is opened from."""
        self._found = tuple(s for s in series if s.modality == "RTSTRUCT" and s.paths)

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if after is None or (before is not None and before.image is after.image):
            return
        frame = after.image.frame_of_reference_uid
        fitting = [s for s in self._found if frame and s.frame_of_reference_uid in ("", frame)]
        self._found = ()
        if fitting and not after.volumes:
            path = fitting[0].paths[0]
            # After everything that is said about opening the case, or it would be said over.
            QTimer.singleShot(0, self, lambda: self._offer(path))

    def _offer(self, path: str) -> None:
        words = self.tr("The folder also holds a structure set for these images ({}).").format(Path(path).name)
        self._context.messages.info(words, self.tr("Read its volumes"), lambda: self.read(Path(path)))

    def ask(self, parent: QWidget | None) -> None:
        """Let the person choose a file."""
        start = self._context.settings.get("folder/images")
        path, _ = QFileDialog.getOpenFileName(parent, self.tr("Read volumes from a structure set"), start)
        if path:
            self.read(Path(path))

    def read(self, path: Path) -> None:
        """Read a file; its volumes join the case when they have come."""
        case = self._context.workspace.case
        if case is None:
            self._context.messages.warning(self.tr("Open the images first, then the structure set that belongs to them."))
            return
        self._context.jobs.submit(KIND, [compute.request("ReadStructures", path=str(path), image=case.image)])

    def _result(self, kind: str, request: Value, read: Any) -> None:
        workspace = self._context.workspace
        case = workspace.case
        image: CtImage | None = getattr(request, "image", None)
        if kind != KIND or case is None or image is None or case.image != image:
            return
        taken = {v.name.lower() for v in case.volumes}
        added = []
        for volume in read.volumes:
            name, n = volume.name, 2
            while name.lower() in taken:
                name, n = f"{volume.name}_{n}", n + 1
            taken.add(name.lower())
            key = volume.key if case.volume(volume.key) is None else new_key()
            if (name, key) != (volume.name, volume.key):
                volume = volume.but(name=name, key=key)
            case = edits.with_volume(case, volume)
            added.append(volume)
        points = edits.with_points(case, read.points)
        new_points, case = len(points.points) - len(case.points), points
        if not added and not new_points:
            self._context.messages.warning(self.tr("The structure set holds no volume that can be used."))
            return
        workspace.edit(self.tr("Read {} volumes").format(len(added)), case)
        if added:
            workspace.activate(volume=added[0].key)
        words = self.tr("{} volumes read from {}.").format(len(added), Path(request.path).name)  # type: ignore[attr-defined]
        if new_points:
            names = ", ".join(p.name for p in case.points[-new_points:])
            words += " " + self.tr("Points to set up at and to normalise to: {0}.").format(names)
        if read.notes:
            text = " ".join([words, *map(translated, read.notes[:3])])
            self._context.messages.warning(text, topic="case/structures")
        else:
            self._context.messages.info(words, topic="case/structures")
