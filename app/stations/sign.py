"""Sign: findings, the pictures that will be signed, what was looked at, the decision, the sealed record."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFileDialog, QPushButton, QWidget

from app.core.context import Context
from app.core.plan_follow import PlanFollower
from app.panels.decision import Decision
from app.panels.findings import Findings
from app.panels.pane import Pane
from app.stations.station import Station
from app.views.contact_sheet import ContactSheet
from engine import compute
from engine.base.errors import UserError
from engine.case.case import Answer, Case
from engine.review.finding import Finding
from engine.review.record import Record, still_covers

REVIEW, RADIOGRAPHS = "review", "sheet-radiographs"


class Sign(Station):
    """The reviewer's station. The sheet stands in place of the stage; "Slices" brings the stage back to walk through."""

    name = "sign"
    right_px = 330

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.title = self.tr("Sign")
        self.follower = PlanFollower.of(context.workspace, context.jobs)
        self._front = self._slices = self._sealing = False
        self._keeper: Any = None
        self._asked = ""
        self._seen_of: tuple[Any, ...] = ()
        self._review: Any = None
        self._images: list[QImage] = []
        self._radiographs: dict[str, Any] = {}
        self._waiting: set[str] = set()
        self._seen: set[str] = set()
        self._seen_planes: set[int] = set()
        self.findings, self.decision, self.sheet = Findings(), Decision(), ContactSheet()
        self.switch = QPushButton()
        self.switch.clicked.connect(lambda: self._show_slices(not self._slices))
        self._left, self._right = Pane(self.switch, self.findings), Pane(self.decision)
        self.findings.jump_wanted.connect(self._jump)
        self.findings.answered.connect(self._answer)
        self.sheet.looked.connect(self._looked)
        self.decision.seal_wanted.connect(self._seal)
        self.decision.pdf_wanted.connect(self._pdf)
        for button in (self.decision.approve, self.decision.reject):
            button.toggled.connect(self._judge)
        for line in (self.decision.reviewer, self.decision.passphrase):
            line.textChanged.connect(self._judge)
        context.jobs.result.connect(self._result)
        context.workspace.case_changed.connect(self._case_changed)
        context.workspace.cursor_changed.connect(self._cursor)
        self.follower.now_changed.connect(lambda *_: self._ask())
        self._name_switch()

    # what stands where

    def left(self) -> QWidget | None:
        return self._left

    def right(self) -> QWidget | None:
        return self._right

    def centre(self) -> QWidget | None:
        return None if self._slices else self.sheet

    def enter(self) -> None:
        self._front = True
        self._bind()
        self.follower.set_active(True)
        self._ask()
        self._records()
        self._mark_strip()

    def leave(self) -> None:
        self._front = False
        self.follower.set_active(False)
        if self.context.stage is not None:
            self.context.stage.strip.set_seen(None)

    def state_line(self) -> str:
        record = self._covering()
        if record is not None:
            word = self.tr("approved") if record.statement.decision == "APPROVED" else self.tr("rejected")
            return self.tr("{}, {}").format(word, record.statement.signed_at[:10])
        if self.context.keeper is not None and self.context.keeper.records:
            return self.tr("changed since signed")
        if self._review is None:
            return self.tr("not signed")
        return self.tr("{} findings").format(sum(f.severity != "note" for f in self._review.findings))

    def _bind(self) -> None:
        """Follow the keeper; the window makes it with the first case."""
        keeper = self.context.keeper
        if keeper is not None and keeper is not self._keeper:
            self._keeper = keeper
            keeper.signed.connect(self._signed)
            keeper.failed.connect(self._not_signed)
            keeper.opened.connect(lambda _: self._records())

    # gathering

    def _ask(self) -> None:
        """Ask for findings and pictures of the plan as it is now, once for each state of it."""
        workspace = self.context.workspace
        case, draft = workspace.case, workspace.draft
        if not self._front:
            return
        if case is None or draft is None:
            self._review = None
            self.findings.show_words(self.tr("Open a patient and arrange a plan first."))
            self.sheet.show_words(self.tr("There is nothing to sign yet: no plan."))
            self._judge()
            return
        stands = workspace.standing
        request = compute.request("ReviewDraft", case=case, draft_key=draft.key, state=stands.state, doses=stands.doses)
        if request.fingerprint == self._asked:
            return
        self._asked = request.fingerprint
        self._review = None
        self.sheet.show_words(self.tr("Gathering what there is to read\u2026"))
        self._judge()
        self.context.jobs.submit(REVIEW, [request])

    def _result(self, kind: str, request: Any, value: Any) -> None:
        if kind == REVIEW and value.inputs == self._asked:
            self._show_review(value)
        elif kind == RADIOGRAPHS and request.fingerprint in self._waiting:
            self._radiographs[request.fingerprint] = value
            self._waiting.discard(request.fingerprint)
            if not self._waiting:
                self._draw()

    def _show_review(self, review: Any) -> None:
        case, draft = self.context.workspace.case, self.context.workspace.draft
        if case is None or draft is None:
            return
        self._review = review
        same = (draft.fingerprint, self.context.workspace.standing.doses)
        if same != self._seen_of:
            # What was looked at counts for exactly this plan; an answer to a finding does not change its pictures.
            self._seen.clear()
            self._seen_of = same
        self.findings.show_findings(review.findings, case.answers)
        if review.now is None:
            words = self.tr("The pictures are made from the fine dose. Compute it in Weigh, then come back.")
            self.sheet.show_words(words)
        else:
            from app.report.beam_picture import radiograph_of

            wanted = [radiograph_of(case, draft.beam(i.beam_key)) for i in review.items if i.kind == "beam"]
            missing = [r for r in wanted if r.fingerprint not in self._radiographs]
            self._waiting = {r.fingerprint for r in missing}
            if missing:
                self.context.jobs.submit(RADIOGRAPHS, missing)
            else:
                self._draw()
        self._judge()
        self.context.refresh()

    def _draw(self) -> None:
        from app.report.beam_picture import radiograph_of
        from app.report.pictures import draw

        case, draft, review = self.context.workspace.case, self.context.workspace.draft, self._review
        if case is None or draft is None or review is None or review.now is None:
            return
        self._images = []
        for item in review.items:
            shadow = None
            if item.kind == "beam":
                shadow = self._radiographs.get(radiograph_of(case, draft.beam(item.beam_key)).fingerprint)
            self._images.append(draw(item, case, draft, review.now, radiograph=shadow))
        self.sheet.show_pictures([i.title for i in review.items], self._images, self._seen)
        self._judge()

    # looking and deciding

    def _looked(self, index: int) -> None:
        if self._review is not None:
            self._seen.add(self._review.items[index].title)
            self._judge()

    def _cursor(self, point: Any) -> None:
        case = self.context.workspace.case
        if self._front and self._slices and case is not None:
            self._seen_planes.add(case.image.grid.plane_at(point[2]))
            self._mark_strip()

    def _mark_strip(self) -> None:
        if self._front and self.context.stage is not None:
            self.context.stage.strip.set_seen(sorted(self._seen_planes))

    def _show_slices(self, shown: bool) -> None:
        self._slices = shown
        self._name_switch()
        self.context.refresh()
        if shown:
            self._cursor(self.context.workspace.cursor_mm)

    def _name_switch(self) -> None:
        self.switch.setText(self.tr("Back to the pictures") if self._slices else self.tr("Walk through the slices"))

    def _judge(self, *_: Any) -> None:
        """Say what the decision waits for."""
        self.decision.show_state(*self._ready())

    def _ready(self) -> tuple[bool, str]:
        from engine.review.checks import open_findings

        case, form = self.context.workspace.case, self.decision
        if self._sealing:
            return False, self.tr("Sealing\u2026")
        if case is None or self._review is None:
            return False, self.tr("There is nothing to decide yet.")
        if self._review.now is None or self.context.workspace.standing.state != "current":
            return False, self.tr("Waiting for the fine dose of this plan.")
        if not self._images:
            return False, self.tr("Drawing the pictures.")
        if not form.decision():
            return False, self.tr("Choose approved or rejected.")
        if form.decision() == "APPROVED":
            still = len(open_findings(case, self._review.findings))
            if still:
                return False, self.tr("{} findings must be mended or answered before approval.").format(still)
            unseen = len(self._review.items) - len(self._seen)
            if unseen > 0:
                return False, self.tr("{} pictures were not opened yet.").format(unseen)
        if not form.reviewer.text().strip() or len(form.passphrase.text()) < 8:
            return False, self.tr("Give your name and a passphrase of at least 8 characters.")
        return True, self.tr("Sealing keeps this plan, its pictures and your decision; a later change is shown as such.")

    def _answer(self, key: str, reason: str) -> None:
        case = self.context.workspace.case
        if case is None:
            return
        who = self.decision.reviewer.text().strip()
        if not who:
            self.context.messages.warning(self.tr("Give your name in the decision first: an answer carries its author."))
            return
        at = datetime.now(UTC).isoformat(timespec="seconds")
        others = tuple(a for a in case.answers if a.finding != key)
        after = case.but(answers=(*others, Answer(key, reason, who, at)))
        self.context.workspace.edit(self.tr("Answer a finding"), after)

    def _seal(self) -> None:
        from app.report.pictures import encoded
        from engine.review.statement import make_statement

        workspace, form, review = self.context.workspace, self.decision, self._review
        case, draft = workspace.case, workspace.draft
        if case is None or draft is None or review is None or self.context.keeper is None:
            return
        shown = tuple(encoded(item, image) for item, image in zip(review.items, self._images, strict=True))
        seen = [p.title for p in shown if p.title in self._seen]
        at = datetime.now(UTC).isoformat(timespec="seconds")
        who = (form.reviewer.text().strip(), form.role.currentText().strip(), form.comment.toPlainText().strip(), at)
        try:
            statement = make_statement(
                case, draft, workspace.standing, review.now, review.findings, shown, seen, form.decision(), *who
            )
            self.context.keeper.sign(statement, form.passphrase.text(), shown)
        except UserError as error:
            self.context.messages.failure(error)
            return
        self._sealing = True
        form.passphrase.clear()
        self._judge()

    def _signed(self, record: Record) -> None:
        self._sealing = False
        self.context.messages.info(
            self.tr("Sealed: {} by {}.").format(record.statement.decision, record.statement.reviewer)
        )
        self._records()
        self._judge()
        self.context.refresh()

    def _not_signed(self, error: Any) -> None:
        if self._sealing:
            self._sealing = False
            self._judge()

    def _pdf(self, record: Record) -> None:
        from app.report.record_pdf import write_pdf

        keeper = self.context.keeper
        start = str(keeper.path.with_suffix(".pdf")) if keeper.path else "record.pdf"
        path, _ = QFileDialog.getSaveFileName(self._right, self.tr("Save the record"), start, self.tr("PDF (*.pdf)"))
        if path:
            keeper.write_record_pdf(Path(path), record, write_pdf)

    # following

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if before is None or after is None or before.image is not after.image:
            self._seen_planes.clear()
            self._radiographs.clear()
            self._review, self._asked, self._images = None, "", []
        self._ask()
        self._records()

    def _covering(self) -> Record | None:
        case, keeper = self.context.workspace.case, self.context.keeper
        if case is None or keeper is None:
            return None
        for record in reversed(keeper.records):
            draft = case.draft(record.statement.draft_key)
            if draft is not None and still_covers(record, case.fingerprint, draft.fingerprint):
                return record
        return None

    def _records(self) -> None:
        keeper = self.context.keeper
        if self._front and keeper is not None:
            self.decision.show_records(keeper.records, self._covering())

    def _jump(self, finding: Finding) -> None:
        workspace = self.context.workspace
        if finding.point_mm is not None:
            workspace.set_cursor(finding.point_mm)
        if finding.volume_key:
            workspace.activate(volume=finding.volume_key)
        if finding.beam_key:
            workspace.activate(beam=finding.beam_key)
        self.context.go("aim" if finding.beam_key else "outline" if finding.volume_key else "weigh")
