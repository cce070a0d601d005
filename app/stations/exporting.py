"""Writing a plan as RT DICOM: structure set, plan and dose, approved only if the present plan is the sealed one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QFileDialog, QWidget

from app.core.context import Context
from app.core.language import translated
from app.core.plan_follow import PlanFollower
from engine import compute
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case.case import Case, Draft
from engine.review.cover import COVERS, stands
from engine.review.record import verify_chain
from engine.review.statement import Statement

KIND = "export"


class Exporting(QObject):
    """Asks for a folder and writes there beside the screen; nothing is exported whose dose is not current and fine."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        context.jobs.result.connect(self._result)

    def ask(self, parent: QWidget | None) -> None:
        """Let the person choose a folder, if there is something to export."""
        if self.what_is_missing():
            self._say_missing()
            return
        start = self._context.settings.get("folder/images")
        folder = QFileDialog.getExistingDirectory(parent, self.tr("Export RT DICOM into a folder"), start)
        if folder:
            self.write(Path(folder))

    def what_is_missing(self) -> str:
        """Return in words what an export lacks, or ""."""
        workspace = self._context.workspace
        if workspace.case is None:
            return self.tr("Open a patient first.")
        draft = workspace.draft
        if draft is None or not draft.beams:
            return self.tr("There is no plan to export yet: it has no beams.")
        follower = self._follower
        if follower.state != "current" or follower.now is None or follower.shown_draft != draft:
            return self.tr("The fine dose of {} is not current. Enter Weigh and let it be computed.").format(draft.name)
        if follower.now.scale is None:
            return translated(follower.now.reason)
        return ""

    def write(self, folder: Path) -> None:
        """Write the active draft into a folder."""
        missing = self.what_is_missing()
        case, draft = self._context.workspace.case, self._context.workspace.draft
        if missing or case is None or draft is None:
            self._say_missing()
            return
        now = self._follower.now
        try:
            seal = self.seal(case, draft)
        except UserError as error:
            self._context.messages.failure(error)
            return
        request = compute.request(
            "ExportCase",
            case=case,
            draft_key=draft.key,
            dose=now.dose(),
            mu=now.mu,
            folder=str(folder),
            approved=seal is not None,
            reviewer=seal.reviewer if seal is not None else "",
            reviewed_at=seal.signed_at if seal is not None else "",
        )
        self._context.jobs.submit(KIND, [request])

    def seal(self, case: Case, draft: Draft) -> Statement | None:
        """Return the approval that covers the present plan, or None; a broken chain of records raises."""
        keeper = self._context.keeper
        records = keeper.records if keeper is not None else ()
        verify_chain(records)
        last = records[-1].statement if records else None
        covered = last is not None and stands(records[-1], case, draft) == COVERS
        return last if covered and last is not None and last.decision == "APPROVED" else None

    @property
    def _follower(self) -> PlanFollower:
        return PlanFollower.of(self._context.workspace, self._context.jobs)

    def _say_missing(self) -> None:
        words, case = self.what_is_missing(), self._context.workspace.case
        station = "intake" if case is None else "aim" if not self._context.workspace.draft else "weigh"
        self._context.messages.warning(words, self.tr("Go there"), lambda: self._context.go(station))

    def _result(self, kind: str, request: Value, paths: Any) -> None:
        if kind != KIND:
            return
        approved: bool = request.approved  # type: ignore[attr-defined]
        status = self.tr("as approved") if approved else self.tr("as not approved: this plan is not sealed")
        folder: str = request.folder  # type: ignore[attr-defined]
        self._context.messages.info(self.tr("{} files written to {}, {}.").format(len(paths), folder, status))
        if self._context.keeper is not None:
            self._context.keeper.note(f"exported to {folder}, {'APPROVED' if approved else 'UNAPPROVED'}")
