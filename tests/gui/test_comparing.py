"""Comparing volumes in Outline: within the case, with another observer's structure set, and what the hand does with it."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.models.pair_table import DICE, NAME
from app.stations.comparing import KIND
from app.views.unlike_layer import FIRST, SECOND
from engine.case import edits
from engine.dicom.ct_files import write_ct
from engine.dicom.structure_file import structures_dataset
from engine.volumes.coverage import Coverage
from tests.support.cases import GRID, ball

pytestmark = pytest.mark.gui


@pytest.fixture
def station(window):
    station = window.shelf.get("outline")
    station.tabs.setCurrentWidget(station.comparison)
    return station


def likeness(station):
    pair = station.comparing.pair()
    return station.comparing._likeness(*pair) if pair is not None else None


def compared(qtbot, station):
    qtbot.waitUntil(lambda: likeness(station) is not None, timeout=20000)
    return likeness(station)


def choose(qtbot, station, first, second):
    station.comparison.choose(first, second)
    station.comparison.changed.emit()
    return compared(qtbot, station)


@pytest.fixture
def observer(window, tmp_path):
    """A structure set on the images of the case: the target drawn 4 mm to the left, the cord alike, a volume of its own."""
    case = window.context.workspace.case
    series = write_ct(case.image, case.patient, tmp_path / "ct")
    window.context.workspace.open(case.but(image=series))
    theirs = case.but(image=series)
    theirs = edits.with_volume(theirs, case.volume("ptv").with_coverage(ball(GRID, (4, 0, 0), 20)))
    theirs = edits.with_volume(theirs, case.volume("cord").but(key="own", name="Trachea"))
    path = tmp_path / "second observer.dcm"
    structures_dataset(theirs).save_as(path)
    return path


def read(qtbot, station, path):
    station.comparing.read(path)
    qtbot.waitUntil(lambda: bool(station.comparing.theirs), timeout=20000)
    qtbot.waitUntil(lambda: all(p.likeness is not None for p in station.comparing.pairs()), timeout=20000)


def test_two_volumes_of_the_case_are_compared_in_numbers(window, qtbot, station):
    w = window.context.workspace
    w.edit(
        "add", edits.with_volume(w.case, w.case.volume("ptv").but(key="b", name="PTV2", coverage=ball(GRID, (4, 0, 0), 20)))
    )
    found = choose(qtbot, station, "ptv", "b")
    # two spheres of 20 mm, 4 mm apart: Dice = 1 - 3 d / (4 r) + d^3 / (16 r^3)
    assert found.dice == pytest.approx(1 - 3 * 4 / 80 + 64 / (16 * 8000), abs=0.01)
    numbers = station.comparison.numbers
    assert numbers["dice"].text() == f"{found.dice:.3f}"
    assert numbers["largest"].text().endswith(" mm")
    assert numbers["volumes"].text().endswith(" %")
    assert "x +4.0" in numbers["shift"].text()
    assert "Hausdorff" in numbers["largest"].toolTip()


def test_numbers_follow_an_edit_and_undo_needs_no_computing(window, qtbot, station):
    w = window.context.workspace
    w.edit("add", edits.with_volume(w.case, w.case.volume("ptv").but(key="b", name="PTV2")))
    assert choose(qtbot, station, "ptv", "b").dice == 1
    w.edit("shift", edits.with_volume(w.case, w.case.volume("b").with_coverage(ball(GRID, (6, 0, 0), 20))))
    assert station.comparison.state.text() == "Comparing…"
    assert not station.comparison.worst_slice.isEnabled()
    assert compared(qtbot, station).dice < 0.9
    w.undo_stack.undo()
    assert likeness(station).dice == 1
    assert station.comparison.numbers["dice"].text() == "1.000"


def test_nothing_is_computed_while_another_tab_is_in_front(window, qtbot, station):
    station.tabs.setCurrentWidget(station.column)
    asked = []
    window.context.jobs.result.connect(lambda kind, request, _: asked.append(kind))
    w = window.context.workspace
    w.edit("shift", edits.with_volume(w.case, w.case.volume("ptv").with_coverage(ball(GRID, (6, 0, 0), 20))))
    qtbot.waitUntil(lambda: "volume-checks" in asked, timeout=20000)
    assert KIND not in asked
    assert station.comparing.layer.stage is None or station.comparing.layer.pair is None


def test_an_observer_is_matched_by_name_least_alike_first(window, qtbot, station, observer):
    read(qtbot, station, observer)
    model = station.comparison.model
    names = [model.data(model.index(i, NAME)) for i in range(model.rowCount())]
    assert names[0] == "PTV"
    assert set(names) == {"Body", "PTV", "SpinalCord"}
    dice = [float(model.data(model.index(i, DICE))) for i in range(3)]
    assert dice == sorted(dice)
    assert dice[0] == pytest.approx(0.85, abs=0.02)
    assert dice[1] > 0.95  # written, read and filled again, at two pixels to the radius
    assert "Without a partner: Trachea" in station.comparison.observer.text()
    assert len(window.context.workspace.case.volumes) == 3  # the case stays as it is
    assert window.context.workspace.undo_stack.count() == 0


def test_a_row_is_the_pair_that_is_shown(window, qtbot, station, observer):
    read(qtbot, station, observer)
    table = station.comparison.table
    at = [p.first.key for p in station.comparison.model.pairs].index("cord")
    index = table.model().index(at, NAME)
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=table.visualRect(index).center())
    assert station.comparison.chosen[0] == "cord"
    assert station.comparing.layer.pair[1].name == "SpinalCord"
    assert station.comparing.layer.names[1] == "B, second observer.dcm"


def test_the_worst_slice_and_the_worst_place_are_gone_to(window, qtbot, station, observer):
    read(qtbot, station, observer)
    choose(qtbot, station, "ptv", station.comparing.pairs()[1].second.key)
    found, w = compared(qtbot, station), window.context.workspace
    QTest.mouseClick(station.comparison.worst_slice, Qt.MouseButton.LeftButton)
    assert GRID.plane_at(w.cursor_mm[2]) == found.worst_plane
    a, b = (v.coverage.slice(found.worst_plane).astype(int) for v in station.comparing.pair())
    row, column = np.rint(GRID.index(w.cursor_mm)[1:]).astype(int)
    assert abs(a[row, column] - b[row, column]) > 127
    QTest.mouseClick(station.comparison.worst_place, Qt.MouseButton.LeftButton)
    assert w.cursor_mm == pytest.approx(found.worst_mm, abs=1.5)


def test_regions_only_in_one_are_marked_on_the_slice(window, qtbot, station, observer):
    read(qtbot, station, observer)
    choose(qtbot, station, "ptv", station.comparing.pairs()[1].second.key)
    view = window.stage.view_of("z")
    window.context.workspace.set_cursor((0.0, 0.0, 0.0))

    def ink(x):
        picture = view.grab().toImage()
        at = view.project((x, 4.0, 0.0)) * picture.devicePixelRatio()
        near = [picture.pixelColor(int(at.x()) + i, int(at.y()) + j) for i in range(-4, 5) for j in range(-4, 5)]
        return np.mean([(c.red(), c.green(), c.blue()) for c in near], axis=0)

    only_mine, only_theirs, both = ink(-17.5), ink(21.5), ink(0.0)
    assert (only_mine - both)[0] - (only_mine - both)[2] > 20  # orange
    assert (only_theirs - both)[2] - (only_theirs - both)[0] > 20  # blue
    assert FIRST != SECOND
    station.tabs.setCurrentWidget(station.column)
    assert station.comparing.layer not in window.stage.layers


def test_taking_over_is_one_undo_step(window, qtbot, station, observer):
    read(qtbot, station, observer)
    w = window.context.workspace
    choose(qtbot, station, "ptv", next(p.second.key for p in station.comparing.pairs() if p.first.key == "ptv"))
    before = w.case
    QTest.mouseClick(station.comparison.take, Qt.MouseButton.LeftButton)
    new = w.case.volumes[-1]
    assert (new.name, new.role, new.note) == ("PTV_2", "PTV", "taken over from second observer.dcm")
    assert new.original  # its lines as they came
    w.undo_stack.undo()
    assert w.case is before


def test_an_observer_is_left_out_again(window, qtbot, station, observer):
    read(qtbot, station, observer)
    QTest.mouseClick(station.comparison.drop, Qt.MouseButton.LeftButton)
    assert station.comparing.theirs == ()
    assert not station.comparison.table.isVisibleTo(station.comparison)
    assert station.comparison.second.findText("PTV · second observer.dcm") == -1


def test_another_frame_of_reference_is_refused_in_words(window, qtbot, station, observer, tmp_path):
    import pydicom

    dataset = pydicom.dcmread(observer)
    for item in dataset.StructureSetROISequence:
        item.ReferencedFrameOfReferenceUID = "1.2.3"
    dataset.save_as(tmp_path / "foreign.dcm")
    station.comparing.read(tmp_path / "foreign.dcm")
    strip = window.context.messages
    qtbot.waitUntil(lambda: any("frame of reference" in m.text for m in strip.standing), timeout=20000)
    assert station.comparing.theirs == ()


def test_an_empty_volume_has_no_distances(window, qtbot, station):
    w = window.context.workspace
    w.edit("add", edits.with_volume(w.case, w.case.volume("ptv").but(key="b", name="PTV2", coverage=Coverage(GRID))))
    choose(qtbot, station, "ptv", "b")
    assert station.comparison.numbers["mean"].text() == "–"
    assert "empty" in station.comparison.state.text()
    assert not station.comparison.worst_place.isEnabled()


def test_without_a_second_volume_it_says_what_to_do(window, station):
    w = window.context.workspace
    for key in ("cord", "body"):
        w.edit("delete", edits.without_volume(w.case, key))
    assert station.comparing.pair() is None
    assert "Choose two volumes" in station.comparison.state.text()


def test_the_table_keeps_the_rules_of_models(window, qtbot, station, observer, qtmodeltester):
    read(qtbot, station, observer)
    qtmodeltester.check(station.comparison.model)
