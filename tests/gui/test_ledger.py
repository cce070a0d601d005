"""The goal ledger under the hand: every part of a goal is changed in place or in the form, and goals follow the target."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QStyleOptionViewItem

from app.models.goal_table import COLUMNS
from tests.gui.test_weigh import weigh  # noqa: F401  (a fixture)

pytestmark = pytest.mark.gui
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def ledger(weigh):  # noqa: F811
    return weigh


def goals(station):
    return station.context.workspace.draft.goals


def type_into(station, row, name, text):
    model = station.goals.model
    return model.setData(model.index(row, COLUMNS.index(name)), text, Qt.ItemDataRole.EditRole)


def said(station):
    return station.context.messages.kept[-1].text


def test_volume_tolerance_and_source_are_changed_in_place(ledger):
    assert type_into(ledger, 1, "volume", "PTV")
    assert goals(ledger)[1].volume_key == "ptv"
    assert type_into(ledger, 1, "tolerance", "2,5 Gy")
    assert goals(ledger)[1].tolerance == 2.5
    assert type_into(ledger, 1, "source", "our own rule")
    assert goals(ledger)[1].source == "our own rule"
    ledger.context.workspace.undo_stack.undo()
    ledger.context.workspace.undo_stack.undo()
    assert goals(ledger)[1].tolerance != 2.5


@pytest.mark.parametrize(("name", "text"), [("volume", "Liver"), ("tolerance", "-1"), ("tolerance", "much")])
def test_nonsense_is_refused_in_one_sentence_and_changes_nothing(ledger, name, text):
    before = goals(ledger)
    assert not type_into(ledger, 0, name, text)
    assert goals(ledger) is before
    assert text in said(ledger)


def test_the_volume_is_chosen_from_a_list_by_double_click(ledger):
    table = ledger.goals.table
    index = ledger.goals.model.index(1, COLUMNS.index("volume"))
    at = table.visualRect(index).center()
    QTest.mouseClick(table.viewport(), LEFT, pos=at)
    QTest.mouseDClick(table.viewport(), LEFT, pos=at)
    box = table.findChild(QComboBox)
    assert [box.itemText(i) for i in range(box.count())] == [v.name for v in ledger.context.workspace.case.volumes]
    box.setCurrentText("Body")
    box.activated.emit(box.currentIndex())
    assert ledger.context.workspace.case.volume(goals(ledger)[1].volume_key).name == "Body"


def test_a_goal_is_changed_whole_in_the_form(ledger):
    panel = ledger.goals
    panel.table.selectRow(1)
    QTest.mouseClick(panel.change, LEFT)
    form, before = panel.form, goals(ledger)[1]
    assert form.metric_line.text() == before.metric
    assert form.limit.value() == before.limit
    form.tolerance.setValue(3)
    form.source.setText("the department")
    QTest.mouseClick(form.save, LEFT)
    after = goals(ledger)[1]
    assert (after.tolerance, after.source, after.metric) == (3, "the department", before.metric)
    assert len(goals(ledger)) == 2
    assert not form.isVisible()


def test_a_goal_that_went_away_under_the_form_is_not_written_over_another(ledger):
    panel = ledger.goals
    panel.table.selectRow(1)
    QTest.mouseClick(panel.change, LEFT)
    ledger.desk.draft.remove_goals([1])
    before = goals(ledger)
    QTest.mouseClick(panel.form.save, LEFT)
    assert goals(ledger) is before
    assert "meanwhile" in panel.form.words.text()


def test_goals_follow_the_prescription_to_another_volume_in_one_step(ledger):
    workspace = ledger.context.workspace
    ledger.desk.draft.put_goal(
        None, "cord", metric="D98%[%]", comparator=">=", limit=90.0, tolerance=0.0, priority=1, source="own"
    )
    ledger.desk.draft.put_goal(
        None, "ptv", metric="D98%[%]", comparator=">=", limit=95.0, tolerance=0.0, priority=1, source="x"
    )
    before, steps = goals(ledger), workspace.undo_stack.count()
    moves = [g for g in before if g.volume_key == "ptv" and g.metric != "D98%[%]"]
    assert moves
    box = ledger.prescription.target
    box.setCurrentIndex(box.findData("cord"))
    box.activated.emit(box.currentIndex())
    after = goals(ledger)
    assert workspace.draft.prescription.volume_key == "cord"
    assert workspace.undo_stack.count() == steps + 1
    assert [g.volume_key for g, b in zip(after, before) if b in moves] == ["cord"] * len(moves)
    # what the new volume had itself stays, and its twin stays with the old one
    assert [(g.volume_key, g.limit) for g in after if g.metric == "D98%[%]"] == [("cord", 90.0), ("ptv", 95.0)]
    assert "went with the prescription to SpinalCord" in said(ledger)
    workspace.undo_stack.undo()
    assert goals(ledger) == before
    assert workspace.draft.prescription.volume_key == "ptv"


def test_another_dose_alone_leaves_goals_alone(ledger):
    before = goals(ledger)
    assert ledger.desk.draft.prescribe(50.0, 25, "ptv")
    assert goals(ledger) is before


def test_narrow_ledgers_draw_states_and_wide_ones_show_tolerance_and_source(ledger):
    panel = ledger.goals
    panel.resize(460, 240)
    assert panel.table.isColumnHidden(COLUMNS.index("source"))
    assert panel.model.index(0, 0).data() in "●◐▲–"
    assert panel.table.columnWidth(COLUMNS.index("volume")) >= 120
    panel.resize(1000, 240)
    assert not panel.table.isColumnHidden(COLUMNS.index("source"))
    assert not panel.table.isColumnHidden(COLUMNS.index("tolerance"))
    assert len(panel.model.index(0, 0).data()) > 1


def test_a_source_is_cut_at_its_end_and_a_name_in_the_middle(ledger):
    table = ledger.goals.table
    for name, mode in (("source", Qt.TextElideMode.ElideRight), ("metric", Qt.TextElideMode.ElideMiddle)):
        option, index = QStyleOptionViewItem(), ledger.goals.model.index(0, COLUMNS.index(name))
        table.initViewItemOption(option)
        table.itemDelegateForIndex(index).initStyleOption(option, index)
        assert option.textElideMode == mode


def test_buttons_under_the_beam_table_stay_where_they_are(ledger, qtbot):
    ledger.context.go("aim")
    panel = ledger.context.stage.window().station.beams

    def place():
        return panel.remove.mapTo(panel.window(), panel.remove.rect().topLeft()).toTuple()

    qtbot.waitUntil(lambda: panel.table.isVisible() and place()[1] < 450)  # laid out
    before, places = place(), set()
    while panel.model.rowCount():
        QTest.mouseClick(panel.remove, LEFT)
        QTest.qWait(0)
        places.add(place())
    assert places == {before}


def test_a_refused_metric_has_its_wrong_characters_selected_and_is_told_where(ledger):
    form = ledger.goals.form
    form.open()
    before = goals(ledger)
    QTest.keyClicks(form.metric_line, " D95%[Gx]")
    assert form.metric_line.selectedText() == ""  # a hand that still writes is left alone
    assert "D95%[Gx]: at character 6 a unit (Gy, cGy or %) was expected" in form.words.text()
    QTest.keyClick(form.metric_line, Qt.Key.Key_Return)
    assert form.metric_line.selectedText() == "Gx"
    assert goals(ledger) is before
    QTest.keyClicks(form.metric_line, "Gy")
    form.limit.setValue(57.0)
    QTest.keyClick(form.metric_line, Qt.Key.Key_Return)
    assert [g.metric for g in goals(ledger)[len(before) :]] == ["D95%[Gy]"]


def test_return_after_a_metric_asks_for_the_limit_first_and_the_unit_left_out_is_kept(ledger):
    form, before = ledger.goals.form, goals(ledger)
    form.open()
    QTest.keyClicks(form.metric_line, "v20gy")
    QTest.keyClick(form.metric_line, Qt.Key.Key_Return)
    assert goals(ledger) is before
    form.limit.setValue(30.0)
    QTest.keyClick(form.metric_line, Qt.Key.Key_Return)
    assert [(g.metric, g.limit) for g in goals(ledger)[len(before) :]] == [("V20Gy[%]", 30.0)]


def test_a_demand_just_reached_is_off_by_nothing(ledger):
    model = ledger.goals.model
    goal = goals(ledger)[0]
    assert [model._text(goal, "off", goal.limit + d, None) for d in (-0.04, 0.04)] == ["0.0", "0.0"]


def test_a_metric_that_ends_too_soon_has_the_cursor_at_its_end(ledger):
    form = ledger.goals.form
    form.open()
    QTest.keyClicks(form.metric_line, "V20")
    form.metric_line.setCursorPosition(0)
    QTest.keyClick(form.metric_line, Qt.Key.Key_Return)
    assert (form.metric_line.selectedText(), form.metric_line.cursorPosition()) == ("", 3)


# sets of goals

SET = """name = "Ours"
[[goals]]
volume = "PTV"
metric = "D95%[%]"
limit = ">= 95 %"
tolerance = "1 %"
[[goals]]
volume = "Heart"
metric = "Mean[Gy]"
limit = "<= 26 Gy"
source = "a paper"
"""


@pytest.fixture
def own(ledger, tmp_path):
    path = tmp_path / "ours.toml"
    path.write_text(SET)
    return path


def offered(panel):
    return {a.text(): a for a in panel.menu.actions() if a.text()}


def cell(station, row, name):
    return station.goals.model.index(row, COLUMNS.index(name)).data()


def test_a_file_is_shown_with_its_sources_and_added_as_one_step(ledger, own):
    panel, before = ledger.goals, goals(ledger)
    panel.menu.load(own)
    offer = panel.menu.offer
    shown = [[offer.table.item(r, c).text() for c in range(5)] for r in range(2)]
    assert shown == [
        ["PTV", "D95%[%]", "≥ 95 %", "1", ""],
        ["Heart (awaited)", "Mean[Gy]", "≤ 26 Gy", "1", "a paper"],
    ]
    QTest.mouseClick(offer.add, LEFT)
    assert goals(ledger)[:2] == before  # the first is in the ledger already
    assert [(g.waits_for, g.source) for g in goals(ledger)[2:]] == [("Heart", "a paper")]
    assert "1 goal of Ours taken" in said(ledger)
    assert "Awaited: Heart." in said(ledger)
    assert cell(ledger, 2, "volume") == "Heart (awaited)"
    ledger.context.workspace.undo_stack.undo()
    assert goals(ledger) == before


def test_a_case_that_is_read_only_here_keeps_its_goals_and_says_so(ledger, own):
    before, ledger.context.workspace.read_only = goals(ledger), True
    ledger.goals.menu.load(own)
    QTest.mouseClick(ledger.goals.menu.offer.replace, LEFT)
    assert goals(ledger) is before
    assert "read-only" in said(ledger)


def test_goals_that_are_there_already_are_not_added_again(ledger, own):
    ledger.goals.menu.load(own)
    QTest.mouseClick(ledger.goals.menu.offer.add, LEFT)
    before = goals(ledger)
    ledger.goals.menu.load(own)
    QTest.mouseClick(ledger.goals.menu.offer.add, LEFT)
    assert goals(ledger) is before
    assert "Every goal of Ours is there already" in said(ledger)


def test_a_file_may_replace_the_ledger_in_one_step(ledger, own):
    before = goals(ledger)
    ledger.goals.menu.load(own)
    QTest.mouseClick(ledger.goals.menu.offer.replace, LEFT)
    assert [g.metric for g in goals(ledger)] == ["D95%[%]", "Mean[Gy]"]
    ledger.context.workspace.undo_stack.undo()
    assert goals(ledger) == before


def test_leaving_the_offer_or_a_bad_file_changes_nothing(ledger, own):
    before = goals(ledger)
    ledger.goals.menu.load(own)
    ledger.goals.menu.offer.reject()
    own.write_text(SET.replace("26 Gy", "26 cc"))
    ledger.goals.menu.load(own)
    assert ledger.goals.menu.offer is None
    assert f"{own}, line 10: '<= 26 cc' is not in Gy, as Mean[Gy] is" in said(ledger)
    assert goals(ledger) is before


def test_an_awaited_goal_is_kept_through_changes_and_joined_to_its_volume(ledger, own):
    workspace = ledger.context.workspace
    ledger.goals.menu.load(own)
    QTest.mouseClick(ledger.goals.menu.offer.add, LEFT)
    assert type_into(ledger, 2, "demand", "<= 20")
    ledger.goals.form.open(2)
    assert ledger.goals.form.volume.currentText() == "Heart (awaited)"
    ledger.goals.form.tolerance.setValue(2)
    QTest.mouseClick(ledger.goals.form.save, LEFT)
    assert (goals(ledger)[2].waits_for, goals(ledger)[2].limit, goals(ledger)[2].tolerance) == ("Heart", 20, 2)
    heart = workspace.case.volume("cord").but(key="heart", name="Heart")
    workspace.edit("add", workspace.case.but(volumes=(*workspace.case.volumes, heart)))
    assert (goals(ledger)[2].volume_key, goals(ledger)[2].waits_for) == ("heart", "")
    assert cell(ledger, 2, "volume") == "Heart"
    workspace.undo_stack.undo()
    assert type_into(ledger, 2, "volume", "SpinalCord")
    assert (goals(ledger)[2].volume_key, goals(ledger)[2].waits_for) == ("cord", "")


def test_the_ledger_saved_and_loaded_again_is_the_ledger(ledger, tmp_path):
    panel, before = ledger.goals, goals(ledger)
    panel.menu.save(panel.menu.folder / "mine")
    assert "Saved as" in said(ledger)
    panel.menu.fill()
    offered(panel)["mine (2 goals)"].trigger()
    QTest.mouseClick(panel.menu.offer.replace, LEFT)
    assert goals(ledger) == before
    (tmp_path / "file").write_text("")
    panel.menu.save(tmp_path / "file" / "mine.toml")
    assert "cannot be written" in said(ledger)


def test_sites_offer_published_limits_with_sources_at_the_draft_s_fractions(ledger):
    panel = ledger.goals
    panel.menu.folder.mkdir()
    (panel.menu.folder / "bad.toml").write_text("name = 3")
    panel.menu.fill()
    thorax = next(a for text, a in offered(panel).items() if text.startswith("Thorax ("))
    assert "QUANTEC" in thorax.toolTip()
    offered(panel)["bad.toml cannot be read"].trigger()
    assert "bad.toml, line 1: name is no text" in said(ledger)
    thorax.trigger()
    table = panel.menu.offer.table
    rows = {(table.item(r, 0).text(), table.item(r, 1).text()): table.item(r, 4).text() for r in range(table.rowCount())}
    assert ("PTV", "D98%[%]") in rows
    assert "QUANTEC" in rows["SpinalCord", "Max[Gy]"]
    assert "QUANTEC" in rows["Lungs-GTV (awaited)", "V20Gy[%]"]
    panel.menu.offer.reject()
