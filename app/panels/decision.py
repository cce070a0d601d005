"""The decision: who, in what role, approved or rejected, with a comment and a passphrase; the records so far."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from engine.review.cover import COVERS, DOSE_CHANGED, OTHER_DRAFT, PLAN_CHANGED
from engine.review.record import Record

SHAPES = {COVERS: "\u2713", OTHER_DRAFT: "\u25cf"}


class Decision(QWidget):
    """The form.

    Signals
    -------
    seal_wanted() : the person wants the decision sealed
    pdf_wanted(record) : a record is wanted as PDF
    """

    seal_wanted = Signal()
    pdf_wanted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        heading = QLabel(self.tr("Decision"))
        heading.setObjectName("heading")
        self.reviewer, self.role = QLineEdit(), QComboBox()
        self.role.addItems([self.tr("physician"), self.tr("medical physicist"), self.tr("reviewer")])
        self.role.setEditable(True)
        self.role.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.approve, self.reject = QRadioButton(self.tr("Approved")), QRadioButton(self.tr("Rejected"))
        self.comment = QPlainTextEdit()
        self.comment.setFixedHeight(64)
        self.comment.setTabChangesFocus(True)
        self.passphrase = QLineEdit()
        self.passphrase.setEchoMode(QLineEdit.EchoMode.Password)
        self.passphrase.setToolTip(
            self.tr("Makes your signature and is kept nowhere. One name uses one passphrase throughout a case.")
        )
        self.show_typed = QPushButton(self.tr("Show"))
        self.show_typed.setCheckable(True)
        self.show_typed.setToolTip(
            self.tr("Show what is typed. A name keeps its first passphrase, so look before you seal.")
        )
        self.show_typed.toggled.connect(self._show_typed)
        secret = QHBoxLayout()
        secret.addWidget(self.passphrase, 1)
        secret.addWidget(self.show_typed)
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        choice = QHBoxLayout()
        choice.addWidget(self.approve)
        choice.addWidget(self.reject)
        choice.addStretch(1)
        form.addRow(self.tr("Name"), self.reviewer)
        form.addRow(self.tr("Role"), self.role)
        form.addRow(self.tr("Decision"), choice)
        form.addRow(self.tr("Comment"), self.comment)
        form.addRow(self.tr("Passphrase"), secret)
        self.seal = QPushButton(self.tr("Seal the decision"))
        self.seal.setProperty("main", True)
        self.seal.clicked.connect(self.seal_wanted)
        self.passphrase.returnPressed.connect(self.seal.click)
        self.hint = QLabel()
        self.hint.setWordWrap(True)
        self.hint.setObjectName("quiet")
        self.records_heading = QLabel(self.tr("Records of this case"))
        self.records_heading.setObjectName("heading")
        self.records = QVBoxLayout()
        self.records.setSpacing(8)
        column.addWidget(heading)
        column.addLayout(form)
        column.addWidget(self.seal)
        column.addWidget(self.hint)
        column.addSpacing(8)
        column.addWidget(self.records_heading)
        column.addLayout(self.records)
        self._rows: list[QWidget] = []
        names = (self.tr("Name of the reviewer"), self.tr("Role"), self.tr("Comment"), self.tr("Passphrase"))
        for widget, name in zip((self.reviewer, self.role, self.comment, self.passphrase), names, strict=True):
            widget.setAccessibleName(name)
        self.show_records((), ())

    def _show_typed(self, shown: bool) -> None:
        self.passphrase.setEchoMode(QLineEdit.EchoMode.Normal if shown else QLineEdit.EchoMode.Password)

    def decision(self) -> str:
        """Return APPROVED, REJECTED or "" (DICOM approval values)."""
        return "APPROVED" if self.approve.isChecked() else "REJECTED" if self.reject.isChecked() else ""

    def clear(self) -> None:
        """Take back what belongs to one decision only; name and role stay."""
        self.comment.clear()
        self.passphrase.clear()
        self.show_typed.setChecked(False)
        for button in (self.approve, self.reject):
            # A checked button of an exclusive pair cannot be unchecked otherwise.
            button.setAutoExclusive(False)
            button.setChecked(False)
            button.setAutoExclusive(True)

    def forget(self) -> None:
        """Empty the whole form, for another patient; undo in a line brings nothing back."""
        self.clear()
        self.role.setCurrentIndex(0)
        for line in (self.reviewer, self.passphrase):
            line.setText("")  # clear() could be undone
        edit = self.role.lineEdit()
        if edit is not None:
            edit.setText(self.role.itemText(0))

    def show_state(self, ready: bool, words: str, refused: bool = False) -> None:
        """Let the decision be sealed or say what it waits for; `refused`: it was tried, and this is why not."""
        self.seal.setEnabled(ready)
        self.hint.setText(words)
        level = "error" if refused else ""
        if self.hint.property("level") != level:
            self.hint.setProperty("level", level)
            self.hint.style().unpolish(self.hint)
            self.hint.style().polish(self.hint)

    def show_records(self, records: Sequence[Record], stands: Sequence[str]) -> None:
        """List the sealed records, newest first, with how each stands (engine.review.cover)."""
        for row in self._rows:
            self.records.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = []
        for record, state in reversed(tuple(zip(records, stands, strict=True))):
            s = record.statement
            row = QWidget()
            row.setProperty("plain", True)
            column = QVBoxLayout(row)
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(2)
            word = self.tr("Approved") if s.decision == "APPROVED" else self.tr("Rejected")
            head = QLabel(self.tr("{} by {}, {}").format(word, s.reviewer, s.role))
            head.setWordWrap(True)
            told = {
                COVERS: self.tr("Covers the present plan"),
                PLAN_CHANGED: self.tr("The plan was changed since"),
                OTHER_DRAFT: self.tr("It is about another draft: {}").format(s.draft_name),
                DOSE_CHANGED: self.tr("The dose calculation was changed since"),
            }[state]
            detail = QLabel(f"{s.signed_at[:16].replace('T', ' ')} UTC  \u00b7  {record.fingerprint[:12]}")
            detail.setObjectName("quiet")
            detail.setToolTip(self.tr("Time of signing and the start of the record's digest"))
            stand = QLabel((SHAPES.get(state, "\u25b2") + "  ") + told)
            stand.setWordWrap(True)
            stand.setProperty("level", "info" if state in (COVERS, OTHER_DRAFT) else "warning")
            pdf = QPushButton(self.tr("Save as PDF\u2026"))
            pdf.setAccessibleName(self.tr("Save the record of {} as PDF").format(s.signed_at[:16].replace("T", " ")))
            pdf.clicked.connect(lambda _=False, r=record: self.pdf_wanted.emit(r))
            for widget in (head, stand, detail, pdf):
                column.addWidget(widget)
            self._rows.append(row)
            self.records.addWidget(row)
        if not records:
            none = QLabel(self.tr("Nothing is sealed yet."))
            none.setObjectName("quiet")
            self._rows.append(none)
            self.records.addWidget(none)
        for row in self._rows:
            row.show()
