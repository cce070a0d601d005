"""Sign: what keeps a decision from being sealed, what sealing keeps, and what a later change does to it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel

from engine.case import edits
from engine.case.case import Answer
from engine.case.second_images import with_second_image
from engine.review import record as records
from engine.review.record import verify_chain
from engine.store.case_file import CaseFile
from tests.gui.sign_desk import LONG_MS, Reviewer, kept, missed_case, stub_radiograph
from tests.support.cases import flat_results, planned_case, small_case
from tests.support.second import ramp

pytestmark = pytest.mark.gui


@pytest.fixture
def desk(bare_window, qtbot, answer, monkeypatch, tmp_path):
    """A reviewer in Sign before a kept case, the pictures drawn."""
    answer("Radiograph", stub_radiograph)
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)
    with qtbot.waitSignal(bare_window.keeper.opened, timeout=LONG_MS):
        bare_window.open_path(kept(tmp_path / "case.halfshade"))
    reviewer = Reviewer(bare_window, qtbot)
    reviewer.enter()
    return reviewer


def change_dose(window, dose_gy=66.0):
    draft = window.context.workspace.draft
    window.context.workspace.edit_draft("Dose", draft.but(prescription=draft.prescription.but(dose_gy=dose_gy)))


def change_weight(window, weight=3.0):
    draft = window.context.workspace.draft
    window.context.workspace.edit_draft("Weight", draft.but(weights=(weight, *draft.weights[1:])))


def test_without_a_plan_it_says_what_is_missing_and_leads_there(bare_window, qtbot):
    bare_window.go("sign")
    station = bare_window.shelf.get("sign")
    assert "no patient" in station.sheet.empty.text()
    station.sheet.way.click()
    assert bare_window.station.name == "intake"
    bare_window.context.workspace.open(small_case())
    bare_window.go("sign")
    qtbot.waitUntil(lambda: "no beams" in station.sheet.empty.text(), timeout=LONG_MS)
    station.sheet.way.click()
    assert bare_window.station.name == "aim"


def test_without_a_file_nothing_can_be_sealed(bare_window):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("sign")
    form = bare_window.shelf.get("sign").decision
    assert not form.seal.isEnabled()
    assert "case file" in form.hint.text()


def test_a_dose_that_was_stopped_can_be_asked_for_again(bare_window, qtbot, answer):
    def refuse(request, report=None):
        from engine.base.errors import UserError

        raise UserError("no dose today")

    answer("DoseRequest", refuse)
    bare_window.context.workspace.open(planned_case())
    bare_window.go("sign")
    sheet = bare_window.shelf.get("sign").sheet
    qtbot.waitUntil(lambda: sheet.way.text() == "Compute the dose" and sheet.way.isVisible(), timeout=LONG_MS)


def test_pictures_are_drawn_one_in_each_turn(bare_window, qtbot, answer, tmp_path):
    answer("Radiograph", stub_radiograph)
    with qtbot.waitSignal(bare_window.keeper.opened, timeout=LONG_MS):
        bare_window.open_path(kept(tmp_path / "case.halfshade"))
    station = bare_window.shelf.get("sign")
    turns, words = [], []
    station.maker.drawing.connect(lambda number, count: turns.append((number, count, len(station.maker._made))))
    station.maker.drawing.connect(lambda *_: words.append(station.sheet.empty.text()))
    Reviewer(bare_window, qtbot).enter()
    count = len(station.maker.review.items)
    assert turns == [(n, count, n - 1) for n in range(1, count + 1)]
    assert words[2] == f"Drawing picture 3 of {count}\u2026"


def test_approval_waits_for_findings_pictures_name_and_passphrase(desk):
    form, station = desk.form, desk.station
    assert form.hint.text() == "Choose approved or rejected."
    form.approve.click()
    assert "must be mended or answered" in form.hint.text()
    desk.name()
    desk.answer_all()
    count = len(station.maker.images)
    assert form.hint.text() == f"{count} pictures were not opened yet."
    desk.open_all()
    assert form.hint.text() == "Give a passphrase of at least 8 characters."
    desk.type_passphrase("short")
    assert not form.seal.isEnabled()
    desk.type_passphrase()
    assert form.seal.isEnabled()
    form.reviewer.clear()
    assert not form.seal.isEnabled()
    assert "name" in form.hint.text()


def test_a_rejection_needs_no_answers_and_no_pictures(desk):
    desk.name()
    desk.form.reject.click()
    desk.type_passphrase()
    with desk.qtbot.waitSignal(desk.window.keeper.signed, timeout=LONG_MS) as got:
        QTest.keyClick(desk.form.passphrase, Qt.Key.Key_Return)
    assert got.args[0].statement.decision == "REJECTED"
    assert got.args[0].statement.seen == ()


def test_an_answer_needs_its_author_and_keeps_the_pictures(desk):
    station, workspace = desk.station, desk.window.context.workspace
    desk.open_all()
    shown = station.maker.images
    key = next(iter(station.findings.answer_buttons))
    station.findings.answer_buttons[key].click()
    QTest.keyClicks(station.findings.reasons[key], "Known.")
    QTest.keyClick(station.findings.reasons[key], Qt.Key.Key_Return)
    assert workspace.case.answers == ()
    assert QApplication.focusWidget() is desk.form.reviewer
    desk.name("B. Reader")
    QTest.keyClick(station.findings.reasons[key], Qt.Key.Key_Return)
    (given,) = workspace.case.answers
    assert (given.finding, given.reason, given.who) == (key, "Known.", "B. Reader")
    desk.wait_for_pictures()
    assert station.maker.images is shown
    assert station._unseen() == 0
    workspace.undo_stack.undo()
    assert workspace.case.answers == ()


def test_a_changed_picture_has_to_be_opened_again_and_an_undone_change_not(desk):
    desk.open_all()
    assert desk.station._unseen() == 0
    change_dose(desk.window)
    desk.wait_for_pictures()
    assert desk.station._unseen() > 0
    desk.window.context.workspace.undo_stack.undo()
    desk.wait_for_pictures()
    assert desk.station._unseen() == 0


def test_a_seal_is_in_the_file_and_a_change_shows_until_it_is_undone(desk, tmp_path):
    desk.name()
    desk.answer_all()
    desk.open_all()
    record = desk.approve_and_seal()
    station, workspace, form = desk.station, desk.window.context.workspace, desk.form
    assert station._covering() is not None
    assert station.state_line() == f"approved, {record.statement.signed_at[:10]}"
    assert not form.passphrase.text()
    assert not form.decision()
    assert "sealed" in form.hint.text()
    change_weight(desk.window)
    assert station._covering() is None
    assert station.state_line() == "changed since signed"
    workspace.undo_stack.undo()
    assert station.state_line().startswith("approved")
    desk.window.close_case()
    file = CaseFile.open(tmp_path / "case.halfshade")
    try:
        (stored,) = file.records()
        verify_chain((stored,))
        assert stored == record
        shown = [file.value(p) for p in stored.statement.pictures]
        assert [p.title for p in shown] == list(stored.statement.seen)
        assert all(p.png.tobytes().startswith(b"\x89PNG") for p in shown)
        assert file.case().fingerprint == stored.statement.case
    finally:
        file.close()


def test_an_image_laid_over_a_sealed_plan_is_looked_at_and_leaves_the_seal(desk):
    workspace = desk.window.context.workspace
    desk.open_all()
    desk.name()
    desk.answer_all()
    desk.approve_and_seal()
    approved = desk.station.state_line()
    assert approved.startswith("approved")
    workspace.edit("Lay over", with_second_image(workspace.case, ramp()))
    desk.wait_for_pictures()
    assert desk.station.state_line() == approved
    words = [label.text() for label in desk.form.findChildren(QLabel)]
    assert any("Covers the present plan" in w for w in words)
    change_weight(desk.window)
    assert desk.station.state_line() == "changed since signed"


def test_a_known_name_with_another_passphrase_is_refused_in_words(desk):
    desk.name()
    desk.answer_all()
    desk.open_all()
    desk.approve_and_seal()
    desk.form.approve.click()
    desk.type_passphrase("another phrase")
    with desk.qtbot.waitSignal(desk.window.keeper.failed, timeout=LONG_MS):
        desk.form.seal.click()
    assert "not the passphrase that A. Reviewer used before" in desk.form.hint.text()
    assert desk.form.hint.property("level") == "error"
    assert desk.window.strip.level.isHidden()  # said once, beside the field
    assert len(desk.window.keeper.records) == 1
    assert not desk.form.seal.isEnabled()
    desk.type_passphrase()
    assert desk.form.seal.isEnabled()
    assert desk.form.hint.property("level") == ""


def test_a_record_of_one_draft_does_not_speak_for_another(desk):
    desk.name()
    desk.answer_all()
    desk.open_all()
    desk.approve_and_seal()
    workspace = desk.window.context.workspace
    workspace.edit("Duplicate", edits.with_draft(workspace.case, workspace.draft.but(key="second", name="Second")))
    workspace.activate(draft="second")
    assert desk.station._covering() is None
    desk.wait_for_pictures()
    assert desk.station.state_line() == "0 findings open"
    desk.form.approve.click()
    assert not desk.form.seal.isEnabled()


def test_an_open_picture_has_the_room_to_itself(desk):
    station = desk.station
    QTest.keyClick(station.sheet._thumbs[0], Qt.Key.Key_Return)
    assert not desk.form.isVisible()
    assert not station.findings.isVisible()
    station.sheet.back.click()
    assert desk.form.isVisible()
    assert station.findings.isVisible()


def test_walking_the_slices_marks_them_and_shows_no_handles_of_beams(desk):
    station, window = desk.station, desk.window
    station.switch.click()
    assert window.stage.isVisible()
    window.context.workspace.set_cursor((0.0, 0.0, -10.0))
    window.context.workspace.set_cursor((0.0, 0.0, 10.0))
    planes = {window.context.workspace.case.image.grid.plane_at(z) for z in (0.0, -10.0, 10.0)}
    assert window.stage.strip._seen == planes
    assert station.walked.text().startswith("3 of 19 slices")
    from app.stations.plan_stage import PlanStage

    plan = PlanStage.of(window.context)
    assert plan.lines in window.stage.layers
    assert plan.ring not in window.stage.layers
    window.go("outline")
    assert plan.lines not in window.stage.layers
    assert window.stage.strip._seen is None
    window.go("sign")
    station.switch.click()
    assert station.sheet.isVisible()
    assert plan.lines not in window.stage.layers


@pytest.mark.parametrize(("volume", "beam", "goes"), [("cord", "", "outline"), ("", "p", "aim"), ("", "", "weigh")])
def test_a_finding_leads_to_its_place(desk, volume, beam, goes):
    from engine.review.finding import Finding

    point = (3.0, 4.0, 5.0)
    found = Finding("x", "warn", "Rule.", "Evidence.", volume_key=volume, beam_key=beam, point_mm=point)
    desk.station.findings.jump_wanted.emit(found)
    workspace = desk.window.context.workspace
    assert desk.window.station.name == goes
    assert workspace.cursor_mm == point
    if volume:
        assert workspace.volume.key == volume
    if beam:
        assert workspace.beam.key == beam


def test_entering_leaves_undo_to_the_window(desk):
    window = desk.window
    window.go("outline")
    desk.form.reviewer.setFocus()
    window.go("sign")
    assert not desk.station._right.isAncestorOf(QApplication.focusWidget())


def test_another_case_forgets_what_was_seen(desk):
    desk.open_all()
    case = planned_case()
    desk.window.context.workspace.open(case.but(answers=(Answer("a/b", "r", "w", "2026-01-01"),)))
    assert desk.station._seen == set()
    assert desk.station.maker.images == ()


def test_closing_a_case_leaves_nothing_of_it_behind(desk):
    desk.name()
    desk.answer_all()
    desk.open_all()
    desk.approve_and_seal()
    desk.type_passphrase()
    desk.form.approve.click()
    desk.window.close_case()
    desk.window.go("sign")
    assert (desk.form.passphrase.text(), desk.form.decision()) == ("", "")
    assert desk.form.reviewer.text() == ""
    assert len(desk.form._rows) == 1
    assert not desk.station.switch.isEnabled()
    assert not desk.form.seal.isEnabled()


def test_nothing_typed_about_one_patient_stands_before_another(desk):
    workspace, findings = desk.window.context.workspace, desk.station.findings
    key = next(iter(findings.answer_buttons))
    desk.name()
    findings.answer_buttons[key].click()
    QTest.keyClicks(findings.reasons[key], "Known of this one.")
    desk.form.comment.setPlainText("Good.")
    desk.type_passphrase()
    change_weight(desk.window)  # the same patient: what is typed stays
    desk.wait_for_pictures()
    assert desk.form.reviewer.text() == "A. Reviewer"
    assert findings.reasons[key].text() == "Known of this one."
    case = missed_case()
    other = case.but(image=case.image.but(description="other"))
    workspace.open(other)
    assert (desk.form.reviewer.text(), desk.form.passphrase.text(), desk.form.comment.toPlainText()) == ("", "", "")
    for dose in flat_results(other).values():
        workspace.file_result(dose)
    desk.qtbot.waitUntil(lambda: key in findings.reasons, timeout=LONG_MS)
    assert findings.reasons[key].text() == ""
