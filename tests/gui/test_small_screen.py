"""What a screen of 1280 x 800 has room for."""

from __future__ import annotations

import pytest

from engine.beams.machine_file import load_machine
from engine.case import edits
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


def test_nothing_of_aim_lies_below_the_edge(qtbot, bare_window, answer):
    answer("Radiograph", lambda request, report: None)
    bare_window.resize(1272, 760)
    case, machine = planned_case(), load_machine("generic-6")
    draft = case.drafts[0].but(beams=tuple(b.but(machine=machine.name) for b in case.drafts[0].beams))
    bare_window.context.workspace.open(edits.with_draft(edits.with_machine(case, machine), draft))
    bare_window.go("aim")
    bar = bare_window.station.pane.verticalScrollBar()
    qtbot.waitUntil(lambda: bare_window.station.devices.isVisible() and bar.maximum() == 0)
