"""Numbers typed wrong: nothing is dropped, nothing changes in silence."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractSpinBox

from app.panels.number_box import NumberBox
from tests.gui.test_aim import aim, ring, stub  # noqa: F401  (fixtures)

pytestmark = pytest.mark.gui


def write(box, text, key=Qt.Key.Key_Return):
    """Type into a box as a hand does: all of it is marked, then written over, then Return."""
    box.setFocus()
    box.selectAll()
    QTest.keyClick(box, Qt.Key.Key_Delete)
    QTest.keyClicks(box, text)
    QTest.keyClick(box, key)


@pytest.fixture
def box(window):
    box = NumberBox(decimals=2, minimum=0.1, maximum=200.0, suffix=" Gy", parent=window)
    box.setAccessibleName("Prescribed dose")
    box.setValue(60)
    box.show()
    box.told = lambda: window.context.messages.kept[-1]
    box.level = lambda: box.told().level
    return box


@pytest.mark.parametrize("live", [True, False])
@pytest.mark.parametrize("text", ["250", "-3", "abc", "", "12 apples", "6e1", "0"])
def test_what_cannot_be_used_leaves_the_number_and_is_told(box, text, live):
    box.setKeyboardTracking(live)
    write(box, "70")
    write(box, text)
    assert box.value() == 70
    assert box.text() == "70.00 Gy"
    assert box.level() == "warning"
    assert box.told().text == f"Prescribed dose: “{text}” cannot be used, so 70 Gy stays. Possible: 0.1 Gy to 200 Gy."


@pytest.mark.parametrize(("text", "value"), [("66", 66), ("66.5", 66.5), ("66,5", 66.5), ("66 Gy", 66), (" 66 ", 66)])
def test_what_can_be_used_is_used_without_words(box, text, value):
    write(box, text)
    assert box.value() == value
    assert not [m for m in box.window().context.messages.kept if "Prescribed dose" in m.text]


def test_what_is_told_names_the_number_without_its_explanation(box):
    box.setAccessibleName("Reach: farthest from the place; it says when it stopped there")
    write(box, "abc")
    assert box.told().text.startswith("Reach: “abc” cannot be used")


def test_a_minus_is_typed_and_shown_as_one(box):
    box.setMinimum(-10)
    write(box, "-2.5")
    for text in ("", "−2.5"):  # a true minus comes by pasting
        if text:
            box.setValue(0)
            box.selectAll()
            box.lineEdit().insert(text)
            QTest.keyClick(box, Qt.Key.Key_Return)
        assert box.value() == -2.5
        assert box.text() == "−2.50 Gy"


def test_the_note_leaves_once_the_box_has_got_a_right_number_and_no_other_note_with_it(box, window):
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Tab):
        write(box, "250", key)
        assert "“250” cannot be used" in window.strip.text.text()
        write(box, "70", key)
        assert window.strip.text.text() == ""
    write(box, "250")
    window.context.messages.warning("Something else.")
    write(box, "66")
    assert window.strip.text.text() == "Something else."


def test_more_decimals_than_are_kept_are_told(box):
    write(box, "60.126")
    assert box.value() == 60.13
    assert box.told().text == "Prescribed dose: 60.126 is kept as 60.13 Gy."
    assert box.level() == "info"


@pytest.mark.parametrize("live", [True, False])
def test_a_number_that_is_being_typed_wrong_counts_for_nothing(box, live):
    box.setKeyboardTracking(live)
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, "250")  # a shortcut now reads the box though the hand has not left it
    assert box.value() == 60
    QTest.keyClick(box, Qt.Key.Key_Return)
    assert box.value() == 60


def test_leaving_the_box_and_the_arrows_tell_as_well(box, window):
    write(box, "250", Qt.Key.Key_Up)  # steps from what can be used only
    assert box.value() == 60
    assert "“250” cannot be used" in box.told().text
    box.selectAll()
    QTest.keyClicks(box, "9999")
    window.stage.main.setFocus()
    assert box.value() == 60
    assert "“9999” cannot be used" in box.told().text


def test_an_angle_beyond_the_circle_is_turned_back_and_told(aim):  # noqa: F811
    start, messages = aim.arc.start, aim.context.messages
    aim.tabs.setCurrentWidget(aim.arc)
    for text, value in (("400", 40), ("360", 0), ("-10", 350), ("181.4", 181)):
        write(start, text)
        assert start.value() == value
        assert f"{text.replace('-', '−')}" in messages.kept[-1].text
        assert f"{value}°" in messages.kept[-1].text
    write(start, "north")
    assert start.value() == 181
    assert "“north” cannot be used" in messages.kept[-1].text


@pytest.mark.parametrize("column", ["gantry", "collimator", "couch"])
def test_an_angle_in_the_table_beyond_the_circle_is_told(aim, ring, column):  # noqa: F811
    model = aim.beams.model
    index = model.index(0, model.columns.index(column))
    assert model.setData(index, "400", Qt.ItemDataRole.EditRole)
    assert index.data() == "40"
    assert "400° is the same as 40°" in aim.context.messages.kept[-1].text


def test_a_dose_that_is_no_prescription_leaves_the_one_there_is(aim, ring):  # noqa: F811
    panel = aim.prescription
    aim.tabs.setCurrentWidget(panel)
    before = ring.workspace.draft
    for box, text in ((panel.dose, "250"), (panel.fractions, "150"), (panel.fractions, "0"), (panel.grid, "25")):
        write(box, text)
        assert ring.workspace.draft is before
        assert f"“{text}” cannot be used" in aim.context.messages.kept[-1].text
    write(panel.fractions, "25.4")
    assert ring.workspace.draft.prescription.fractions == 25
    assert "25.4 is kept as 25" in aim.context.messages.kept[-1].text


def test_a_set_up_point_that_is_not_given_shows_no_place_and_can_be_removed_again(aim, ring):  # noqa: F811
    setup, workspace = aim.setup, ring.workspace
    aim.tabs.setCurrentWidget(setup)
    assert [box.text() for box in setup.marker] == ["x –", "y –", "z –"]
    for box in setup.marker:  # going through the boxes sets nothing
        box.setFocus()
        QTest.keyClick(box, Qt.Key.Key_Return)
    assert workspace.draft.marker_mm == ()
    write(setup.marker[1], "3000")
    assert workspace.draft.marker_mm == ()
    assert "“3000” cannot be used" in aim.context.messages.kept[-1].text
    write(setup.marker[0], "0")  # the origin of the image is a place
    assert workspace.draft.marker_mm == (0.0, 0.0, 0.0)
    assert [box.text() for box in setup.marker] == ["x 0.0", "y 0.0", "z 0.0"]
    setup._fill_here()
    next(a for a in setup.here.menu().actions() if "Remove" in a.text()).trigger()
    assert workspace.draft.marker_mm == ()
    assert setup.marker[0].text() == "x –"
    assert "Give the set-up point" in setup.couch.text()
    setup.marker[2].stepUp()
    assert setup.marker[2].value() == 0


def test_jaws_beyond_the_machine_are_told_with_its_name(aim, ring):  # noqa: F811
    model = aim.beams.model
    model.setData(model.index(0, model.columns.index("x")), "9999", Qt.ItemDataRole.EditRole)
    machine = ring.workspace.case.machine(ring.workspace.draft.beams[0].machine)
    told = aim.context.messages.kept[-1].text
    assert machine.name in told
    assert f"between −{-machine.jaw_x_mm[0]:g} and {machine.jaw_x_mm[1]:g} mm" in told


def test_no_panel_or_station_has_a_box_that_drops_keys(aim, window):  # noqa: F811
    for name, _ in window.shelf.names():
        for panel in window.shelf.get(name).panels():
            plain = [b for b in panel.findChildren(QAbstractSpinBox) if not isinstance(b, NumberBox)]
            assert not plain, f"{name}: {[b.accessibleName() for b in plain]}"
