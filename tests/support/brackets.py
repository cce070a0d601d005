"""A language made of brackets: every text that translators are given comes back as ⟦text⟧, so that a bare word is seen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Any

from PySide6.QtCore import Qt, QTranslator
from PySide6.QtGui import QAction, QTextDocumentFragment
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QGroupBox,
    QLabel,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QTabBar,
    QWidget,
)

from tests.support.translations import collect

INNERMOST = re.compile("⟦[^⟦⟧]*⟧")
WORD = re.compile(r"[^\W\d_]{2,}")


@cache
def _known() -> frozenset[tuple[str, str]]:
    return frozenset(collect().texts)


class Brackets(QTranslator):
    """Answers with the text in brackets, for collected texts only: what translators would not see stays bare."""

    def __init__(self) -> None:
        super().__init__()
        self.known = _known()

    def isEmpty(self) -> bool:
        return False

    def translate(self, context: str, source: str, disambiguation: str | None = None, n: int = -1) -> str:
        # A mnemonic keeps working: Qt takes the letter after the first "&".
        return f"⟦{source}⟧" if (context, source) in self.known else source


def bare_words(text: str, names: set[str]) -> list[str]:
    """Return the words of a text that stand outside brackets and are no names, units or quantities."""
    if re.search(r"<\w+[^>]*>", text):
        text = QTextDocumentFragment.fromHtml(text).toPlainText()
    before = ""
    while text != before:
        before, text = text, INNERMOST.sub(" ", text)
    text = re.sub("⟦[^⟧]*…", " ", text)  # a text that was cut short to fit
    return WORD.findall(_any_of(frozenset(names)).sub(" ", text))


@lru_cache(maxsize=32)
def _any_of(names: frozenset[str]) -> re.Pattern[str]:
    """Return what finds any of the names as whole words, the longest first."""
    found = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    return re.compile(rf"(?<![^\W\d_])(?:{found})(?![^\W\d_])" if found else "(?!)")


def shown_texts(widget: QWidget) -> Iterator[tuple[str, str]]:
    """Yield (where, text) of everything a visible widget shows or tells about itself."""
    where = f"{type(widget).__name__} {widget.objectName()}".strip()
    yield f"{where} tool tip", widget.toolTip()
    yield f"{where} accessible name", widget.accessibleName()
    if isinstance(widget, (QLabel, QAbstractButton)):
        yield where, widget.text()
    if isinstance(widget, QLineEdit):
        yield f"{where} placeholder", widget.placeholderText()
    if isinstance(widget, QPlainTextEdit):
        yield f"{where} placeholder", widget.placeholderText()
    if isinstance(widget, QGroupBox):
        yield where, widget.title()
    if isinstance(widget, QComboBox):
        for i in range(widget.count()):
            yield f"{where} item", widget.itemText(i)
    if isinstance(widget, QTabBar):
        for i in range(widget.count()):
            yield f"{where} tab", widget.tabText(i)
    if isinstance(widget, QMenu):
        yield f"{where} title", widget.title()
    for action in widget.actions():
        yield from _action_texts(where, action)
    if isinstance(widget, QAbstractItemView) and widget.model() is not None:
        yield from _cells(where, widget.model())


def _action_texts(where: str, action: QAction) -> Iterator[tuple[str, str]]:
    yield f"{where} action", action.text().partition("\t")[0]
    if action.toolTip().replace("…", "") != action.text().replace("&", "").replace("…", ""):
        yield f"{where} action tip", action.toolTip().partition("\t")[0]
    if action.menu() is not None:
        for inner in action.menu().actions():
            yield from _action_texts(f"{where} > {action.text()}", inner)


def _cells(where: str, model: Any) -> Iterator[tuple[str, str]]:
    roles = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole)
    for role in roles:
        for column in range(model.columnCount()):
            yield f"{where} head", str(model.headerData(column, Qt.Orientation.Horizontal, role) or "")
            for row in range(min(model.rowCount(), 30)):
                yield f"{where} cell", str(model.index(row, column).data(role) or "")
