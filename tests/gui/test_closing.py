"""A window takes all its widgets with it, and themes change in every station whatever was closed before."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

from app.core.settings import Settings
from app.core.tokens import tokens, use
from app.stations.station import STATIONS
from app.window import Window
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui

NAMES = tuple(module.rpartition(".")[2] for module, _ in STATIONS)
CASES = pytest.mark.parametrize("with_case", [False, True], ids=["bare", "case"])


@pytest.fixture(autouse=True)
def plain_style(qapp) -> Iterator[None]:
    """Leave no theme behind for other tests."""
    yield
    qapp.setStyleSheet("")
    use("dark")


@pytest.fixture
def opened(qtbot, settings: Settings, stub) -> Iterator[Callable[[bool], Window]]:
    """Windows of this test; what the test does not end is ended after it."""
    made: list[Window] = []

    def open_one(with_case: bool) -> Window:
        window = Window(settings)
        made.append(window)
        window.resize(1280, 800)
        window.show()
        qtbot.waitExposed(window)
        if with_case:
            window.context.workspace.open(planned_case())
        return window

    yield open_one
    for window in made:
        if isValid(window):
            end(window)


def born_since(before: set[QWidget]) -> list[str]:
    """Return the widgets that were not there before, with the window they stand in."""
    return [f"{w!r} in {w.window()!r}" for w in QApplication.allWidgets() if w not in before]


def end(window: Window) -> None:
    window.close()
    window.deleteLater()
    QTest.qWait(0)


@CASES
@pytest.mark.parametrize("stations", [*((n,) for n in NAMES), NAMES], ids=[*NAMES, "all"])
def test_a_closed_window_leaves_no_widget_behind(opened, stations, with_case):
    before = set(QApplication.allWidgets())
    window = opened(with_case)
    for name in stations:
        window.go(name)
        QTest.qWait(0)
    assert born_since(before)
    end(window)
    assert not born_since(before)


def test_a_draft_laid_beside_goes_with_the_window(opened):
    before = set(QApplication.allWidgets())
    window = opened(True)
    window.go("weigh")
    station = window.station
    station.desk.draft.duplicate_draft()
    station.drafts.beside.setCurrentIndex(1)
    station.drafts.beside.activated.emit(1)
    assert station.beside.widget is not None
    end(window)
    assert not born_since(before)


@CASES
def test_panels_without_a_place_wait_in_the_window_unseen(opened, with_case):
    window = opened(with_case)
    window.make_all()
    for station in window.shelf.made():
        assert station.panels()
        for widget in station.panels():
            assert window.isAncestorOf(widget)
            assert station is window.station or not widget.isVisible()
        shown = {station.left(), station.right(), station.bottom(), station.centre()} - {None}
        assert shown <= set(station.panels())


@CASES
def test_themes_change_there_and_back_in_every_station(opened, with_case):
    window = opened(with_case)
    for name in NAMES:
        window.go(name)
        for wanted in ("light", "dark"):
            window.set_theme(wanted)
            QTest.qWait(0)
            assert tokens().name == wanted


@CASES
def test_themes_change_after_another_window_was_closed(opened, with_case):
    first = opened(with_case)
    for name in NAMES:
        first.go(name)
    end(first)
    second = opened(False)
    second.set_theme("light")
    second.set_theme("dark")
    assert tokens().name == "dark"


def test_the_style_is_one_and_stays(opened, qapp):
    window = opened(False)
    window.set_theme("dark")
    qapp.setStyleSheet("")
    style, name = qapp.style(), qapp.style().name()
    window.set_theme("light")
    qapp.setStyleSheet("")
    assert name == "fusion"
    assert qapp.style() is style
