"""Tabs ask for the room of the page in front, whatever the others are like."""

import pytest
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.panels.front_tabs import FrontTabs

pytestmark = pytest.mark.gui


def page(*heights):
    made = QWidget()
    column = QVBoxLayout(made)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for high in heights:
        widget = QWidget()
        widget.setFixedHeight(high)
        column.addWidget(widget)
    return made


def test_they_are_as_high_as_the_page_in_front(qtbot):
    tabs = FrontTabs()
    qtbot.addWidget(tabs)
    assert tabs.sizeHint().isValid()  # without a page as well
    for made in (page(40), page(300, 100)):
        tabs.addTab(made, "page")
    bar = tabs.tabBar().sizeHint().height()
    for index, high in ((0, 40), (1, 400), (0, 40)):
        tabs.setCurrentIndex(index)
        assert tabs.sizeHint().height() == high + bar
        assert tabs.minimumSizeHint().height() == high + bar
        assert tabs.heightForWidth(300) == high + bar


def test_sentences_that_wrap_get_their_lines(qtbot):
    tabs, made = FrontTabs(), page()
    qtbot.addWidget(tabs)
    label = QLabel("a sentence of many words that goes on and on " * 4)
    label.setWordWrap(True)
    made.layout().addWidget(label)
    tabs.addTab(made, "page")
    assert tabs.heightForWidth(150) > tabs.heightForWidth(900)


def test_the_list_of_outline_gets_what_the_tools_leave(window, qtbot):
    window.go("outline")
    window.resize(1600, 1200)
    station = window.shelf.get("outline")
    tabs, heights = station.tabs, []
    for front in (station.findings, station.column):
        tabs.setCurrentWidget(front)
        qtbot.waitUntil(lambda: tabs.height() == tabs.heightForWidth(tabs.width()), timeout=5000)
        heights.append(station.list.height())
        assert tabs.geometry().top() - station.list.geometry().bottom() == 17  # the spacing of the pane and no more
    assert heights[1] > heights[0] + 50
