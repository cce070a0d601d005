"""The strip at the foot: the newest message, what runs and how to stop it, and the caution."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.core.jobs import JobRunner
from app.core.messages import Message, Messages

SHOW_AFTER_MS, INFO_STAYS_MS, READ_MS = 250, 9000, 2500


class MessageStrip(QWidget):
    """Shows messages and the progress of jobs.

    Signals
    -------
    log_wanted() : the person asks for all messages
    """

    log_wanted = Signal()

    def __init__(self, messages: Messages, jobs: JobRunner, caution: str) -> None:
        super().__init__()
        self._jobs, self._kind = jobs, ""
        self._messages = messages
        self._message: Message | None = None
        self.setObjectName("messages")
        self.level = QLabel()
        self.text = QLabel()
        self.text.setObjectName("message")
        self.text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.text.setWordWrap(True)
        self.text.setAccessibleName(self.tr("Newest message"))
        self.button = QPushButton()
        self.dismiss = QPushButton(self.tr("Dismiss"))
        self.what = QLabel()
        self.bar = QProgressBar()
        self.bar.setFixedWidth(160)
        self.bar.setTextVisible(False)
        self.bar.setRange(0, 1000)
        self.cancel = QPushButton(self.tr("Cancel"))
        self.cancel.setToolTip(self.tr("Stop what runs"))
        row = QHBoxLayout()
        row.setContentsMargins(12, 4, 12, 4)
        row.setSpacing(8)
        row.addWidget(self.level)
        row.addWidget(self.text, 1)
        for w in (self.button, self.dismiss, self.what, self.bar, self.cancel):
            row.addWidget(w)
        note = QLabel(caution)
        note.setObjectName("caution")
        note.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(note)
        self.setMinimumHeight(62)
        self._fade = QTimer(self, singleShot=True, interval=INFO_STAYS_MS)
        self._fade.timeout.connect(self.show_standing)
        self._wait = QTimer(self, singleShot=True, interval=SHOW_AFTER_MS)
        self._wait.timeout.connect(lambda: self._show_progress(True))
        self.dismiss.clicked.connect(self._dismiss)
        self.button.clicked.connect(self._act)
        self.cancel.clicked.connect(self._cancel)
        messages.posted.connect(self._posted)
        messages.settled.connect(self._settled)
        jobs.progress.connect(self._on_progress)
        jobs.finished.connect(self._on_finished)
        self._show_progress(False)
        self.clear()

    def _posted(self, message: Message) -> None:
        """Show a message, but let what the hand just did be read before a note that follows from it takes its place."""
        unread = self._fade.remainingTime() - (INFO_STAYS_MS - READ_MS) if self._fade.isActive() else 0
        if unread > 0 and message.follows and message in self._messages.standing:
            self._fade.start(unread)
        else:
            self.show_message(message)

    def show_message(self, message: Message) -> None:
        """Show a message; information leaves by itself, the rest when it is settled, dismissed or replaced."""
        self._message = message
        words = {"info": "", "warning": self.tr("Note"), "error": self.tr("Problem")}[message.level]
        count = len(self._messages.standing)
        if words and count > 1 and message in self._messages.standing:
            words = self.tr("{0}, 1 of {1}").format(words, count)
        self.level.setText(words)
        self.level.setVisible(bool(words))
        self.level.setProperty("level", message.level)
        self.level.style().unpolish(self.level)
        self.level.style().polish(self.level)
        self.text.setText(message.text)
        self.button.setText(message.button)
        self.button.setVisible(bool(message.button))
        self.dismiss.setVisible(message.level != "info")
        if message.level == "info":
            self._fade.start(INFO_STAYS_MS)
        else:
            self._fade.stop()

    def show_standing(self) -> None:
        """Show the newest message whose cause still stands, or none."""
        standing = self._messages.standing
        if standing:
            self.show_message(standing[-1])
        else:
            self.clear()

    def _dismiss(self) -> None:
        message = self._message
        if message is not None and message.topic:
            self._messages.settle(message.topic)
        else:
            self.show_standing()

    def go_on(self) -> None:
        """The hand goes on to another station: a note about what it did here is past, once there was time to read it."""
        message = self._message
        if message is not None and message.level == "warning" and not message.topic and not message.button:
            read_ms = int((datetime.now() - message.at).total_seconds() * 1000)
            self._fade.start(max(0, READ_MS - read_ms))

    def _settled(self, topic: str) -> None:
        if self._message is not None and self._message.topic == topic and self._message.level != "info":
            self.show_standing()

    def clear(self) -> None:
        """Show no message."""
        self._message = None
        self.text.clear()
        for w in (self.level, self.button, self.dismiss):
            w.hide()

    def _act(self) -> None:
        message = self._message
        self._dismiss()
        if message is not None and message.action is not None:
            message.action()

    def _cancel(self) -> None:
        """Stop what runs; it ends at its next breath, and until then the strip says so."""
        self._jobs.cancel(self._kind or None)
        self.cancel.setEnabled(False)
        self.what.setText(self.tr("Stopping\u2026"))

    def _on_progress(self, kind: str, fraction: float, words: str) -> None:
        if kind != self._kind:
            self.cancel.setEnabled(True)
        elif not self.cancel.isEnabled():
            return  # a word from before it heard that it is to stop
        self._kind = kind
        # A visible bar that is told a value has the window painted at once, in the midst of what the hand does.
        self.bar.setUpdatesEnabled(False)
        self.bar.setValue(int(1000 * fraction))
        self.bar.setUpdatesEnabled(True)
        self.what.setText(words[:1].upper() + words[1:])
        if not self.bar.isVisible() and not self._wait.isActive():
            self._wait.start()

    def _on_finished(self, kind: str, state: str) -> None:
        self.cancel.setEnabled(True)
        if not self._jobs.busy():
            self._wait.stop()
            self._show_progress(False)
            self._kind = ""

    def _show_progress(self, shown: Any) -> None:
        shown = bool(shown) and (self._jobs.busy() if shown else False)
        for w in (self.what, self.bar, self.cancel):
            w.setVisible(shown)
