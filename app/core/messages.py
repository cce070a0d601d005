"""The one place through which words reach the person: shown in the message strip, logged, kept."""

from __future__ import annotations

import logging
from collections import deque
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, Signal
from PySide6.QtWidgets import QWidget

from app.core.language import translated
from engine.base.errors import Cancelled, UserError

log = logging.getLogger("halfshade.messages")
LEVELS = {"info": logging.INFO, "warning": logging.WARNING, "error": logging.ERROR}


@dataclass(frozen=True)
class Message:
    """Words with a level ("info", "warning", "error") and, if something can be done at once, a button.

    A warning or error with a `topic` stands until that topic is settled; one without is about what the hand just did and
    leaves with the next edit or the next message, a warning without a button also with the next station. One that
    `follows` from what the hand just did waits a moment while the strip still says that.
    """

    level: str
    text: str
    button: str = ""
    action: Any = None
    topic: str = ""
    follows: bool = False
    at: datetime = field(default_factory=datetime.now)


class Messages(QObject):
    """Posts messages; the strip shows the newest.

    Signals
    -------
    posted(Message)
    settled(topic) : what was said about it no longer holds
    """

    posted = Signal(object)
    settled = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.kept: deque[Message] = deque(maxlen=200)
        self.standing: list[Message] = []

    def post(
        self, level: str, text: str, button: str = "", action: Any = None, topic: str = "", follows: bool = False
    ) -> None:
        """Show words; `action` is called by a button named `button`; a newer message of a topic replaces the older."""
        message = Message(level if level in LEVELS else "info", text, button, action, topic, follows)
        if topic:
            self.standing = [m for m in self.standing if m.topic != topic]
            if message.level != "info":
                self.standing.append(message)
        log.log(min(LEVELS[message.level], logging.INFO), "%s", text)
        self.kept.append(message)
        self.posted.emit(message)

    def take_back(self, text: str) -> None:
        """Let a note about what the hand did go, if nothing was said since: it has done it right now."""
        if self.kept and self.kept[-1].text == text and not self.kept[-1].topic:
            self.settle()

    def settle(self, topic: str = "") -> None:
        """Take back what was said about a topic: its cause is gone, or the person has read it."""
        self.standing = [m for m in self.standing if m.topic != topic]
        self.settled.emit(topic)

    def info(self, text: str, button: str = "", action: Any = None, topic: str = "") -> None:
        """Say what has happened."""
        self.post("info", text, button, action, topic)

    def warning(self, text: str, button: str = "", action: Any = None, topic: str = "", follows: bool = False) -> None:
        """Say what needs attention."""
        self.post("warning", text, button, action, topic, follows)

    def error(self, text: str, button: str = "", action: Any = None, topic: str = "") -> None:
        """Say what failed, where, and what to do."""
        self.post("error", text, button, action, topic)

    def failure(self, error: BaseException, topic: str = "") -> None:
        """Show an exception: a UserError by its own words, anything else as a fault of the program, until it is read."""
        if isinstance(error, Cancelled):
            return
        if isinstance(error, UserError):
            self.error(translated(error), topic=topic)
            return
        log.error("fault", exc_info=error)
        self.error(
            QCoreApplication.translate(
                "Messages", "The program made a mistake ({}: {}). Your work is kept. Help > Report a fault shows the log."
            ).format(type(error).__name__, error),
            topic="fault",
        )


def messages_of(widget: QWidget) -> Messages | None:
    """Return where the window a widget stands in says what is to be said, None outside of one."""
    found = getattr(getattr(widget.window(), "context", None), "messages", None)
    return found if isinstance(found, Messages) else None
