"""The room view: where things stand, how it is turned, and that it shows volumes and beams."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from tests.gui.test_aim import LEFT, PLAIN, aim, send_move, stub  # noqa: F401

pytestmark = pytest.mark.gui


@pytest.fixture
def room(qtbot, aim):  # noqa: F811
    aim.room_shown.click()
    case = aim.context.workspace.case
    qtbot.waitUntil(lambda: all(aim.desk.room.surface(v) is not None for v in case.volumes), timeout=20000)
    return aim.room


def colour_at(room, point_mm) -> tuple[int, int, int]:
    case = room.workspace.case
    x, y, _ = room.place(case, np.array([point_mm]))[0]
    drawn = room._picture(case)
    c = drawn.pixelColor(int(x * drawn.width() / room.width()), int(y * drawn.height() / room.height()))
    return c.red(), c.green(), c.blue()


def test_facing_the_gantry_left_is_right_and_the_back_below(room):
    """Head first supine, seen by someone who faces the gantry: the patient's left at the right, the back below, the head
    farther away."""
    room.turned_deg = (0.0, 0.0)
    case = room.workspace.case
    middle, left, back, head = room.place(case, np.array(((0, 0, 0), (50, 0, 0), (0, 50, 0), (0, 0, 50)), dtype=float))
    assert left[0] > middle[0] + 5
    assert back[1] > middle[1] + 5
    assert head[2] > middle[2] + 49
    room.turned_deg = (0.0, 90.0)
    middle, head = room.place(case, np.array(((0, 0, 0), (0, 0, 50)), dtype=float))
    assert head[1] < middle[1] - 5


def test_targets_show_through_the_body_and_hidden_volumes_do_not(room):
    room.turned_deg = (0.0, 90.0)
    room.half_mm = 80.0
    target = room.workspace.case.volume("ptv")
    shown = np.array(colour_at(room, (0.0, 0.0, 0.0)), dtype=float)
    beside = np.array(colour_at(room, (40.0, 0.0, 0.0)), dtype=float)
    wanted = np.array(target.colour, dtype=float)
    cosine = shown @ wanted / (np.linalg.norm(shown) * np.linalg.norm(wanted))
    assert cosine > 0.95
    assert shown.sum() > beside.sum() + 20
    room.workspace.hide(frozenset({"ptv"}))
    assert np.abs(np.array(colour_at(room, (0.0, 0.0, 0.0)), dtype=float) - shown).sum() > 20


def test_hand_and_keys_turn_and_magnify(room):
    before = room.turned_deg
    QTest.mousePress(room, LEFT, PLAIN, QPoint(50, 50))
    send_move(room, QPoint(90, 70), PLAIN)
    QTest.mouseRelease(room, LEFT, PLAIN, QPoint(90, 70))
    assert room.turned_deg == pytest.approx(((before[0] - 20) % 360, before[1] + 10))
    QTest.keyClick(room, Qt.Key.Key_Home)
    assert room.turned_deg == before
    QTest.keyClick(room, Qt.Key.Key_Right)
    assert room.turned_deg[0] == before[0] + 5
    for _ in range(60):
        QTest.keyClick(room, Qt.Key.Key_Up)
        QTest.keyClick(room, Qt.Key.Key_Plus)
    assert room.turned_deg[1] == 90
    assert room.half_mm == 40
    room.repaint()


def test_a_surface_is_made_once_and_again_when_the_volume_changes(qtbot, aim, room):  # noqa: F811
    from engine.case import edits
    from tests.support.cases import GRID, ball

    workspace = aim.context.workspace
    first = aim.desk.room.surface(workspace.case.volume("ptv"))
    changed = workspace.case.volume("ptv").but(coverage=ball(GRID, (5, 0, 0), 12))
    workspace.edit("Paint", edits.with_volume(workspace.case, changed))
    qtbot.waitUntil(lambda: aim.desk.room.surface(changed) is not None, timeout=20000)
    assert aim.desk.room.surface(changed) is not first
    assert len(aim.desk.room._made) == len(workspace.case.volumes)
