"""Sign: findings, the pictures that will be signed, what was looked at, the decision, the sealed record."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QPushButton, QWidget

from app.core.context import Context
from app.core.language import translated
from app.core.plan_follow import PlanFollower
from app.panels.decision import Decision
from app.panels.findings import Findings
from app.panels.pane import Pane
from app.stations.plan_stage import PlanStage
from app.stations.sheet_maker import SheetMaker
from app.stations.sign_waits import waits_for
from app.stations.station import Station
from app.views.contact_sheet import ContactSheet
from engine.base.errors import UserError
from engine.case.case import Answer, Case
from engine.review.cover import covering, stands
from engine.review.finding import Finding
from engine.review.record import Record


class Sign(Station):
    """The reviewer's station. The sheet stands in place of the stage; a switch brings the stage back to walk through."""

    name = "sign"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.title = self.tr("Sign")
        self.follower = PlanFollower.of(context.workspace, context.jobs)
        self.maker = SheetMaker(context)
        self._front = self._slices = self._sealing = self._dose_drawn = False
        self._keeper: Any = None
        self._refused = self._way = ""
        self._seen: set[str] = set()
        self._seen_planes: set[int] = set()
        self.findings, self.decision, self.sheet = Findings(), Decision(), ContactSheet()
        self.switch, self.walked = QPushButton(), QLabel()
        self.walked.setObjectName("quiet")
        self.walked.setWordWrap(True)
        self.switch.clicked.connect(lambda: self._show_slices(not self._slices))
        self._left, self._right = Pane(self.switch, self.walked, self.findings, spacing=12), Pane(self.decision)
        self.findings.jump_wanted.connect(self._jump)
        self.findings.answered.connect(self._answer)
        self.sheet.looked.connect(self._looked)
        self.sheet.way_wanted.connect(self._go_on)
        self.sheet.opened.connect(lambda _: self.context.refresh() if self._front else None)
        self.decision.seal_wanted.connect(self._seal)
        self.decision.pdf_wanted.connect(self._pdf)
        for button in (self.decision.approve, self.decision.reject):
            button.toggled.connect(self._judge)
        for line in (self.decision.reviewer, self.decision.passphrase):
            line.textEdited.connect(self._typed)
            line.textChanged.connect(self._judge)
        self.maker.reviewed.connect(self._show_review)
        self.maker.drawing.connect(self._show_drawing)
        self.maker.drawn.connect(self._show_pictures)
        self.maker.stopped.connect(lambda: self._say(self.tr("The pictures were stopped."), self.tr("Go on"), "again"))
        context.workspace.case_changed.connect(self._case_changed)
        context.workspace.cursor_changed.connect(self._cursor)
        context.workspace.active_changed.connect(self._records)
        self.follower.now_changed.connect(lambda *_: self._ask())
        self.follower.busy_changed.connect(self._no_pictures)
        self._name_switch()

    # what stands where

    @property
    def side_px(self) -> int:
        """Enough for findings and decision; on a large screen their sentences get longer lines."""
        return max(300, self.context.stage.window().width() * 15 // 100)

    def panels(self) -> tuple[QWidget, ...]:
        return self._left, self._right, self.sheet

    def left(self) -> QWidget | None:
        return None if self._picture_open() else self._left

    def right(self) -> QWidget | None:
        return None if self._slices or self._picture_open() else self._right

    def _picture_open(self) -> bool:
        """An open picture has the room to itself, so that it is seen at its full size."""
        return self.sheet.is_open and not self._slices

    def centre(self) -> QWidget | None:
        return None if self._slices else self.sheet

    def enter(self) -> None:
        self._front = True
        self._bind()
        self.follower.set_active(True)
        self._ask()
        self._records()
        self._judge()
        self._draw_dose()
        self._mark_strip()
        focus = QApplication.focusWidget()
        if focus is not None and self._right.isAncestorOf(focus):
            # A line of text that was not asked for would swallow the keys meant for the window (undo, above all).
            self.switch.setFocus()

    def leave(self) -> None:
        self._front = False
        self.follower.set_active(False)
        self._draw_dose()
        if self.context.stage is not None:
            self.context.stage.strip.set_seen(None)

    def tells(self, kind: str) -> bool:
        return kind == "signing" and self._front

    def state_line(self) -> str:
        from engine.review.checks import open_findings

        case, keeper, review = self.context.workspace.case, self.context.keeper, self.maker.review
        record = self._covering()
        draft_key = self.context.workspace.draft.key if self.context.workspace.draft is not None else ""
        if record is not None:
            word = self.tr("approved") if record.statement.decision == "APPROVED" else self.tr("rejected")
            return self.tr("{}, {}").format(word, record.statement.signed_at[:10])
        if any(r.statement.draft_key == draft_key for r in (keeper.records if keeper is not None else ())):
            return self.tr("changed since signed")
        if case is None or review is None:
            return self.tr("not signed")
        still = len(open_findings(case, review.findings))
        return self.tr("1 finding open") if still == 1 else self.tr("{} findings open").format(still)

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
        """Ask for findings and pictures of the plan as it is now."""
        workspace = self.context.workspace
        if not self._front:
            return
        self._draw_dose()
        if workspace.case is None or workspace.draft is None:
            self.maker.forget()
            self.findings.show_words(self.tr("Open a patient and arrange a plan first."))
            self._no_pictures()
        elif self.maker.ask():
            self.findings.heading.setText(self.tr("Findings: being checked\u2026"))
            if not self.maker.images:
                self._say(self.tr("Gathering what there is to read\u2026"))
        self._judge()

    def _say(self, words: str, way: str = "", what: str = "") -> None:
        """Show words in place of the pictures, with a button for what can be done about it."""
        self._way = what
        self.sheet.show_words(words, way)

    def _no_pictures(self) -> None:
        """Say why there are no pictures, and offer what helps."""
        workspace, stands = self.context.workspace, self.context.workspace.standing
        if workspace.case is None:
            self._say(self.tr("There is nothing to sign yet: no patient is open."), self.tr("Go to Intake"), "intake")
        elif workspace.draft is None or not workspace.draft.beams:
            self._say(self.tr("There is nothing to sign yet: the plan has no beams."), self.tr("Go to Aim"), "aim")
        elif stands.state == "current":
            return
        elif self.follower.asks.running:
            self._say(self.tr("The pictures are made from the fine dose. It is being computed\u2026"))
        else:
            words = self.follower.problem or self.tr("The pictures are made from the fine dose of this plan.")
            self._say(words, self.tr("Compute the dose"), "dose")

    def _go_on(self) -> None:
        if self._way == "again":
            self._say(self.tr("Gathering what there is to read\u2026"))
            self.maker.again()
        elif self._way == "dose":
            self.follower.compute()
        else:
            self.context.go(self._way)

    def _show_review(self) -> None:
        case = self.context.workspace.case
        if case is None:
            return
        self.findings.show_findings(self.maker.review.findings, case.answers)
        self._no_pictures()
        self._judge()
        self.context.refresh_states()

    def _show_drawing(self, number: int, count: int) -> None:
        self._say(self.tr("Drawing picture {} of {}\u2026").format(number, count))
        self._judge()

    def _show_pictures(self) -> None:
        titles = [translated(i.title) for i in self.maker.review.items]
        self.sheet.show_pictures(titles, self.maker.images, [p.fingerprint in self._seen for p in self.maker.pictures])
        self._judge()

    # looking and deciding

    def _looked(self, index: int) -> None:
        # What was looked at counts for exactly what was shown: a picture that changes has to be opened again.
        if index < len(self.maker.pictures):
            self._seen.add(self.maker.pictures[index].fingerprint)
            self._judge()

    def _unseen(self) -> int:
        return sum(p.fingerprint not in self._seen for p in self.maker.pictures)

    def _cursor(self, point: Any) -> None:
        case = self.context.workspace.case
        if self._front and self._slices and case is not None:
            self._seen_planes.add(case.image.grid.plane_at(point[2]))
            self._mark_strip()

    def _draw_dose(self) -> None:
        """Put the isodose lines on the stage while slices are walked; no beam can be moved from here."""
        stage, shown = self.context.stage, self._front and self._slices
        if stage is None or not (shown or self._dose_drawn):
            return
        plan = PlanStage.of(self.context)
        if shown != self._dose_drawn:
            self._dose_drawn = shown
            (stage.add_layer if shown else stage.remove_layer)(plan.lines)
            (stage.readouts.append if shown else stage.readouts.remove)(plan.dose.readout)
        elif shown:
            stage.refresh(plan.lines)

    def _mark_strip(self) -> None:
        case = self.context.workspace.case
        if self._front and self.context.stage is not None:
            self.context.stage.strip.set_seen(sorted(self._seen_planes))
        self.switch.setEnabled(case is not None or self._slices)
        self.walked.setVisible(case is not None and (self._slices or bool(self._seen_planes)))
        if case is not None:
            words = self.tr("{} of {} slices looked at, marked in the strip").format(
                len(self._seen_planes), case.image.grid.shape[0]
            )
            self.walked.setText(words)

    def _show_slices(self, shown: bool) -> None:
        self._slices = shown
        self._name_switch()
        self._draw_dose()
        self._mark_strip()
        self.context.refresh()
        if shown:
            self._cursor(self.context.workspace.cursor_mm)

    def _name_switch(self) -> None:
        self.switch.setText(self.tr("Back to the pictures") if self._slices else self.tr("Walk through the slices"))

    def _typed(self, *_: Any) -> None:
        self._refused = ""

    def _judge(self, *_: Any) -> None:
        """Say what the decision waits for."""
        self.decision.show_state(*self._ready(), refused=bool(self._refused))

    def _ready(self) -> tuple[bool, str]:
        if self._sealing:
            return False, self.tr("Sealing\u2026")
        if self._refused:
            return False, self._refused
        words = waits_for(self.context, self.decision, self.maker, self._unseen(), self._covering() is not None)
        ready = self.tr("Sealing keeps this plan, its pictures and your decision; a later change is shown as such.")
        return not words, words or ready

    def _answer(self, key: str, reason: str) -> None:
        case = self.context.workspace.case
        if case is None:
            return
        who = self.decision.reviewer.text().strip()
        if not who:
            self.context.messages.warning(self.tr("Give your name in the decision first: an answer carries its author."))
            self.decision.reviewer.setFocus()
            return
        at = datetime.now(UTC).isoformat(timespec="seconds")
        others = tuple(a for a in case.answers if a.finding != key)
        after = case.but(answers=(*others, Answer(key, reason, who, at)))
        self.context.workspace.edit(self.tr("Answer a finding"), after)

    def _seal(self) -> None:
        from engine.review.statement import make_statement

        workspace, form, maker = self.context.workspace, self.decision, self.maker
        case, draft, review = workspace.case, workspace.draft, maker.review
        if case is None or draft is None or not self._ready()[0]:
            return
        shown = maker.pictures
        seen = [p.title for p in shown if p.fingerprint in self._seen]
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
        self.decision.clear()
        self.context.messages.info(
            self.tr("Sealed: {} by {}.").format(record.statement.decision, record.statement.reviewer)
        )
        self._records()
        self._judge()
        self.context.refresh_states()

    def _not_signed(self, error: Any) -> None:
        if self._sealing:
            self._sealing = False
            self._refused = self.tr("Not sealed: {}. {}").format(translated(error.what), translated(error.do))
            self._judge()
            self.decision.passphrase.setFocus()

    def _pdf(self, record: Record) -> None:
        from app.report.record_pdf import write_pdf

        keeper = self.context.keeper
        start = str(keeper.path.with_suffix(".pdf")) if keeper.path else "record.pdf"
        path, _ = QFileDialog.getSaveFileName(self._right, self.tr("Save the record"), start, self.tr("PDF (*.pdf)"))
        if path:
            target = Path(path) if Path(path).suffix else Path(path).with_suffix(".pdf")

            def write(*what: Any) -> None:
                write_pdf(*what)
                self.context.messages.info(self.tr("The record is written to {}.").format(target))

            keeper.write_record_pdf(target, record, write)

    # following

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if before is None or after is None or before.image is not after.image:
            self._seen_planes.clear()
            self._seen.clear()
            self._refused, self._sealing = "", False  # a seal whose case was closed will not be told any more
            self.decision.forget()
            self.findings.show_words(self.tr("Open a patient and arrange a plan first."))  # no reason typed goes along
            self.maker.forget(radiographs=True)
        if not self._front:
            self.maker.forget()
        self._ask()
        self._records()
        self._judge()
        self._mark_strip()

    def _covering(self) -> Record | None:
        case, draft, keeper = self.context.workspace.case, self.context.workspace.draft, self.context.keeper
        return covering(keeper.records, case, draft) if case and draft and keeper is not None else None

    def _records(self) -> None:
        keeper, case, draft = self.context.keeper, self.context.workspace.case, self.context.workspace.draft
        if self._front:
            records = keeper.records if keeper is not None and case is not None else ()
            self.decision.show_records(records, [stands(r, case, draft) for r in records])

    def _jump(self, finding: Finding) -> None:
        workspace = self.context.workspace
        if finding.point_mm is not None:
            workspace.set_cursor(finding.point_mm)
        if finding.volume_key:
            workspace.activate(volume=finding.volume_key)
        if finding.beam_key:
            workspace.activate(beam=finding.beam_key)
        self.context.go("aim" if finding.beam_key else "outline" if finding.volume_key else "weigh")
