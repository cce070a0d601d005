"""Pages of plain text: messages so far, a fault report, about."""

from __future__ import annotations

import platform

from PySide6.QtCore import QCoreApplication, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from app.core import log
from app.core.caution import caution
from app.core.messages import Messages
from engine import __version__


def _tr(text: str) -> str:
    return QCoreApplication.translate("Texts", text)


class TextDialog(QDialog):
    """Shows a text that can be copied; not modal."""

    def __init__(self, parent: QWidget, title: str, intro: str, text: str) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.resize(720, 460)
        lead = QLabel(intro)
        lead.setWordWrap(True)
        self.body = QPlainTextEdit(text)
        self.body.setReadOnly(True)
        self.body.setAccessibleName(title)
        copy, close = QPushButton(_tr("Copy")), QPushButton(_tr("Close"))
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.body.toPlainText()))
        close.clicked.connect(self.close)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(copy)
        row.addWidget(close)
        note = QLabel(caution())
        note.setObjectName("caution")
        note.setWordWrap(True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 8)
        layout.setSpacing(8)
        layout.addWidget(lead)
        layout.addWidget(self.body, 1)
        layout.addLayout(row)
        layout.addWidget(note)


def messages_dialog(parent: QWidget, messages: Messages) -> TextDialog:
    """Return a dialog with all messages, newest first."""
    lines = [f"{m.at:%H:%M:%S}  {m.level:<8} {m.text}" for m in reversed(messages.kept)]
    return TextDialog(parent, _tr("Messages so far"), _tr("Newest first."), "\n".join(lines))


def fault_dialog(parent: QWidget) -> TextDialog:
    """Return a dialog with the log and the versions, to be sent with a report."""
    head = f"Halfshade {__version__}, Python {platform.python_version()}, Qt {qVersion()}, {platform.platform()}"
    intro = _tr(
        "Copy this text into your report and say what you did before. It holds no image, but it may hold file names "
        "and names of volumes: read it through first."
    )
    return TextDialog(parent, _tr("Report a fault"), intro, f"{head}\n\n{log.memory.text()}")


def about_dialog(parent: QWidget) -> TextDialog:
    """Return a dialog that says what the program is."""
    text = _tr(
        "Halfshade {}\n\n"
        "Outline target and organ volumes on CT, arrange photon beams, compute their dose, judge it against goals, and "
        "sign what was reviewed. Open source under the Apache License 2.0.\n\n"
        "Angles follow IEC 61217, lengths are mm, doses Gy, patient axes those of DICOM. The limits of the dose "
        "calculation and what it was checked against are in the README."
    ).format(__version__)
    return TextDialog(parent, _tr("About Halfshade"), _tr("For research and education."), text)
