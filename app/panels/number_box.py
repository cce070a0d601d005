"""A box for a number that takes whatever is typed and says what it makes of it.

Qt's own box drops every key that would leave its range: 250 typed into a box of 0 to 200 is 25, and nobody is told.
"""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPoint
from PySide6.QtGui import QFocusEvent, QKeyEvent, QValidator
from PySide6.QtWidgets import QDoubleSpinBox, QToolTip

from app.core.messages import messages_of
from app.models.numbers import shown, typed


class NumberBox(QDoubleSpinBox):
    """Keeps its number when it cannot use what was typed; says so beside itself and in the message strip.

    Parameters
    ----------
    circle : a full turn in the box's unit, 0.0 without: numbers beyond it are turned back into the range, and told
    properties : of QDoubleSpinBox
    """

    def __init__(self, circle: float = 0.0, **properties: Any) -> None:
        self._circle, self._before = circle, 0.0
        self._typing, self._refused = False, ""
        super().__init__(**properties)
        self.editingFinished.connect(self._end)

    # -- as Qt asks ----------------------------------------------------------------------------------------------

    def validate(self, text: str, pos: int) -> object:
        number = self._read(text)
        usable = number is not None and self._in_range(number) and self._rounded(number) == number
        state = QValidator.State.Acceptable if usable else QValidator.State.Intermediate
        return state, text, pos

    def valueFromText(self, text: str) -> float:
        number = self._read(text)
        return self._held() if number is None else number

    def textFromValue(self, value: float) -> str:
        return super().textFromValue(value).replace("-", "−")

    def fixup(self, text: str) -> str:
        """Return what stands in the box instead of what was typed, and say it."""
        number, level = self._read(text), "info"
        if number is not None and self._circle and not self._in_range(number):
            number, words = self._turned(number)
        elif number is not None and self._in_range(number):
            words = self.tr("{0}: {1} is kept as {2}.")
            number, words = self._rounded(number), words.format(self._name(), shown(number, 6), self._said(number))
        else:
            number, level = self._held(), "warning"
            what = self.tr("{0}: “{1}” cannot be used, so {2} stays. Possible: {3} to {4}.")
            bounds = f"{shown(self.minimum(), self.decimals())}{self.suffix()}", self._said(self.maximum())
            words = what.format(self._name(), self._bare(text), self._said(number), *bounds)
        self._tell(level, words)
        self._typing = False
        return f"{self.prefix()}{self.textFromValue(number)}{self.suffix()}"

    def value(self) -> float:
        """Return the number; the one from before while what is being typed cannot be used."""
        return self._before if self._typing and not self.hasAcceptableInput() else super().value()

    def setValue(self, value: float) -> None:
        self._typing = False
        super().setValue(value)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self._typing:
            self._typing, self._before = True, self.value()
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._typing = False
        super().focusInEvent(event)

    def stepBy(self, steps: int) -> None:
        if self.specialValueText() and self.value() == self.minimum() < 0 <= self.maximum():
            self.setValue(0.0)  # from no number the first step leads to nought, not to the end of the range
        else:
            super().stepBy(steps)
        self._typing = False

    # -- parts ---------------------------------------------------------------------------------------------------

    def _read(self, text: str) -> float | None:
        if self.specialValueText() and text == self.specialValueText():
            return self.minimum()
        unit = self.suffix().strip()
        return typed(self._bare(text), (unit,) if unit else ())

    def _bare(self, text: str) -> str:
        return text.removeprefix(self.prefix()).removesuffix(self.suffix()).strip()

    def _in_range(self, number: float) -> bool:
        return self.minimum() <= number <= self.maximum()

    def _rounded(self, number: float) -> float:
        return round(number, self.decimals())

    def _held(self) -> float:
        return self._before if self._typing else self.value()

    def _turned(self, number: float) -> tuple[float, str]:
        back = self._rounded(number % self._circle) % self._circle
        return back, self.tr("{0}: {1}° is the same as {2}.").format(self._name(), shown(number, 6), self._said(back))

    def _name(self) -> str:
        # What follows a colon explains the number to who cannot see it; a sentence about it needs the name alone.
        return self.accessibleName().partition(": ")[0] or self.tr("This number")

    def _said(self, number: float) -> str:
        if self.specialValueText() and number == self.minimum():
            return self.specialValueText()
        return f"{shown(number, self.decimals())}{self.suffix()}"

    def _end(self) -> None:
        """Take back what was said about a number that could not be used, once the box has got one that can."""
        told, messages = self._refused, messages_of(self)
        if told and self._typing and messages is not None:
            messages.take_back(told)
            self._refused = ""
        self._typing = False

    def _tell(self, level: str, words: str) -> None:
        QToolTip.showText(self.mapToGlobal(QPoint(0, self.height())), words, self)
        self._refused = words if level == "warning" else ""
        messages = messages_of(self)
        if messages is not None:
            messages.post(level, words)
