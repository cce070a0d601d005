"""A reviewer's way through Sign: read, answer, look, approve, keep a PDF; then the plan moves on and comes back."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QFileDialog

from app.__main__ import main
from engine.review import record as records
from tests.gui.sign_desk import LONG_MS, Reviewer, kept, stub_radiograph
from tests.gui.test_record_pdf import pages

pytestmark = pytest.mark.gui


def test_a_plan_is_read_answered_approved_and_printed(bare_window, qtbot, answer, monkeypatch, tmp_path, capsys):
    answer("Radiograph", stub_radiograph)
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)
    path, pdf = kept(tmp_path / "case.halfshade"), tmp_path / "record.pdf"
    window, workspace = bare_window, bare_window.context.workspace
    with qtbot.waitSignal(window.keeper.opened, timeout=LONG_MS):
        window.open_path(path)

    reviewer = Reviewer(window, qtbot)
    reviewer.enter()
    station, form = reviewer.station, reviewer.form
    assert station.state_line() == "1 finding open"

    reviewer.name("Ada Reviewer")
    form.approve.click()
    assert not form.seal.isEnabled()
    reviewer.answer_all()
    assert station.state_line() == "0 findings open"
    assert not form.seal.isEnabled()
    count = reviewer.open_all()
    first = reviewer.approve_and_seal()
    assert first.statement.decision == "APPROVED"
    assert len(first.statement.pictures) == len(first.statement.seen) == count
    assert "Ada Reviewer" in first.statement.findings[0][2]

    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *a, **k: (str(tmp_path / "record"), ""))
    with qtbot.waitSignal(window.keeper.saved, timeout=LONG_MS, check_params_cb=lambda p: p == pdf):
        form.pdf_wanted.emit(first)
    assert pdf.read_bytes().startswith(b"%PDF-")
    assert pages(pdf) >= 1 + count / 2

    window.go("weigh")
    draft = workspace.draft
    workspace.edit_draft("Weight", draft.but(weights=(2.5, *draft.weights[1:])))
    assert station.state_line() == "changed since signed"
    reviewer.enter()
    assert station.state_line() == "changed since signed"
    workspace.undo_stack.undo()
    reviewer.wait_for_pictures()
    assert station._covering() == first

    window.close_case()
    assert main(["seal", "verify", str(path)]) == 0
    told = capsys.readouterr().out
    assert "APPROVED by Ada Reviewer" in told
    assert "intact" in told
    assert "The present plan is the sealed one." in told
