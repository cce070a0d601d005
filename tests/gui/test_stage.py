"""The stage under the hand: slices, window, zoom, planes, words."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QFont, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.views.grey import PRESETS, look_up
from app.views.layer import Layer
from app.views.plane import edge_letters
from app.views.quiet_line import GAP, QuietLine
from engine.base.values import own_array
from engine.case import edits
from engine.case.case import Case, Patient
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

pytestmark = pytest.mark.gui


def wheel(view, turns, keys=Qt.KeyboardModifier.NoModifier, at=None):
    position = QPointF(at if at is not None else view.rect().center())
    event = QWheelEvent(
        position, view.mapToGlobal(position), QPoint(), QPoint(0, int(120 * turns)), Qt.MouseButton.NoButton, keys,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, event)


def test_wheel_and_arrow_keys_walk_slices(window, hand):
    view = hand.view
    start = view.index
    wheel(view, 1)
    assert view.index == start + 1
    hand.key(Qt.Key.Key_Down)
    hand.key(Qt.Key.Key_Down)
    assert view.index == start - 1
    hand.key(Qt.Key.Key_Home)
    assert view.index == window.stage.grid.shape[0] - 1
    hand.key(Qt.Key.Key_End)
    assert view.index == 0


def test_half_a_turn_of_a_touch_pad_is_gathered(window, hand):
    start = hand.view.index
    wheel(hand.view, 0.5)
    assert hand.view.index == start
    wheel(hand.view, 0.5)
    assert hand.view.index == start + 1


def test_a_click_moves_the_shared_point_and_the_other_planes(window, hand):
    hand.click(20, -30)
    x, y, _ = window.context.workspace.cursor_mm
    mm_per_px = 1 / hand.view.scale
    assert (x, y) == pytest.approx((20, -30), abs=1.5 * mm_per_px)
    assert window.stage.view_of("x").position_mm == pytest.approx(20, abs=2)
    assert window.stage.view_of("y").position_mm == pytest.approx(-30, abs=2)


def test_right_drag_changes_level_and_width(window, hand):
    level, width = window.stage.levels
    centre = hand.view.rect().center()
    QTest.mousePress(hand.view, Qt.MouseButton.RightButton, Qt.KeyboardModifier.NoModifier, centre)
    QTest.mouseMove(hand.view, centre + QPoint(30, 20))
    QTest.mouseRelease(hand.view, Qt.MouseButton.RightButton, Qt.KeyboardModifier.NoModifier, centre + QPoint(30, 20))
    assert window.stage.levels[0] > level
    assert window.stage.levels[1] > width


def test_number_keys_call_presets(window, hand):
    for i, preset in enumerate(PRESETS):
        hand.key(str(i + 1))
        assert window.stage.levels == (preset.level, preset.width)


def test_control_wheel_magnifies_at_the_pointer(window, hand):
    at = hand.at(30, 20)
    before, scale = hand.view.point_mm(QPointF(at)), hand.view.scale
    wheel(hand.view, 3, Qt.KeyboardModifier.ControlModifier, at)
    after = hand.view.point_mm(QPointF(at))
    assert hand.view.scale > 1.5 * scale
    assert after == pytest.approx(before, abs=1e-6)
    hand.key("f")
    assert hand.view.scale == pytest.approx(scale)


def test_middle_drag_moves_the_picture(window, hand):
    centre = hand.view.rect().center()
    before = hand.view.point_mm(QPointF(centre))
    QTest.mousePress(hand.view, Qt.MouseButton.MiddleButton, Qt.KeyboardModifier.NoModifier, centre)
    QTest.mouseMove(hand.view, centre + QPoint(40, 0))
    QTest.mouseRelease(hand.view, Qt.MouseButton.MiddleButton, Qt.KeyboardModifier.NoModifier, centre + QPoint(40, 0))
    after = hand.view.point_mm(QPointF(centre + QPoint(40, 0)))
    assert after == pytest.approx(before, abs=1e-6)


def test_tab_trades_the_large_plane_and_three_times_brings_it_back(window):
    main = window.stage.main
    axes = []
    for _ in range(3):
        QTest.keyClick(main, Qt.Key.Key_Tab)
        axes.append(main.axis)
    assert axes == ["x", "y", "z"]
    assert sorted(v.axis for v in window.stage.views) == ["x", "y", "z"]


def test_letters_say_where_the_patient_lies():
    assert edge_letters("z") == ("R", "L", "A", "P")
    assert edge_letters("x") == ("A", "P", "H", "F")
    assert edge_letters("y") == ("R", "L", "H", "F")


def test_a_bright_corner_is_seen_where_it_lies_in_every_plane(bare_window):
    """Left, posterior and head: a lop-sided image shows any flip or transpose."""
    grid = Grid((-50.0, -40.0, -30.0), (2.0, 2.0, 3.0), (21, 41, 51))
    hu = np.full(grid.shape, -1000, dtype="<i2")
    hu[14:, 30:, 38:] = 1000
    bare_window.context.workspace.open(Case(Patient(), CtImage(own_array(hu), grid)))
    bare_window.go("outline")
    bare_window.context.settings.set("stage/crosshair", False)
    stage = bare_window.stage
    stage.set_levels(0, 1000)
    bare_window.context.workspace.set_cursor((40.0, 30.0, 24.0))
    for view in stage.views:
        shot = view.grab().toImage()
        inside = view.project((45.0, 35.0, 27.0)).toPoint()
        opposite = view.project((-45.0, -35.0, -27.0)).toPoint()
        assert shot.pixelColor(inside).value() > 200, view.axis
        assert shot.pixelColor(opposite).value() < 60, view.axis
        dx, dy = inside.x() - opposite.x(), inside.y() - opposite.y()
        assert dx > 0
        assert dy > 0 if view.axis == "z" else dy < 0


def test_the_quiet_line_tells_position_number_and_density(window, hand):
    window.stage.readouts.append(lambda point: f"probe {point[0]:.0f}")
    hand.move(0, 0)
    text = window.stage.line.text()
    for words in ("slice 10 of 19", " HU", "g/cm³", "probe"):
        assert words in text


def test_grey_follows_level_and_width():
    table = look_up(40, 400)
    values = table[np.array([-2000, -160, 40, 240, 3000], dtype=np.int16).view(np.uint16)]
    assert list(values) == [0, 0, 127, 255, 255]


def test_a_layer_is_painted_and_may_take_the_mouse(window, hand):
    class Mark(Layer):
        z = 75
        live = True
        taken = released = False

        def __init__(self):
            self.painted = set()

        def shown_in(self, view):
            return view.axis == "z"

        def paint(self, painter, view):
            self.painted.add(view.axis)

        def press(self, view, event):
            self.taken = True
            return True

        def release(self, view, event):
            self.released = True

    before = window.context.workspace.cursor_mm
    layer = Mark()
    window.stage.add_layer(layer)
    hand.view.grab()
    hand.click(30, 30)
    assert layer.painted == {"z"}
    assert layer.taken
    assert layer.released
    assert window.context.workspace.cursor_mm == before
    window.stage.remove_layer(layer)
    hand.click(30, 30)
    assert window.context.workspace.cursor_mm != before


def test_the_strip_goes_to_slices_and_tells_areas(window):
    strip = window.stage.strip
    QTest.mouseClick(strip, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(20, 8))
    assert window.stage.view_of("z").index == window.stage.grid.shape[0] - 1
    QTest.mouseClick(strip, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(20, strip.height() - 8))
    assert window.stage.view_of("z").index == 0
    middle = QPointF(strip._lanes()[1][1] + 2, strip.height() / 2)
    assert "PTV: 12." in strip.words_at(middle)
    width = strip.width()
    strip.set_coverage({9: 0.97})
    assert strip.width() == width  # its lane was kept free, so nothing moves when the dose comes
    assert "97 %" in strip.words_at(middle)


def test_a_volume_that_comes_moves_neither_the_columns_nor_the_pictures_beside(window):
    workspace, strip = window.context.workspace, window.stage.strip
    kind = workspace.case.volumes[0]

    def add(n):
        workspace.edit(
            "one more", edits.with_volume(workspace.case, kind.but(key=f"more-{n}", name=f"More_{n}", role="OAR"))
        )
        QApplication.processEvents()
        return {v.key: (left, width) for v, left, width in strip._lanes()}, strip.width(), window.stage.view_of("z").rect()

    while len(add(len(workspace.case.volumes))[0]) % 4 != 1:
        pass
    before, *beside = add("a")
    after, *still = add("b")
    assert len(after) == len(before) + 1
    assert {key: after[key] for key in before} == before
    assert still == beside
    for n in range(30):
        lanes, width, _ = add(n)
    assert width <= 200
    assert max(left + wide for left, wide in lanes.values()) < width


def test_the_strip_shows_the_smallest_slice_of_every_volume_however_narrow_its_column(window):
    workspace, strip = window.context.workspace, window.stage.strip
    case, grid = workspace.case, workspace.case.image.grid
    inside = np.zeros(grid.shape, bool)
    inside[4, 5:25, 5:25] = inside[9, 9, 9] = True
    small = Coverage.from_dense(grid, inside)
    many = tuple(Volume(f"v{i}", f"Part{i}", "OAR", (250, 40, 40), small) for i in range(44))
    workspace.edit("many", case.but(volumes=(*case.volumes, *many)))
    lanes = [(left, width) for v, left, width in strip._lanes() if v in many]
    assert len(lanes) == 44
    assert lanes[-1][1] < 3
    picture = strip.grab().toImage()
    for left, width in lanes:
        for k in (4, 9):
            y = int(strip._row(k) + (strip._row(k - 1) - strip._row(k)) / 4)  # away from the line of the slice shown
            across = [picture.pixelColor(x, y).red() for x in range(int(left), int(left + width) + 1)]
            assert max(across) > 200


def test_the_line_of_words_narrows_its_gaps_leaves_out_what_is_spare_and_ends_in_dots(qtbot):
    line = QuietLine("words", QFont())
    qtbot.addWidget(line)
    parts = [
        "slice 26 of 112",
        "x 23.3  y 5.5  z −110.3 mm",
        "37 HU",
        "sum 53.73 Gy = 26.87 (0.90) + 26.87 (0.90) a fraction",
    ]
    words, wide = GAP.join(parts), line.words.fontMetrics().horizontalAdvance
    spare = [parts[2], parts[0]]
    for room, shown in (
        (2000, words),
        (wide(words), "  ".join(parts)),
        (wide("  ".join([parts[0], parts[1], parts[3]])) + 21, "  ".join([parts[0], parts[1], parts[3]])),
        (wide("  ".join([parts[1], parts[3]])) + 21, "  ".join([parts[1], parts[3]])),
    ):
        line.resize(room, 30)
        line.show_parts(parts, spare)
        assert line.text() == shown
        assert line.toolTip() == ("" if shown == words else words)  # the tip says it whole
    line.resize(100, 30)
    line.show_parts(parts, spare)
    assert line.text().startswith("x 23")
    assert line.text().endswith("…")
