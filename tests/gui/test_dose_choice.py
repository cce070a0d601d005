"""What the fine dose is read on, and what it is reported to."""

from __future__ import annotations

import pytest

from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def aim(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("aim")
    return bare_window.station


def test_grid_and_what_dose_is_reported_to_are_chosen_and_undone(aim):
    panel, workspace = aim.prescription, aim.context.workspace
    panel.grid.setValue(3.0)
    panel.medium.setCurrentIndex(panel.medium.findData("water"))
    panel.medium.activated.emit(panel.medium.currentIndex())
    assert (workspace.draft.dose_spacing_mm, workspace.draft.report_to) == (3.0, "water")
    workspace.undo_stack.undo()
    assert (workspace.draft.report_to, panel.medium.currentData()) == ("medium", "medium")
    workspace.undo_stack.undo()
    assert (workspace.draft.dose_spacing_mm, panel.grid.value()) == (2.5, 2.5)
