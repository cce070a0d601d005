"""A head stands at the side of its column: above numbers at the right, above names at the left."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStyleOptionHeader, QTableView

from app.panels.tables import Header
from tests.support.cases import flat_results, planned_case

pytestmark = pytest.mark.gui
RIGHT = Qt.AlignmentFlag.AlignRight


def side(header, column):
    option = QStyleOptionHeader()
    header.initStyleOption(option)
    header.initStyleOptionForIndex(option, column)
    return option.textAlignment & RIGHT


@pytest.mark.parametrize("station", ["aim", "weigh"])
def test_heads_stand_where_their_cells_do(window, stub, station):
    case = planned_case()
    window.context.workspace.open(case, flat_results(case))
    window.go(station)
    tables = [t for t in window.findChildren(QTableView) if isinstance(t.horizontalHeader(), Header) and t.isVisible()]
    assert tables
    sides = set()
    for table in tables:
        model, header = table.model(), table.horizontalHeader()
        for column in range(model.columnCount()):
            if model.rowCount() and not table.isColumnHidden(column):
                cell = Qt.AlignmentFlag(model.index(0, column).data(Qt.ItemDataRole.TextAlignmentRole) or 0) & RIGHT
                assert side(header, column) == cell, model.headerData(column, Qt.Orientation.Horizontal)
                sides.add(cell)
    assert len(sides) == 2


def test_a_large_screen_gives_the_curves_what_the_ledger_does_not_need(window, stub, qtbot):
    case = planned_case()
    window.context.workspace.open(case, flat_results(case))
    window.resize(2560, 1400)
    qtbot.waitUntil(lambda: window.width() == 2560)
    window.go("weigh")
    station = window.station
    qtbot.waitUntil(lambda: station.below.width() > 1900)
    assert station.dvh_box.width() > 800
    assert station.goals.width() > 1000
    station.below.splitterMoved.emit(500, 1)
    station.below.setSizes([500, 1500])
    window.go("aim")
    window.go("weigh")
    assert abs(station.dvh_box.width() - 500) < 20
