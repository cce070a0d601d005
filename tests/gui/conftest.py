"""A window over the small case, with settings of its own and every request answered by a stub unless a test says so."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtTest import QTest

from app.core.collector import Collector
from app.core.settings import Settings
from app.window import Window
from tests.support.cases import small_case
from tests.support.stub_dose import StubDose


@pytest.fixture(scope="session", autouse=True)
def garbage(qapp) -> Iterator[None]:
    """Free what tests leave behind on this thread only, as the program does; see app.core.collector."""
    collector = Collector()
    collector.start()
    yield
    collector.stop()


@pytest.fixture
def settings(tmp_path) -> Settings:
    return Settings(QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat))


@pytest.fixture
def bare_window(qtbot, settings) -> Iterator[Window]:
    """A shown window without a case."""
    window = Window(settings)
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    yield window
    window.close()
    window.deleteLater()
    QTest.qWait(0)


@pytest.fixture
def window(bare_window) -> Window:
    """The window with the small case, in Outline, the target active."""
    bare_window.context.workspace.open(small_case())
    bare_window.go("outline")
    bare_window.context.workspace.activate(volume="ptv")
    return bare_window


class Hand:
    """Presses, drags and types on the axial view, in patient mm."""

    def __init__(self, window: Window) -> None:
        self.window = window

    @property
    def view(self) -> Any:
        return self.window.stage.view_of("z")

    def at(self, x_mm: float, y_mm: float) -> QPoint:
        return self.view.project((x_mm, y_mm, 0.0)).toPoint()

    def press(self, x: float, y: float, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.mousePress(self.view, Qt.MouseButton.LeftButton, keys, self.at(x, y))

    def move(self, x: float, y: float) -> None:
        QTest.mouseMove(self.view, self.at(x, y))

    def release(self, x: float, y: float, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.mouseRelease(self.view, Qt.MouseButton.LeftButton, keys, self.at(x, y))

    def drag(self, *points: tuple[float, float], keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.press(*points[0], keys)
        for p in points[1:]:
            self.move(*p)
        self.release(*points[-1], keys)

    def click(self, x: float, y: float) -> None:
        QTest.mouseClick(self.view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, self.at(x, y))

    def key(self, key: Any, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(self.view, key, keys)


@pytest.fixture
def hand(window) -> Hand:
    return Hand(window)


@pytest.fixture
def answer(monkeypatch) -> Callable[[str, Callable[..., Any]], None]:
    """Replace what answers a kind of request."""
    from engine import compute

    def replace(kind: str, function: Callable[..., Any]) -> None:
        monkeypatch.setitem(compute.TABLE, kind, function)

    return replace


@pytest.fixture
def stub(answer) -> StubDose:
    """Doses come from a stub that remembers what was asked and can be held back."""
    made = StubDose()
    answer("DoseRequest", made)
    return made
