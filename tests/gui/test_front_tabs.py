"""The row of tabs stands still, whatever its pages need."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.panels.front_tabs import FrontTabs

pytestmark = pytest.mark.gui


def page(*heights):
    made = QWidget()
    column = QVBoxLayout(made)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for high in heights:
        widget = QPushButton("words")
        widget.setFixedHeight(high)
        column.addWidget(widget)
    column.addStretch(1)
    return made


def click_tab(row, index):
    QTest.mouseClick(row, Qt.MouseButton.LeftButton, pos=row.tabRect(index).center())


def test_a_page_that_is_too_high_scrolls_and_asks_for_no_more_room(qtbot):
    tabs, low, high = FrontTabs(), page(40), page(300, 300, 300)
    qtbot.addWidget(tabs)
    tabs.addTab(low, "low")
    least = tabs.minimumSizeHint().height()
    tabs.addTab(high, "high")
    assert tabs.minimumSizeHint().height() == least
    tabs.resize(300, 400)
    tabs.show()
    for index, shown, most in ((0, low, 0), (1, high, 900 - 400), (0, low, 0)):
        click_tab(tabs.row, index)
        assert tabs.currentWidget() is shown
        bar = next(s for s in tabs.findChildren(QScrollArea) if s.widget() is shown).verticalScrollBar()
        assert (bar.maximum() > most) if most else (bar.maximum() == 0)


@pytest.mark.parametrize("size", [(1280, 800), (1600, 1200)])
def test_the_tabs_and_tools_of_outline_stand_still(window, qtbot, size):
    window.go("outline")
    window.resize(*size)
    station = window.station
    QApplication.processEvents()
    row, brush = station.tabs.row, station.column.buttons["brush"]
    before = row.mapToGlobal(QPoint(0, 0)), station.list.size()
    for index in range(station.tabs.count()):
        click_tab(row, index)
        QApplication.processEvents()
        assert (row.mapToGlobal(QPoint(0, 0)), station.list.size()) == before
    click_tab(row, 0)
    tool = brush.mapToGlobal(QPoint(0, 0))
    for button in station.column.buttons.values():
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)
        QApplication.processEvents()
        assert (row.mapToGlobal(QPoint(0, 0)), station.list.size()) == before
        assert brush.mapToGlobal(QPoint(0, 0)) == tool
    station.tabs.setCurrentWidget(station.form)
    for operation in station.form.operations:
        station.form.choose(operation.name)
        QApplication.processEvents()
        assert row.mapToGlobal(QPoint(0, 0)) == before[0]


def test_every_tool_finds_room_for_its_settings_on_a_small_screen(window, qtbot):
    window.resize(1272, 760)
    window.go("outline")
    station = window.station
    scroll = next(s for s in station.tabs.findChildren(QScrollArea) if s.widget() is station.column)
    for name in station.tools:
        station.take(name)
        QApplication.processEvents()
        assert scroll.verticalScrollBar().maximum() == 0, name


def test_every_operation_finds_room_for_its_numbers_and_buttons_on_a_small_screen(window, qtbot):
    window.resize(1272, 760)
    window.go("outline")
    station, form = window.station, window.station.form
    station.tabs.setCurrentWidget(form)
    scroll = next(s for s in station.tabs.findChildren(QScrollArea) if s.widget() is form)
    for operation in form.operations:
        form.choose(operation.name)
        form.show_outcome("61.71 cm³ on 18 slices", True)
        QApplication.processEvents()
        assert scroll.verticalScrollBar().maximum() == 0, operation.name


def test_the_divide_stays_where_the_hand_puts_it_and_a_double_click_puts_it_back(window, qtbot):
    window.go("outline")
    station = window.station
    QApplication.processEvents()
    shared, first = station.shared, station.list.height()
    grip = shared.handle(1)
    middle = grip.rect().center()
    QTest.mousePress(grip, Qt.MouseButton.LeftButton, pos=middle)
    QTest.mouseMove(grip, middle + QPoint(0, 60))
    QTest.mouseRelease(grip, Qt.MouseButton.LeftButton, pos=middle)
    dragged = station.list.height()
    assert dragged > first + 30
    window.go("aim")
    window.go("outline")
    station.tabs.setCurrentWidget(station.comparison)
    QApplication.processEvents()
    assert station.list.height() == dragged
    assert not window.context.settings.sizes("outline/pages").isEmpty()
    QTest.mouseDClick(grip, Qt.MouseButton.LeftButton, pos=middle)
    assert station.list.height() == first
