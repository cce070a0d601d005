"""The contact sheet: small pictures, one at full size, by mouse and keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.views.contact_sheet import ContactSheet, sheet_columns

pytestmark = pytest.mark.gui

COLOURS = ("red", "green", "blue")


def images():
    out = []
    for name in COLOURS:
        image = QImage(960, 720, QImage.Format.Format_RGB32)
        image.fill(QColor(name))
        out.append(image)
    return out


@pytest.fixture
def sheet(qtbot):
    sheet = ContactSheet()
    qtbot.addWidget(sheet)
    sheet.resize(700, 600)
    sheet.show()
    qtbot.waitExposed(sheet)
    sheet.show_pictures(COLOURS, images(), [False, True, False])
    return sheet


def test_a_click_opens_a_picture_and_marks_it(sheet, qtbot):
    assert [t.seen for t in sheet._thumbs] == [False, True, False]
    with qtbot.waitSignals([sheet.looked, sheet.opened]):
        QTest.mouseClick(sheet._thumbs[2], Qt.MouseButton.LeftButton)
    assert sheet.is_open
    assert sheet.title.text() == "3 / 3   blue"
    assert sheet._thumbs[2].seen
    assert not sheet.after.isEnabled()
    full = sheet._full.grab().toImage()
    assert full.pixelColor(full.width() // 2, full.height() // 2) == QColor("blue")


def test_a_press_that_ends_elsewhere_opens_nothing(sheet):
    QTest.mousePress(sheet._thumbs[0], Qt.MouseButton.LeftButton)
    QTest.mouseRelease(sheet._thumbs[0], Qt.MouseButton.LeftButton, pos=sheet._thumbs[0].rect().bottomRight() * 3)
    assert not sheet.is_open


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Space, Qt.Key.Key_Enter])
def test_keys_open_a_picture(sheet, key):
    sheet._thumbs[0].setFocus()
    QTest.keyClick(sheet._thumbs[0], key)
    assert sheet.is_open


def test_arrows_walk_the_pictures_and_escape_goes_back_to_the_place(sheet):
    told = []
    sheet.looked.connect(told.append)
    sheet.open_picture(0)
    assert not sheet.before.isEnabled()
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Left):
        QTest.keyClick(QApplication.focusWidget(), key)
    assert told == [0, 1, 2, 1]
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert not sheet.is_open
    assert QApplication.focusWidget() is sheet._thumbs[1]


def test_screen_readers_hear_whether_a_picture_was_looked_at(sheet):
    assert sheet._thumbs[0].accessibleName() == "red, not looked at yet"
    assert sheet._thumbs[1].accessibleName() == "green, looked at"


@pytest.mark.parametrize(("width", "columns"), [(320, 1), (478, 2), (700, 2), (1900, 3)])
def test_the_pictures_fit_the_width(sheet, qtbot, width, columns):
    sheet.resize(width, 600)
    qtbot.waitUntil(lambda: sheet.width() == width)
    qtbot.waitUntil(lambda: len({t.geometry().top() for t in sheet._thumbs}) == -(-3 // columns))
    qtbot.waitUntil(lambda: max(t.geometry().right() for t in sheet._thumbs) <= sheet._scroll.viewport().width())


@pytest.mark.parametrize(("count", "size"), [(15, (1800, 1370)), (15, (1620, 1370)), (11, (1800, 1370)), (8, (1300, 900))])
def test_on_a_large_screen_the_pictures_use_the_height_as_well(sheet, count, size):
    sheet.show_pictures(["title"] * count, images()[:1] * count, [False] * count)
    sheet.resize(*size)
    QTest.qWait(0)
    places = [t.geometry() for t in sheet._thumbs]
    assert sheet._scroll.verticalScrollBar().maximum() == 0
    across = max(p.right() for p in places) - min(p.left() for p in places)
    down = max(p.bottom() for p in places) - min(p.top() for p in places)
    assert down > 0.85 * size[1] or across > 0.9 * size[0]
    assert abs(min(p.left() for p in places) - (sheet._grid_host.width() - max(p.right() for p in places))) < 3
    # A column more or less would show them smaller.
    columns, wide = sheet_columns(count, *size)
    for other in (columns - 1, columns + 1):
        rows = -(-count // other)
        grown = rows * ((wide + 8) * 3 // 4 + 56) > size[1] or other * (wide + 8 + 16) > size[0]
        assert grown


def test_an_empty_sheet_says_why_and_may_offer_a_way(sheet, qtbot):
    sheet.show_words("Nothing yet.")
    assert not sheet.is_open
    assert not sheet.way.isVisible()
    sheet.show_words("No beams.", "Go to Aim")
    with qtbot.waitSignal(sheet.way_wanted):
        sheet.way.click()


def test_no_picture_opens_beyond_the_sheet(sheet):
    sheet.open_picture(3)
    sheet.open_picture(-1)
    assert not sheet.is_open
