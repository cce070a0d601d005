"""The findings: rule, evidence, a jump to the place, and an answer with a reason where it is not mended."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.core.language import translated
from engine.case.case import Answer
from engine.review.finding import Finding

SHAPES = {"stop": "\u25a0", "warn": "\u25b2", "note": "\u25cf", "answered": "\u2713"}
LEVELS = {"stop": "error", "warn": "warning", "note": "info", "answered": "info"}


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
        self.heading.setWordWrap(True)
        self._column.addWidget(self.heading)
        self._rows: list[QWidget] = []
        self.answer_buttons: dict[str, QPushButton] = {}
        self.reasons: dict[str, QLineEdit] = {}

    def show_findings(self, findings: Sequence[Finding], answers: Sequence[Answer]) -> None:
        """Show findings, gravest first, with the answers given so far."""
        typed = {key: line.text() for key, line in self.reasons.items() if line.isVisibleTo(self)}
        held = self._held()
        if held:
            # Hiding the focused widget would send the focus, and the scrolled pane with it, to the next one.
            self.setFocus()
        for row in self._rows:
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows, self.answer_buttons, self.reasons = [], {}, {}
        given = {a.finding: a for a in answers if a.reason.strip()}
        for finding in findings:
            self._add(self._card(finding, given.get(finding.key)))
        for key, text in typed.items():
            # A reason that is being typed outlives an edit elsewhere.
            if key in self.reasons and text != (given[key].reason if key in given else ""):
                self.answer_buttons[key].click()
                self.reasons[key].setText(text)
        if held in self.answer_buttons:
            line = self.reasons[held]
            (line if line.isVisibleTo(self) else self.answer_buttons[held]).setFocus()
        stops = sum(f.severity == "stop" for f in findings)
        waiting = sum(f.severity == "warn" and f.key not in given for f in findings)
        parts = [self.tr("{} to mend").format(stops)] if stops else []
        parts += [self.tr("{} to mend or answer").format(waiting)] if waiting else []
        self.heading.setText(self.tr("Findings: {}").format(", ".join(parts) or self.tr("none open")))
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

    def _held(self) -> str:
        """Return the key of the finding whose widgets have the focus, or ""."""
        focus = QApplication.focusWidget()
        if focus is None or not self.isAncestorOf(focus):
            return ""
        pairs = [*self.answer_buttons.items(), *self.reasons.items()]
        return next((key for key, widget in pairs if widget.parent() is focus.parent()), "")

    def _add(self, row: QWidget) -> None:
        row.setProperty("plain", True)
        self._rows.append(row)
        self._column.addWidget(row)
        row.show()  # at once, not in the next turn: a reason may be waiting for its line

    def _card(self, finding: Finding, answer: Answer | None) -> QWidget:
        card = QWidget()
        column = QVBoxLayout(card)
        column.setContentsMargins(0, 0, 0, 4)
        column.setSpacing(4)
        kind = "answered" if answer is not None and finding.severity == "warn" else finding.severity
        words = {
            "stop": self.tr("Mend"),
            "warn": self.tr("Mend or answer"),
            "note": self.tr("Note"),
            "answered": self.tr("Answered"),
        }
        head = QLabel(f"{SHAPES[kind]}  {words[kind]}")
        head.setProperty("level", LEVELS[kind])
        evidence, rule = QLabel(translated(finding.evidence)), QLabel(translated(finding.rule))
        rule.setObjectName("quiet")
        for label in (evidence, rule):
            label.setWordWrap(True)
        for widget in (head, evidence, rule):
            column.addWidget(widget)
        if answer is not None:
            said = QLabel(self.tr("{}: {}").format(answer.who, answer.reason))
            said.setWordWrap(True)
            column.addWidget(said)
        buttons = QHBoxLayout()
        if finding.point_mm is not None or finding.volume_key or finding.beam_key:
            go = QPushButton(self.tr("Go there"))
            go.clicked.connect(lambda: self.jump_wanted.emit(finding))
            buttons.addWidget(go)
        if finding.severity == "warn":
            reply = QPushButton(self.tr("Change the answer") if answer else self.tr("Answer"))
            reply.setAccessibleName(self.tr("Answer: {}").format(translated(finding.evidence)))
            self.answer_buttons[finding.key] = reply
            buttons.addWidget(reply)
        buttons.addStretch(1)
        column.addLayout(buttons)
        if finding.severity == "warn":
            column.addWidget(self._form(finding, answer, reply))
        line = QFrame()
        line.setObjectName("line")
        line.setFrameShape(QFrame.Shape.HLine)
        column.addWidget(line)
        return card

    def _form(self, finding: Finding, answer: Answer | None, reply: QPushButton) -> QWidget:
        """Return the line for a reason, shown when it is asked for."""
        form = QWidget()
        form.setProperty("plain", True)
        row = QHBoxLayout(form)
        row.setContentsMargins(0, 0, 0, 4)
        reason, keep = QLineEdit(answer.reason if answer else ""), QPushButton(self.tr("Keep"))
        reason.setPlaceholderText(self.tr("Why it can stay as it is"))
        reason.setAccessibleName(self.tr("Reason"))
        keep.setToolTip(self.tr("Keep the answer with your name (Enter)"))
        row.addWidget(reason, 1)
        row.addWidget(keep)
        form.hide()

        def tell() -> None:
            if reason.text().strip():
                self.answered.emit(finding.key, reason.text().strip())

        def show() -> None:
            form.show()
            reason.setFocus()

        reason.returnPressed.connect(tell)
        keep.clicked.connect(tell)
        reply.clicked.connect(show)
        self.reasons[finding.key] = reason
        return form
