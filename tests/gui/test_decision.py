"""The decision's form and the list of records."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton

from app.panels.decision import Decision
from app.panels.pane import Pane
from engine.review import record as records
from engine.review.record import Statement, seal

pytestmark = pytest.mark.gui


def statement(**changes):
    fields = {
        "case": "c" * 64, "draft": "d" * 64, "draft_key": "draft", "draft_name": "Draft 1", "requests": (), "doses": (),
        "numbers": (), "findings": (), "pictures": (), "seen": (), "decision": "APPROVED", "reviewer": "A. Reviewer",
        "role": "physician", "comment": "", "signed_at": "2026-03-04T05:06:07+00:00", "program": "0", "physics_version": 1,
    }  # fmt: skip
    return Statement(**{**fields, **changes})


@pytest.fixture
def two(monkeypatch):
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)
    first = seal(statement(decision="REJECTED"), "correct horse", ())
    return first, seal(statement(signed_at="2026-03-05T05:06:07+00:00"), "correct horse", (first,))


@pytest.fixture
def form(qtbot):
    form = Decision()
    qtbot.addWidget(form)
    form.show()
    qtbot.waitExposed(form)
    return form


def words(form):
    return [w.text() for w in form.findChildren(QLabel) if w.isVisibleTo(form)]


def test_what_is_typed_is_hidden_until_asked_for_and_hidden_again_after_the_decision(form):
    hidden = form.passphrase.EchoMode.Password
    assert form.passphrase.echoMode() == hidden
    QTest.keyClicks(form.passphrase, "correct horse")
    form.show_typed.click()
    assert form.passphrase.displayText() == "correct horse"
    form.clear()
    assert form.passphrase.echoMode() == hidden


def test_the_decision_is_a_dicom_approval_value_or_nothing(form):
    # DICOM PS3.3 C.8.8.16 Approval Module, Approval Status (300E,0002): APPROVED, UNAPPROVED, REJECTED.
    assert form.decision() == ""
    form.approve.click()
    assert form.decision() == "APPROVED"
    form.reject.click()
    assert form.decision() == "REJECTED"
    form.clear()
    assert form.decision() == ""
    form.approve.click()
    form.reject.click()
    assert form.decision() == "REJECTED"


def test_the_passphrase_is_hidden_and_enter_seals_only_when_ready(form, qtbot):
    QTest.keyClicks(form.passphrase, "correct horse")
    assert form.passphrase.displayText() == "\u25cf" * 13 or "correct" not in form.passphrase.displayText()
    form.show_state(False, "Not yet.")
    with qtbot.assertNotEmitted(form.seal_wanted):
        QTest.keyClick(form.passphrase, Qt.Key.Key_Return)
    form.show_state(True, "Ready.")
    with qtbot.waitSignal(form.seal_wanted):
        QTest.keyClick(form.passphrase, Qt.Key.Key_Return)


def test_clear_leaves_name_and_role(form):
    form.reviewer.setText("A. Reviewer")
    form.role.setCurrentText("chief")
    form.comment.setPlainText("Fine.")
    form.passphrase.setText("correct horse")
    form.clear()
    assert (form.reviewer.text(), form.role.currentText()) == ("A. Reviewer", "chief")
    assert (form.comment.toPlainText(), form.passphrase.text()) == ("", "")


def test_records_are_listed_newest_first_with_how_they_stand(form, two, qtbot):
    assert "Nothing is sealed yet." in words(form)
    form.show_records(two, ("plan changed", "covers"))
    told = words(form)
    assert "Nothing is sealed yet." not in told
    stands = [t for t in told if "present plan" in t or "changed since" in t]
    assert stands == ["\u2713  Covers the present plan", "\u25b2  The plan was changed since"]
    assert [t for t in told if " by " in t] == ["Approved by A. Reviewer, physician", "Rejected by A. Reviewer, physician"]
    buttons = [b for b in form.findChildren(QPushButton) if b.text().startswith("Save as PDF") and b.isVisibleTo(form)]
    with qtbot.waitSignal(form.pdf_wanted) as got:
        buttons[1].click()
    assert got.args == [two[0]]


def test_every_field_has_a_name_and_tab_goes_down_the_form(form):
    order = [form.reviewer, form.role, form.approve, form.comment, form.passphrase, form.seal]
    assert all(w.accessibleName() or w.text() for w in order)
    form.show_state(True, "")
    form.reviewer.setFocus()
    reached = []
    for _ in range(8):
        QTest.keyClick(form.window().focusWidget(), Qt.Key.Key_Tab)
        reached.append(form.focusWidget())
    places = [reached.index(w) for w in order[1:] if w in reached]
    assert len(places) == len(order) - 1
    assert places == sorted(places)


def test_the_form_fits_its_pane(qtbot, two):
    form = Decision()
    pane = Pane(form)
    qtbot.addWidget(pane)
    long = two[0].but(statement=statement(reviewer="A Reviewer with quite a long name indeed"))
    form.show_records((long,), ("dose changed",))
    pane.resize(300, 600)
    pane.show()
    qtbot.waitExposed(pane)
    assert form.minimumSizeHint().width() <= pane.viewport().width() - 32


def test_for_another_patient_the_form_is_empty_and_undo_brings_nothing_back(form):
    form.show_typed.click()
    form.approve.click()
    form.role.setFocus()
    form.role.lineEdit().selectAll()
    QTest.keyClicks(form.role, "visiting physicist")
    QTest.keyClick(form.role, Qt.Key.Key_Return)
    for part, text in ((form.reviewer, "A. Reviewer"), (form.passphrase, "correct horse"), (form.comment, "Good.")):
        QTest.keyClicks(part, text)
    form.forget()
    for part in (form.reviewer, form.passphrase, form.comment, form.role.lineEdit()):
        part.undo()
    assert (form.reviewer.text(), form.passphrase.text(), form.comment.toPlainText()) == ("", "", "")
    assert form.role.currentText() == form.role.itemText(0)
    assert form.role.findText("visiting physicist") < 0
    assert form.decision() == ""
