"""Named points under the hand: normalising to one, setting up to one, taking them from a structure set."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.core.probe import probe
from engine.space.point import NamedPoint
from tests.gui.test_weigh import weigh  # noqa: F401  (a fixture)

pytestmark = pytest.mark.gui


@pytest.fixture
def station(weigh):  # noqa: F811
    return weigh


def draft(station):
    return station.context.workspace.draft


def choose_rule(panel, rule):
    panel.rule.setCurrentIndex(panel.rule.findData(rule))
    panel.rule.activated.emit(panel.rule.currentIndex())


def choose_place(button, fill, words):
    fill()
    next(a for a in button.menu().actions() if words in a.text()).trigger()


def told(station):
    return station.context.messages.kept[-1].text


def test_a_point_is_taken_from_the_cross_hair_and_the_dose_there_is_the_prescription(station):
    panel, workspace = station.prescription, station.context.workspace
    assert not panel.point.isVisible()
    workspace.set_cursor((6.0, -4.0, 10.0))
    steps = workspace.undo_stack.count()
    choose_rule(panel, "Point")
    assert panel.point.isVisible()
    assert workspace.undo_stack.count() == steps + 1
    assert draft(station).prescription.point == NamedPoint("Cross-hair", (6, -4, 10))
    assert [box.value() for box in panel.point.boxes] == [6, -4, 10]
    assert probe(station.desk.follower, (6.0, -4.0, 10.0)).gy == pytest.approx(60, rel=1e-6)
    workspace.undo_stack.undo()
    assert not panel.point.isVisible()
    assert draft(station).prescription.point is None


def test_coordinates_and_name_are_typed_and_kept_through_another_dose(station):
    panel = station.prescription
    choose_rule(panel, "Point")
    box = panel.point.boxes[1]
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, "-12.5")
    QTest.keyClick(box, Qt.Key.Key_Return)
    panel.point.name.selectAll()
    QTest.keyClicks(panel.point.name, "Reference A")
    QTest.keyClick(panel.point.name, Qt.Key.Key_Return)
    assert draft(station).prescription.point == NamedPoint("Reference A", (0, -12.5, 0))
    panel.dose.setValue(50)
    assert draft(station).prescription.point.name == "Reference A"
    assert probe(station.desk.follower, (0.0, -12.5, 0.0)).gy == pytest.approx(50, rel=1e-6)
    panel.point.go.click()
    assert station.context.workspace.cursor_mm == (0, -12.5, 0)
    choose_rule(panel, "Mean")
    choose_rule(panel, "Point")
    assert draft(station).prescription.point.name == "Reference A"


def test_a_point_outside_the_dose_grid_is_refused_in_words_and_gives_no_dose(station):
    station.desk.draft.normalise_at("Far", (900.0, 0.0, 0.0))
    follower = station.desk.follower
    assert follower.now.scale is None
    assert follower.problem == "The point Far (x 900.0, y 0.0, z 0.0 mm) lies outside the dose grid."
    assert not station.desk.draft.normalise_at("Nowhere", (1e9, 0.0, 0.0))
    assert "three numbers" in told(station)


def test_without_a_prescription_there_is_no_place_for_a_point(station):
    workspace = station.context.workspace
    workspace.edit_draft("none", draft(station).but(prescription=None))
    choose_rule(station.prescription, "Point")
    assert "Prescribe first" in told(station)
    assert station.prescription.rule.currentData() == "D95%"


def test_points_of_a_structure_set_are_offered_wherever_a_place_is_asked_for(station):
    workspace = station.context.workspace
    workspace.edit("points", workspace.case.but(points=(NamedPoint("BB", (1.25, 2.5, -3.75), "MARKER"),)))
    choose_rule(station.prescription, "Point")
    row = station.prescription.point
    choose_place(row.at, row.fill, "BB (from the structure set)")
    assert draft(station).prescription.point == NamedPoint("BB", (1.25, 2.5, -3.75))
    row.boxes[0].editingFinished.emit()  # leaving a box that shows tenths changes nothing
    assert draft(station).prescription.point.place_mm == (1.25, 2.5, -3.75)
    station.context.go("aim")
    setup = station.context.stage.window().station.setup
    choose_place(setup.here, setup._fill_here, "BB")
    assert draft(station).marker_mm == (1.25, 2.5, -3.75)
    assert "vertical −2.5, longitudinal −3.8, lateral +1.2" in setup.couch.text()
    choose_place(setup.to, setup._fill, "BB")
    assert {b.isocentre_mm for b in draft(station).beams} == {(1.25, 2.5, -3.75)}
    assert "vertical +0.0, longitudinal +0.0, lateral +0.0" in setup.couch.text()


def test_points_are_renamed_and_removed_by_hand_and_what_was_put_at_them_stays(station):
    workspace = station.context.workspace
    station.context.go("aim")
    aim = station.context.stage.window().station
    aim.tabs.setCurrentWidget(aim.setup)
    points = aim.setup.points
    assert not points.isVisible()
    workspace.edit(
        "points", workspace.case.but(points=(NamedPoint("BB", (1, 2, 3), "MARKER"), NamedPoint("B2", (4, 5, 6))))
    )
    assert points.isVisible()
    choose_place(aim.setup.here, aim.setup._fill_here, "BB")
    line = points.box.lineEdit()

    def rename(words):
        line.setFocus()
        line.selectAll()
        QTest.keyClicks(line, words)
        QTest.keyClick(line, Qt.Key.Key_Return)

    rename("Tattoo, sternum")
    assert [p.name for p in workspace.case.points] == ["Tattoo, sternum", "B2"]
    assert workspace.case.points[0].kind == "MARKER"
    rename("b2")  # the name of another chooses that one
    assert [p.name for p in workspace.case.points] == ["Tattoo, sternum", "B2"]
    assert workspace.cursor_mm == (4, 5, 6)
    workspace.undo_stack.undo()
    points.box.setCurrentIndex(0)
    rename(" ")
    assert "a name of 1 to 64 characters" in told(station)
    assert line.text() == "BB"
    QTest.mouseClick(points.show_button, Qt.MouseButton.LeftButton)
    assert workspace.cursor_mm == (1, 2, 3)
    QTest.mouseClick(points.remove, Qt.MouseButton.LeftButton)
    assert [p.name for p in workspace.case.points] == ["B2"]
    assert draft(station).marker_mm == (1, 2, 3)
    QTest.mouseClick(points.remove, Qt.MouseButton.LeftButton)
    assert not points.isVisible()
    workspace.undo_stack.undo()
    workspace.undo_stack.undo()
    assert [p.name for p in workspace.case.points] == ["BB", "B2"]
