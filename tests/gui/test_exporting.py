"""Exporting from the window: refused in words while something is missing, approved only under a seal that covers it."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from app.core.plan_follow import PlanFollower
from app.stations.exporting import Exporting
from engine.case import edits
from engine.case.demonstration import planned
from engine.case.requests import dose_requests
from tests.engine.case.test_demonstration import phantom
from tests.support.cases import flat_dose, small_case

pytestmark = pytest.mark.gui


@pytest.fixture
def planned_window(window):
    small = small_case()
    window.context.workspace.open(planned(phantom(), small.patient, small.image))
    return window


@pytest.fixture
def current(monkeypatch, planned_window):
    """The fine dose is current, as the follower would say."""
    workspace = planned_window.context.workspace
    dose = flat_dose(workspace.case.image.grid, 60.0)
    now = SimpleNamespace(scale=1.0, reason="", mu=(100.0, 50.0), dose=lambda: dose)
    monkeypatch.setattr(PlanFollower, "now", property(lambda self: now))
    monkeypatch.setattr(PlanFollower, "shown_draft", property(lambda self: workspace.draft))
    PlanFollower.of(workspace, planned_window.context.jobs).state = "current"
    return planned_window


def test_what_is_missing_is_said_with_a_button_that_goes_there(window):
    exporting = Exporting(window.context)
    exporting.ask(None)
    assert "no beams" in window.strip.text.text()
    window.strip.button.click()
    assert window.station.name in ("aim", "weigh")


def test_a_dose_that_is_not_current_is_not_exported(planned_window, tmp_path):
    Exporting(planned_window.context).write(tmp_path)
    assert "not current" in planned_window.strip.text.text()
    assert not planned_window.context.jobs.busy("export")


def test_without_a_seal_it_leaves_as_not_approved(current, qtbot, answer, tmp_path):
    asked = []
    answer("ExportCase", lambda request, report: asked.append(request) or ("a", "b", "c"))
    exporting = Exporting(current.context)
    exporting.write(tmp_path)
    qtbot.waitUntil(lambda: "3 files written" in current.strip.text.text())
    assert "not approved" in current.strip.text.text()
    assert asked[0].approved is False
    assert asked[0].mu == (100.0, 50.0)


def test_only_an_approval_of_this_very_plan_counts(current, monkeypatch):
    import app.stations.exporting as module

    workspace = current.context.workspace
    case, draft = workspace.case, workspace.draft
    requests = tuple(r.fingerprint for r in dose_requests(case, draft))

    def record(decision="APPROVED"):
        statement = SimpleNamespace(
            case=case.fingerprint,
            draft=draft.fingerprint,
            draft_key=draft.key,
            requests=requests,
            decision=decision,
            reviewer="R",
            signed_at="2026-01-01T10:00:00",
        )
        return SimpleNamespace(statement=statement)

    monkeypatch.setattr(module, "verify_chain", lambda records: None)
    exporting = Exporting(current.context)
    current.context.keeper = SimpleNamespace(records=(record(),), remember=lambda **k: None)
    assert exporting.seal(case, draft).reviewer == "R"
    changed = edits.with_draft(case, edits.with_weight(draft, draft.beams[0].key, 9.0))
    assert exporting.seal(changed, changed.draft(draft.key)) is None
    current.context.keeper = SimpleNamespace(records=(record("REJECTED"),))
    assert exporting.seal(case, draft) is None
    current.context.keeper = None
