"""Every tool on axial, sagittal and coronal planes, on a grid of 3 x 3 x 5 mm."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from engine.volumes.planes import pixel_mm, plane_of, slice_of
from tests.gui.plane_hand import PlaneHand

pytestmark = pytest.mark.gui
SHIFT = Qt.KeyboardModifier.ShiftModifier
AXES = ("z", "x", "y")


@pytest.fixture(params=AXES)
def plane(request, window):
    """A hand on each plane in turn, through a place left of, before and above the target."""
    window.context.workspace.set_cursor((-30.0, -24.0, 10.0))
    window.context.settings.set("brush/ball", False)
    hand = PlaneHand(window, request.param, (-30.0, -24.0, 10.0))
    if request.param != "z":
        while window.stage.main.axis != request.param:
            window.stage.swap()
    return hand


def ptv(plane):
    return plane.window.context.workspace.case.volume("ptv")


def area_cm2(plane):
    high, wide = pixel_mm(ptv(plane).coverage.grid, plane.axis)
    return slice_of(ptv(plane).coverage, plane.axis, plane.view.index).sum(dtype=np.int64) / 255 * high * wide / 100


def changed(plane, before):
    """Return the change and how much of it lies off the plane."""
    change = ptv(plane).coverage.dense().astype(int) - before.coverage.dense()
    off = change.copy()
    plane_of(off, plane.axis, plane.view.index)[:] = 0
    return change, np.abs(off).sum()


def test_a_dab_has_its_area_in_mm_and_stays_in_its_plane(plane):
    before, area = ptv(plane), area_cm2(plane)
    plane.window.context.settings.set("brush/radius_mm", 12.0)
    plane.key("b")
    plane.click(-15, 0)
    assert area_cm2(plane) - area == pytest.approx(np.pi * 1.2**2, rel=0.02)
    assert changed(plane, before)[1] == 0


def test_a_stroke_is_one_step_that_undo_takes_back_whole(plane):
    before = ptv(plane)
    plane.window.context.settings.set("brush/radius_mm", 6.0)
    plane.key("b")
    plane.drag((-20, -15), (-10, 0), (-15, 20))
    assert ptv(plane).coverage != before.coverage
    assert plane.window.context.workspace.undo_stack.count() == 1
    QTest.keyClick(plane.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert ptv(plane) is before


def test_the_stroke_is_shown_while_it_runs(plane):
    plane.window.context.settings.set("brush/radius_mm", 8.0)
    plane.key("b")
    plane.move(-15, 0)
    QTest.qWait(0)
    before = plane.view.grab().toImage()
    plane.press(-15, 0)
    plane.move(-12, 0)
    assert plane.view.grab().toImage() != before
    plane.key(Qt.Key.Key_Escape)
    plane.release(-12, 0)
    assert plane.window.context.workspace.undo_stack.count() == 0


def test_eraser_and_shift_take_away_what_was_painted(plane):
    plane.window.context.settings.set("brush/radius_mm", 6.0)
    before = ptv(plane)
    plane.key("b")
    plane.drag((-15, 0), (-5, 0))
    plane.key("e")
    plane.window.context.settings.set("brush/radius_mm", 15.0)
    plane.drag((-15, 0), (-5, 0))
    assert changed(plane, before)[0].max() == 0
    plane.key("e")
    plane.window.context.settings.set("brush/radius_mm", 6.0)
    plane.drag((-15, 0), (-5, 0))
    plane.window.context.settings.set("brush/radius_mm", 15.0)
    plane.drag((-15, 0), (-5, 0), keys=SHIFT)
    assert changed(plane, before)[0].max() == 0


@pytest.mark.parametrize("radius", [8.0, 20.0])
def test_a_ball_paints_the_slices_beside_with_its_own_volume(plane, radius):
    before = ptv(plane)
    plane.window.context.settings.set("brush/radius_mm", radius)
    plane.key("b")
    plane.key("d")
    plane.window.context.workspace.edit(
        "empty", plane.window.context.workspace.case.but(volumes=tuple(
            v.but(coverage=v.coverage.but(tiles=())) if v.key == "ptv" else v
            for v in plane.window.context.workspace.case.volumes)))  # fmt: skip
    plane.click(0, 0)
    painted = ptv(plane).coverage
    assert painted.volume_cm3 == pytest.approx(4 / 3 * np.pi * radius**3 / 1000, rel=0.03)
    assert painted.centroid_mm() == pytest.approx(plane.middle, abs=1.0)
    assert plane.window.context.workspace.undo_stack.count() == 2
    QTest.keyClick(plane.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClick(plane.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert ptv(plane) is before


def test_freehand_and_polygon_add_what_they_enclose(plane):
    before, area = ptv(plane), area_cm2(plane)
    plane.key("h")
    plane.drag((-25, -10), (-10, -10), (-10, 10), (-25, 10))
    assert area_cm2(plane) - area == pytest.approx(1.5 * 2.0, rel=0.08)
    plane.key("g")
    for corner in ((-25, 15), (-10, 15), (-10, 30), (-25, 30)):
        plane.click(*corner)
    plane.key(Qt.Key.Key_Return)
    assert area_cm2(plane) - area == pytest.approx(1.5 * 2.0 + 1.5 * 1.5, rel=0.08)
    assert changed(plane, before)[1] == 0


def test_the_range_brush_keeps_to_its_range(plane):
    settings = plane.window.context.settings
    settings.set("brush/radius_mm", 20.0)
    settings.set("range/low_hu", -100.0)
    settings.set("range/high_hu", 100.0)
    plane.key("r")
    plane.drag((-30, 0), (-29, 0))
    hu = plane_of(plane.window.stage.image.hu, plane.axis, plane.view.index)
    painted = slice_of(ptv(plane).coverage, plane.axis, plane.view.index)
    assert painted.any()
    assert not painted[hu < -500].any()


def test_region_grow_fills_the_plane_and_no_other(plane):
    before = ptv(plane)
    plane.window.context.settings.set("grow/tolerance_hu", 50.0)
    plane.window.context.settings.set("grow/neck_mm", 0.0)
    plane.key("w")
    plane.click(-10, 0)
    hu = plane_of(plane.window.stage.image.hu, plane.axis, plane.view.index)
    painted = slice_of(ptv(plane).coverage, plane.axis, plane.view.index)
    assert np.array_equal(painted == 255, (hu == 0) | (painted == 255))
    assert (painted[hu == 0] == 255).all()
    assert changed(plane, before)[1] == 0


def test_edge_trace_runs_along_the_skin(plane):
    hu = plane_of(plane.window.stage.image.hu, plane.axis, plane.view.index)
    plane.key("t")
    # two corners on the skin at the left, or at the front on sagittal planes, then well inside
    edge = {"z": -19.2, "x": -22.0, "y": -19.2}[plane.axis]
    for corner in ((edge, -25), (edge, 20), (24, 20), (24, -25)):
        plane.click(*corner)
    plane.key(Qt.Key.Key_Return)
    painted = slice_of(ptv(plane).coverage, plane.axis, plane.view.index)
    assert painted.any()
    assert painted[hu == -1000].sum() / 255 < 0.15 * (painted > 127).sum()


def test_nudge_pushes_outward_from_inside_and_inward_from_outside(plane):
    middle = {"z": (0, 0, 10), "x": (0, 0, 0), "y": (0, 0, 0)}[plane.axis]
    plane.window.context.workspace.set_cursor(middle)
    plane.middle = middle
    reach = 17 if plane.axis == "z" else 20
    area, before = area_cm2(plane), ptv(plane)
    plane.window.context.settings.set("brush/radius_mm", 8.0)
    plane.key("n")
    plane.press(reach - 9, 0)
    plane.release(reach - 9, 0)
    assert ptv(plane) is before
    plane.drag((reach - 9, 0), (reach - 4, 0), (reach + 2, 0))
    wide = area_cm2(plane)
    assert wide > area + 0.3
    plane.drag((-reach - 12, 0), (-reach - 4, 0), (-reach + 3, 0))
    assert area_cm2(plane) < wide - 0.3
    assert changed(plane, before)[1] == 0


def test_nudge_without_an_edge_says_so(plane):
    plane.window.context.workspace.set_cursor((-54.0, -54.0, 40.0))
    said = []
    plane.window.context.workspace.message.connect(lambda level, words: said.append(words))
    plane.middle = (-54.0, -54.0, 40.0)
    plane.key("n")
    plane.drag((0, 0), (5, 0))
    assert any("no edge of PTV" in words for words in said)
    assert plane.window.context.workspace.undo_stack.count() == 0


def test_a_stroke_may_leave_the_image_and_come_back(plane):
    plane.window.stage.zoom(plane.view, 0.6, plane.view.rect().center().toPointF())
    plane.window.context.settings.set("brush/radius_mm", 6.0)
    plane.key("b")
    far = {"z": (-60, 0), "x": (0, 80), "y": (0, 80)}[plane.axis]
    plane.drag((-10, 0), far, (2 * far[0], 2 * far[1]), (-10, 0))
    assert plane.window.context.workspace.undo_stack.count() == 1
    assert slice_of(ptv(plane).coverage, plane.axis, plane.view.index).any()
