"""The one place through which words reach the person: shown in the message strip, logged, kept."""

from __future__ import annotations

import logging
from collections import deque
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, Signal

from engine.base.errors import Cancelled, UserError

log = logging.getLogger("halfshade.messages")
LEVELS = {"info": logging.INFO, "warning": logging.WARNING, "error": logging.ERROR}


@dataclass(frozen=True)
class Message:
    """Words with a level ("info", "warning", "error") and, if something can be done at once, a button."""

    level: str
    text: str
    button: str = ""
    action: Any = None
    at: datetime = field(default_factory=datetime.now)


class Messages(QObject):
    """Posts messages; the strip shows the newest.

    Signals
    -------
    posted(Message)
    """

    posted = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.kept: deque[Message] = deque(maxlen=200)

    def post(self, level: str, text: str, button: str = "", action: Any = None) -> None:
        """Show words; `action` is called by a button named `button`."""
        message = Message(level if level in LEVELS else "info", text, button, action)
        log.log(min(LEVELS[message.level], logging.INFO), "%s", text)
        self.kept.append(message)
        self.posted.emit(message)

    def info(self, text: str, button: str = "", action: Any = None) -> None:
        """Say what has happened."""
        self.post("info", text, button, action)

    def warning(self, text: str, button: str = "", action: Any = None) -> None:
        """Say what needs attention."""
        self.post("warning", text, button, action)

    def error(self, text: str, button: str = "", action: Any = None) -> None:
        """Say what failed, where, and what to do."""
        self.post("error", text, button, action)

    def failure(self, error: BaseException) -> None:
        """Show an exception: a UserError by its own words, anything else as a fault of the program."""
        if isinstance(error, Cancelled):
            return
        if isinstance(error, UserError):
            self.error(str(error))
            return
        log.error("fault", exc_info=error)
        self.error(
            QCoreApplication.translate(
                "Messages", "The program made a mistake ({}: {}). Your work is kept. Help > Report a fault shows the log."
            ).format(type(error).__name__, error)
        )
