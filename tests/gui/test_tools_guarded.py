"""What holds tools back or helps them: the guard, the pen, the slices there are, growth through all slices."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QInputDevice, QPointingDevice, QTabletEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from engine.base.values import own_array
from engine.case import edits
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from tests.gui.plane_hand import LEFT, NONE, PlaneHand
from tests.support.cases import small_case

pytestmark = pytest.mark.gui


@pytest.fixture
def outline(window):
    return window.shelf.get("outline")


@pytest.fixture
def flat(window):
    window.context.settings.set("brush/radius_mm", 10.0)
    return PlaneHand(window, "z")


def ptv(window):
    return window.context.workspace.case.volume("ptv")


def growth(window):
    return window.shelf.get("outline").tools["grow"].job


# the guard


@pytest.mark.parametrize("axis", ["z", "x", "y"])
def test_the_guard_keeps_a_stroke_inside_or_outside_a_volume(window, outline, axis):
    hand = PlaneHand(window, axis, (0.0, 35.0, 0.0))
    window.context.workspace.set_cursor(hand.middle)
    window.context.settings.set("brush/radius_mm", 12.0)
    before, cord = ptv(window).coverage.dense(), window.context.workspace.case.volume("cord").coverage.dense()
    hand.key("b")
    outline.guard.set(on=True, inside=True, key="cord")
    hand.click(0, 0)
    inside = ptv(window).coverage.dense()
    assert inside.any()
    assert (inside <= np.maximum(before, cord)).all()
    window.context.workspace.undo_stack.undo()
    outline.guard.set(inside=False)
    hand.click(0, 0)
    outside = ptv(window).coverage.dense()
    assert (outside > before).any()
    assert (outside <= np.maximum(before, 255 - cord)).all()


def test_the_guard_holds_a_ball_an_eraser_and_a_polygon_too(window, outline, flat):
    cord = window.context.workspace.case.volume("cord").coverage.dense()
    window.context.workspace.activate(volume="body")
    body = window.context.workspace.case.volume("body").coverage.dense()
    outline.guard.set(on=True, inside=False, key="cord")
    flat.key("e")
    flat.key("d")
    flat.click(0, 35)
    flat.key("g")
    for corner in ((-12, 25), (12, 25), (12, 45), (-12, 45)):
        flat.click(*corner)
    flat.key(Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    after = window.context.workspace.case.volume("body").coverage.dense()
    assert (after < body).any()
    assert (after[cord == 255] == 255).all()


def test_the_guard_is_shown_and_its_key_turns_it(window, outline, flat):
    flat.key("b")
    QTest.qWait(0)
    plain = flat.view.grab().toImage()
    flat.key("o")
    assert outline.guard.words() == "Only inside Body"
    assert outline.column.guard.switch.isChecked()
    QTest.qWait(0)
    assert flat.view.grab().toImage() != plain
    flat.key("o")
    assert outline.guard.words() == ""
    assert not outline.column.guard.switch.isChecked()
    QTest.qWait(0)
    assert flat.view.grab().toImage() == plain


def test_a_volume_does_not_guard_itself_and_one_deleted_guards_no_more(window, outline, flat):
    outline.guard.set(on=True, key="ptv")
    assert outline.guard.standing is None
    assert "cannot guard itself" in outline.guard.words()
    outline.guard.set(key="cord")
    case = window.context.workspace.case
    window.context.workspace.edit("gone", case.but(volumes=tuple(v for v in case.volumes if v.key != "cord")))
    assert not outline.guard.on


# the pen


def pen(view, kind, position, pressure):
    device = QPointingDevice("pen", 1, QInputDevice.DeviceType.Stylus, QPointingDevice.PointerType.Pen,
                             QInputDevice.Capability.Pressure | QInputDevice.Capability.Position, 1, 3)  # fmt: skip
    held = Qt.MouseButton.NoButton if kind == QEvent.Type.TabletRelease else LEFT
    at = QPointF(position)
    event = QTabletEvent(kind, device, at, view.mapToGlobal(at), pressure, 0, 0, 0.0, 0.0, 0.0, NONE, LEFT, held)
    QApplication.sendEvent(view, event)
    return event


@pytest.mark.parametrize(("chosen", "share"), [(True, 0.5), (False, 1.0)])
def test_a_light_touch_of_a_pen_paints_a_smaller_disc(window, flat, chosen, share):
    window.context.settings.set("brush/pressure", chosen)
    window.context.settings.set("brush/radius_mm", 12.0)
    area = dict(ptv(window).coverage.areas_mm2)[9]
    flat.key("b")
    event = pen(flat.view, QEvent.Type.TabletPress, flat.at(-35, 0), 0.5)
    assert not event.isAccepted()
    flat.press(-35, 0)
    pen(flat.view, QEvent.Type.TabletRelease, flat.at(-35, 0), 0.0)
    flat.release(-35, 0)
    assert dict(ptv(window).coverage.areas_mm2)[9] - area == pytest.approx(np.pi * (12 * share) ** 2, rel=0.03)
    assert flat.view.pressure is None


# growth through all slices


@pytest.fixture
def rooms(bare_window):
    """A case with two rooms of lung in water, joined by a corridor two pixels wide."""
    grid = Grid((-60.0, -60.0, -40.0), (2.0, 2.0, 4.0), (20, 60, 60))
    hu = np.zeros(grid.shape, "<i2")
    hu[4:16, 20:40, 8:26] = -800
    hu[4:16, 20:40, 34:52] = -800
    hu[9:11, 29:31, 26:34] = -800
    case = small_case().but(image=CtImage(own_array(hu), grid, "HFS"), volumes=(), drafts=())
    case = edits.with_volume(case, empty_volume("lung", "Lung", grid))
    bare_window.context.workspace.open(case)
    bare_window.go("outline")
    bare_window.context.workspace.activate(volume="lung")
    bare_window.context.settings.set("grow/all_slices", True)
    bare_window.context.settings.set("grow/tolerance_hu", 60.0)
    return bare_window


def empty_volume(key, name, grid):
    from engine.volumes.volume import Volume

    return Volume(key, name, "OAR", (90, 160, 220), Coverage(grid))


def lung(window):
    return window.context.workspace.case.volume("lung").coverage


def test_growth_through_all_slices_is_shown_then_kept_in_one_step(rooms, qtbot):
    rooms.context.settings.set("grow/neck_mm", 9.0)
    hand = PlaneHand(rooms, "z", (-26.0, 0.0, 0.0))
    hand.key("w")
    hand.click(0, 0)
    qtbot.waitUntil(lambda: growth(rooms).made is not None)
    assert lung(rooms).is_empty
    assert rooms.stage.preview.coverage is growth(rooms).made
    words = rooms.station.column.growth.words.text()
    assert "necks narrower than 9 mm" in words
    assert rooms.station.column.growth.keep.isVisible()
    hand.key(Qt.Key.Key_Return)
    assert lung(rooms).volume_cm3 == pytest.approx(12 * 20 * 18 * 16e-3, rel=0.01)
    assert rooms.stage.preview.coverage is None
    assert rooms.context.workspace.undo_stack.count() == 1
    rooms.context.workspace.undo_stack.undo()
    assert lung(rooms).is_empty


def test_without_a_neck_it_runs_through_and_the_reach_says_where_it_stopped(rooms, qtbot):
    rooms.context.settings.set("grow/neck_mm", 0.0)
    hand = PlaneHand(rooms, "y", (-26.0, 0.0, 0.0))
    hand.key("w")
    hand.click(0, 0)
    qtbot.waitUntil(lambda: growth(rooms).made is not None)
    assert growth(rooms).made.volume_cm3 == pytest.approx((2 * 12 * 20 * 18 + 2 * 2 * 8) * 16e-3, rel=0.001)
    rooms.context.settings.set("grow/reach_mm", 15.0)
    hand.click(0, 0)
    qtbot.waitUntil(lambda: growth(rooms).made is not None)
    assert "15 mm from the place pressed" in rooms.station.column.growth.words.text()


def test_escape_and_cancel_leave_the_volume_as_it_was(rooms, qtbot):
    before = rooms.context.workspace.case
    hand = PlaneHand(rooms, "z", (-26.0, 0.0, 0.0))
    hand.key("w")
    for give_up in (lambda: hand.key(Qt.Key.Key_Escape), rooms.station.column.growth.drop.click):
        hand.click(0, 0)
        qtbot.waitUntil(lambda: growth(rooms).made is not None)
        give_up()
        assert rooms.stage.preview.coverage is None
        hand.key(Qt.Key.Key_Return)
        assert rooms.context.workspace.case is before
    hand.click(0, 0)
    hand.key("v")
    assert growth(rooms).asked is None


def test_a_growth_on_one_slice_says_what_held_it_back(rooms):
    rooms.context.settings.set("grow/all_slices", False)
    rooms.context.settings.set("grow/neck_mm", 9.0)
    said = []
    rooms.context.workspace.message.connect(lambda level, words: said.append(words))
    hand = PlaneHand(rooms, "z", (-26.0, 0.0, 0.0))
    hand.key("w")
    hand.click(0, 0)
    assert lung(rooms).planes == (10,)
    assert any("necks narrower than 9 mm" in words for words in said)


# odd images and odd moments


def test_an_image_of_one_slice_is_painted_on_every_plane(bare_window):
    grid = Grid((-30.0, -30.0, 0.0), (1.0, 1.0, 5.0), (1, 61, 61))
    case = small_case().but(image=CtImage(own_array(np.zeros(grid.shape, "<i2")), grid, "HFS"), volumes=(), drafts=())
    case = edits.with_volume(case, empty_volume("lung", "Lung", grid))
    bare_window.context.workspace.open(case)
    bare_window.go("outline")
    bare_window.context.settings.set("brush/radius_mm", 6.0)
    for axis, tool, ball in (("z", "b", True), ("x", "b", False), ("y", "n", False), ("z", "w", False), ("x", "e", True)):
        bare_window.context.settings.set("brush/ball", ball)
        hand = PlaneHand(bare_window, axis)
        hand.key(tool)
        hand.drag((-4, 0), (4, 1))
        assert bare_window.context.workspace.case.volume("lung").coverage.planes in ((0,), ())


def test_missing_slices_are_found_by_key_and_filled(window, qtbot, flat):
    case, volume = window.context.workspace.case, ptv(window)
    thin = volume.coverage.but(tiles=tuple(t for t in volume.coverage.tiles if t.plane % 3 == 0))
    window.context.workspace.edit("thin", edits.with_volume(case, volume.with_coverage(thin)))
    window.context.workspace.set_cursor((0.0, 0.0, 0.0))
    shown = []
    for key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_PageDown):
        QTest.keyClick(window, key, Qt.KeyboardModifier.ControlModifier)
        shown.append(window.stage.view_of("z").index)
    assert shown == [10, 11, 10, 8]
    assert all(thin.tile(k) is None for k in shown)


def test_a_read_only_case_is_painted_on_no_plane(window):
    window.context.workspace.read_only = True
    before = window.context.workspace.case
    for axis in ("z", "x", "y"):
        hand = PlaneHand(window, axis)
        for tool in "behgtrwn":
            hand.key(tool)
            hand.drag((-40, 0), (-30, 10))
            hand.key(Qt.Key.Key_Escape)
    assert window.context.workspace.case is before


def test_a_stroke_stays_on_the_plane_it_began_on(window, flat):
    before = ptv(window).coverage
    flat.key("b")
    flat.press(-40, 0)
    window.stage.walk("z", 1)
    flat.move(-20, 20)
    flat.release(-20, 20)
    after = ptv(window).coverage
    assert [k for k in after.planes if after.tile(k) is not before.tile(k)] == [9]
