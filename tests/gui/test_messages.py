"""Messages leave when their cause is gone, and come back as long as it stands."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog

from app.panels import message_strip
from engine import compute
from engine.base.errors import InputError, StoreError
from engine.case import edits
from tests.support.cases import small_case

pytestmark = pytest.mark.gui


@pytest.fixture
def strip(window):
    return window.strip


def rename(window, name):
    w = window.context.workspace
    w.edit("Rename", edits.with_volume(w.case, w.case.volume("ptv").but(name=name)))


def test_what_the_hand_was_refused_leaves_with_the_next_edit(window, strip):
    window.context.workspace.message.emit("warning", "That is not a number.")
    assert strip.level.text() == "Note"
    rename(window, "PTV_1")
    assert strip.text.text() == ""
    assert not strip.dismiss.isVisible()


def test_information_covers_a_standing_problem_only_for_a_while(window, strip):
    window.context.messages.error("The disk is full.", topic="keeping")
    window.context.messages.info("Copied.")
    assert strip.text.text() == "Copied."
    strip._fade.timeout.emit()
    assert strip.text.text() == "The disk is full."
    rename(window, "PTV_1")
    assert strip.text.text() == "The disk is full."
    window.context.messages.settle("keeping")
    assert strip.text.text() == ""


def test_a_note_that_follows_waits_until_what_the_hand_did_is_read(window, strip):
    messages = window.context.messages
    messages.info("400° is the same as 40°.")
    messages.warning("The target lies outside.", topic="case/plan", follows=True)
    assert strip.text.text() == "400° is the same as 40°."
    assert strip._fade.remainingTime() < 3000
    strip._fade.timeout.emit()
    assert strip.text.text() == "The target lies outside."
    messages.info("Moved.")
    messages.warning("The disk is full.", topic="keeping")  # what does not follow is told at once
    assert strip.text.text() == "The disk is full."


def test_a_newer_message_of_a_topic_replaces_the_older_and_others_wait_behind(window, strip):
    messages = window.context.messages
    messages.error("One.", topic="a")
    messages.warning("Two.", topic="b")
    assert strip.level.text() == "Note, 1 of 2"
    messages.warning("Three.", topic="b")
    QTest.mouseClick(strip.dismiss, Qt.MouseButton.LeftButton)
    assert strip.text.text() == "One."
    QTest.mouseClick(strip.dismiss, Qt.MouseButton.LeftButton)
    assert strip.text.text() == ""
    assert [m.text for m in messages.kept][-3:] == ["One.", "Two.", "Three."]


def test_a_job_that_fails_and_then_succeeds_takes_its_problem_back(window, strip, qtbot, answer):
    def fails(request, report):
        raise InputError("slice 3 is missing", "series 7")

    answer("MakeDemonstration", fails)
    submit = window.context.jobs.submit
    submit("trial", [compute.request("MakeDemonstration", name="head")])
    qtbot.waitUntil(lambda: "slice 3" in strip.text.text())
    answer("MakeDemonstration", lambda request, report: None)
    submit("other", [compute.request("MakeDemonstration", name="head")])
    qtbot.waitUntil(lambda: not window.context.jobs.busy())
    assert "slice 3" in strip.text.text()
    submit("trial", [compute.request("MakeDemonstration", name="head")])
    qtbot.waitUntil(lambda: strip.text.text() == "")


def test_an_empty_folder_is_told_once_and_where_the_series_would_be(bare_window, qtbot, tmp_path):
    folder = tmp_path / "nothing"  # beside the settings, which are written at some moment
    folder.mkdir()
    bare_window.open_path(folder)
    series = bare_window.shelf.get("intake").series
    # The reader of DICOM is loaded with the first folder, which takes a while on a busy machine.
    qtbot.waitUntil(lambda: "empty" in series.count.text(), timeout=30000)
    assert str(folder) in series.folder.text()
    assert str(folder) not in series.count.text()
    assert bare_window.strip.text.text() == ""


def test_from_the_page_of_other_patients_one_gets_back_to_the_open_one(window, qtbot, tmp_path):
    window.open_path(tmp_path)
    intake = window.shelf.get("intake")
    qtbot.waitUntil(lambda: not window.context.jobs.busy())
    assert window.frame.middle.currentWidget() is intake.page
    QTest.mouseClick(intake.back, Qt.MouseButton.LeftButton)
    assert window.frame.middle.currentWidget() is window.stage
    assert intake.beside.isVisible()


def test_a_file_that_does_not_open_is_forgotten_when_the_work_goes_on(window, strip, qtbot, tmp_path):
    (tmp_path / "fake.halfshade").write_text("hello")
    window.open_path(tmp_path / "fake.halfshade")
    qtbot.waitUntil(lambda: "fake.halfshade" in strip.text.text())
    assert window.context.workspace.case is not None
    rename(window, "PTV_1")
    assert strip.text.text() == ""


def test_what_is_odd_about_the_images_is_said_after_opening_and_stands(bare_window, qtbot, answer, tmp_path, monkeypatch):
    import app.core.keeper as keeper
    from engine.dicom.read_ct import Opened

    case = small_case()
    monkeypatch.setattr(keeper, "default_folder", lambda: tmp_path / "cases")
    answer("OpenSeries", lambda request, report: Opened(case.patient, case.image, ("slice 4 was made up",)))
    bare_window.shelf.get("intake")._open("1.2", "")
    strip = bare_window.strip
    qtbot.waitUntil(lambda: strip.text.text() == "Slice 4 was made up.")
    assert bare_window.context.workspace.case is not None
    bare_window.context.workspace.open(small_case().but(image=case.image.but(description="other")))
    assert strip.text.text() == ""
    bare_window.close_case()


def test_a_new_case_that_finds_no_place_waits_for_another(bare_window, qtbot, tmp_path, monkeypatch):
    import app.core.keeper as keeper

    (tmp_path / "file").write_text("")
    monkeypatch.setattr(keeper, "default_folder", lambda: tmp_path / "file" / "cases")
    bare_window.open_case(small_case())
    strip = bare_window.strip
    qtbot.waitUntil(strip.button.isVisible)
    assert strip.text.text().endswith("The case waits meanwhile.")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    QTest.mouseClick(strip.button, Qt.MouseButton.LeftButton)
    assert strip.button.isVisible()  # thought better of it: it still waits
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "mine"), ""))
    QTest.mouseClick(strip.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bare_window.context.workspace.case is not None)
    assert bare_window.keeper.path == tmp_path / "mine.halfshade"
    assert not strip.level.isVisible()
    bare_window.close_case()


def test_saving_that_works_again_takes_its_problem_back(window, strip, qtbot, tmp_path, monkeypatch):
    from engine.store.case_file import CaseFile

    window.keeper.create(window.context.workspace.case, tmp_path / "a.halfshade")
    qtbot.waitUntil(lambda: window.keeper.path is not None)
    real = CaseFile.save

    def full(*_):
        raise StoreError("the disk is full", "a.halfshade")

    monkeypatch.setattr(CaseFile, "save", full)
    window.keeper.save()
    qtbot.waitUntil(lambda: "disk is full" in strip.text.text())
    monkeypatch.setattr(CaseFile, "save", real)
    window.keeper.save()
    qtbot.waitUntil(lambda: strip.text.text() == "")
    window.close_case()


def test_a_note_about_what_the_hand_did_is_past_in_another_station(window, strip, qtbot, monkeypatch):
    messages = window.context.messages
    messages.warning("Zoom: “9x” cannot be used.")
    window.go("weigh")
    assert strip.text.text().startswith("Zoom")  # leaving the box by the rail said it: there is time to read it
    assert strip._fade.isActive()
    assert strip._fade.interval() <= message_strip.READ_MS
    strip._fade.timeout.emit()
    assert strip.text.text() == ""
    messages.warning("Zoom: “9x” cannot be used.")
    monkeypatch.setattr(message_strip, "READ_MS", 0)
    window.go("outline")
    qtbot.waitUntil(lambda: strip.text.text() == "")
    messages.error("The disk is full.")
    window.go("weigh")
    messages.warning("The target lies outside.", topic="case/plan")
    window.go("outline")
    assert not strip._fade.isActive()
    assert strip.text.text() == "The target lies outside."
