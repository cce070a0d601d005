"""Names of beams, volumes and drafts that are longer than the room a small screen has for them."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.models.balance_tables import GOAL_COLUMNS
from engine.case import edits
from tests.gui.test_balance import LEFT, click, proposed, weigh  # noqa: F401  (weigh: a fixture)

pytestmark = pytest.mark.gui


def whole(table, row, column):
    """Return whether a cell shows its text in full, in as many lines as its row has."""
    index = table.model().index(row, column)
    text, cell = str(index.data()).replace("_", "_\u200b"), table.visualRect(index)
    wrap = int(Qt.TextFlag.TextWordWrap)
    need = table.fontMetrics().boundingRect(0, 0, cell.width() - 6, 1000, wrap, text)
    return need.width() <= cell.width() - 6 and need.height() <= cell.height()


def named_long(case):
    names = {"ptv": "PTV_6000_boost_left_upper_lobe_expiration", "cord": "PTV_6000_boost_left_upper_lobe_inspiration"}
    for key, name in names.items():
        case = edits.with_volume(case, case.volume(key).but(name=name))
    draft = case.drafts[0]
    for beam, side in zip(draft.beams, ("upper", "lower")):
        draft = edits.with_beam(draft, beam.but(name=f"Left anterior oblique field, {side}, of the second course, boost"))
    return edits.with_draft(case, draft)


def test_long_names_of_beams_and_volumes_stand_in_full_on_a_small_screen(qtbot, weigh):  # noqa: F811
    panel, workspace = weigh.balance, weigh.context.workspace
    click(weigh.balance_button)
    qtbot.waitUntil(lambda: panel.isVisible())
    volume = GOAL_COLUMNS.index("volume")
    assert not panel.switch.isVisible()  # short names: both tables beside each other
    assert panel.beam_table.isVisible()
    assert panel.goal_table.isVisible()
    workspace.edit("names", named_long(workspace.case))
    assert panel.switch.isVisible()
    for index, table, column in ((0, panel.goal_table, volume), (1, panel.beam_table, 0)):
        QTest.mouseClick(panel.switch, LEFT, pos=panel.switch.tabRect(index).center())
        assert table.isVisible()
        assert all(whole(table, row, column) for row in range(table.model().rowCount()))
        assert table.horizontalScrollBar().maximum() == 0
        for row in range(table.model().rowCount()):  # and the tip says it as well
            at = table.model().index(row, column)
            assert at.data() in at.data(Qt.ItemDataRole.ToolTipRole)
    workspace.undo_stack.undo()
    assert not panel.switch.isVisible()
    workspace.undo_stack.redo()
    proposed(qtbot, weigh)
    assert panel.beams.index(0, 0).data(Qt.ItemDataRole.ToolTipRole).startswith("Left anterior oblique field, upper")


def test_a_long_name_of_a_draft_takes_no_room_from_the_pictures(qtbot, weigh):  # noqa: F811
    workspace, before = weigh.context.workspace, weigh.pane.minimumSizeHint().width()
    assert weigh.desk.draft.rename_draft("Four fields to the left upper lobe, wedged, with a boost to the hilum")
    weigh.desk.draft.duplicate_draft()
    assert workspace.draft.name.endswith("copy")
    assert weigh.pane.minimumSizeHint().width() == before


def test_the_ledger_tells_a_shortened_name_in_full(weigh):  # noqa: F811
    workspace, model = weigh.context.workspace, weigh.goals.model
    workspace.edit("names", named_long(workspace.case))
    tips = [model.index(row, 1).data(Qt.ItemDataRole.ToolTipRole) for row in range(model.rowCount())]
    assert tips[0].startswith("PTV_6000_boost_left_upper_lobe_expiration: ")
    assert tips[1].startswith("PTV_6000_boost_left_upper_lobe_inspiration: Max ≤ 60 Gy")
