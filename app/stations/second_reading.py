"""Laying an MR, PET or CT series over the planning CT of the open case."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from app.core.context import Context
from app.core.language import translated
from engine import compute
from engine.base.values import Value
from engine.case.second_images import with_second_image

KIND = "read-second-image"


class SecondReading(QObject):
    """Reads a series beside the screen and adds it as one undoable step."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        context.jobs.result.connect(self._result)

    def ask_registration(self, parent: QWidget | None, folder: str, uid: str) -> None:
        """Let the person choose the registration file that places a series."""
        path, _ = QFileDialog.getOpenFileName(parent, self.tr("Open a DICOM spatial registration"), folder)
        if path:
            self.read(folder, uid, path)

    def read(self, folder: str, uid: str, registration: str = "") -> None:
        """Read a series of a folder; it joins the case when it has come."""
        case = self._context.workspace.case
        if case is None:
            self._context.messages.warning(self.tr("Open the planning CT first, then what is to lie over it."))
            return
        request = compute.request(
            "ReadSecondImage",
            folder=folder,
            series_uid=uid,
            patient=case.patient,
            image=case.image,
            registration_path=registration,
        )
        self._context.jobs.submit(KIND, [request])

    def _result(self, kind: str, request: Value, read: Any) -> None:
        workspace = self._context.workspace
        if kind != KIND or workspace.case is None or workspace.case.image != getattr(request, "image", None):
            return
        workspace.edit(self.tr("Lay over {}").format(read.image.name), with_second_image(workspace.case, read.image))
        words = self.tr("{} lies over the planning CT, placed by {}. X shows and hides it.").format(
            read.image.name, translated(read.image.origin)
        )
        if read.notes:
            text = " ".join([words, *(translated(n)[:1].upper() + translated(n)[1:] + "." for n in read.notes)])
            self._context.messages.warning(text, topic="case/second")
        else:
            self._context.messages.info(words, topic="case/second")
        self._context.go("outline")
