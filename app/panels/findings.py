"""The findings: rule, evidence, a jump to the place, and an answer with a reason where it is not mended."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QInputDialog, QLabel, QPushButton, QVBoxLayout, QWidget

from engine.case.case import Answer
from engine.review.finding import Finding

SHAPES = {"stop": "\u25a0", "warn": "\u25b2", "note": "\u25cf"}
LEVELS = {"stop": "error", "warn": "warning", "note": "info"}


class Findings(QWidget):
    """The list of findings.

    Signals
    -------
    jump_wanted(finding) : go to the place
    answered(key, reason) : a warning is answered with a reason
    """

    jump_wanted = Signal(object)
    answered = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self.heading = QLabel(self.tr("Findings"))
        self.heading.setObjectName("heading")
        self._column.addWidget(self.heading)
        self._rows: list[QWidget] = []
        self.answer_buttons: dict[str, QPushButton] = {}

    def show_findings(self, findings: Sequence[Finding], answers: Sequence[Answer]) -> None:
        """Show findings, gravest first, with the answers given so far."""
        for row in self._rows:
            self._column.removeWidget(row)
            row.deleteLater()
        self._rows, self.answer_buttons = [], {}
        given = {a.finding: a for a in answers}
        for finding in findings:
            self._add(self._card(finding, given.get(finding.key)))
        stops = sum(f.severity == "stop" for f in findings)
        waiting = sum(f.severity == "warn" and f.key not in given for f in findings)
        self.heading.setText(self.tr("Findings: {} to mend, {} to mend or answer").format(stops, waiting))
        if not findings:
            empty = QLabel(self.tr("No finding. Every automatic check holds."))
            empty.setObjectName("quiet")
            empty.setWordWrap(True)
            self._add(empty)

    def show_words(self, words: str) -> None:
        """Say why nothing can be checked yet."""
        self.show_findings((), ())
        self.heading.setText(self.tr("Findings"))
        label = self._rows[0]
        if isinstance(label, QLabel):
            label.setText(words)

    def _add(self, row: QWidget) -> None:
        row.setProperty("plain", True)
        self._rows.append(row)
        self._column.addWidget(row)

    def _card(self, finding: Finding, answer: Answer | None) -> QWidget:
        card = QWidget()
        column = QVBoxLayout(card)
        column.setContentsMargins(0, 0, 0, 4)
        column.setSpacing(4)
        word = {"stop": self.tr("Mend"), "warn": self.tr("Mend or answer"), "note": self.tr("Note")}[finding.severity]
        head = QLabel(f"{SHAPES[finding.severity]}  {word}")
        head.setProperty("level", LEVELS[finding.severity])
        evidence, rule = QLabel(finding.evidence), QLabel(finding.rule)
        rule.setObjectName("quiet")
        for label in (evidence, rule):
            label.setWordWrap(True)
        for widget in (head, evidence, rule):
            column.addWidget(widget)
        if answer is not None:
            said = QLabel(self.tr("Answered by {}: {}").format(answer.who, answer.reason))
            said.setWordWrap(True)
            column.addWidget(said)
        buttons = QHBoxLayout()
        if finding.point_mm is not None or finding.volume_key or finding.beam_key:
            go = QPushButton(self.tr("Go there"))
            go.clicked.connect(lambda: self.jump_wanted.emit(finding))
            buttons.addWidget(go)
        if finding.severity == "warn":
            reply = QPushButton(self.tr("Answer\u2026"))
            reply.setAccessibleName(self.tr("Answer: {}").format(finding.evidence))
            reply.clicked.connect(lambda: self._ask(finding))
            self.answer_buttons[finding.key] = reply
            buttons.addWidget(reply)
        buttons.addStretch(1)
        column.addLayout(buttons)
        line = QFrame()
        line.setObjectName("line")
        line.setFrameShape(QFrame.Shape.HLine)
        column.addWidget(line)
        return card

    def _ask(self, finding: Finding) -> None:
        reason, ok = QInputDialog.getText(self, self.tr("Answer a finding"), f"{finding.evidence}\n\n{self.tr('Reason:')}")
        if ok and reason.strip():
            self.answered.emit(finding.key, reason.strip())
