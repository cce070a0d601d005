"""The whole job under mouse and keys with the real engine: paint, fill, prescribe, aim, weigh, undo, sign, verify."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.__main__ import main
from app.models.goal_table import COLUMNS
from app.models.volume_table import NAME
from engine.case import edits
from engine.review import record as records
from tests.gui.conftest import Hand
from tests.gui.sign_desk import PASSPHRASE, Reviewer
from tests.support.cases import small_case

pytestmark = pytest.mark.gui
LEFT, PLAIN = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
LONG_MS = 60000


def outlined_elsewhere():
    """Return the small case without a target and without a plan: Body and SpinalCord only."""
    case = small_case()
    return edits.without_volume(edits.without_draft(case, "draft"), "ptv")


class Planner:
    """Paints, aims and weighs in a window."""

    def __init__(self, window, qtbot) -> None:
        self.window, self.qtbot, self.hand = window, qtbot, Hand(window)
        self.workspace = window.context.workspace

    def volume(self, name):
        return next(v for v in self.workspace.case.volumes if v.name == name)

    def new_volume(self, name) -> None:
        volumes = self.window.station.list
        QTest.mouseClick(volumes.new, LEFT)
        editor = volumes.table.findChild(QLineEdit)
        editor.selectAll()
        QTest.keyClicks(editor, name)
        QTest.keyClick(editor, Qt.Key.Key_Return)
        self.qtbot.waitUntil(lambda: self.workspace.volume.name == name)
        assert volumes.table.currentIndex().siblingAtColumn(NAME).data() == name
        self.window.activateWindow()  # without a window manager nobody does so when the offered names close
        self.qtbot.waitUntil(self.window.isActiveWindow)

    def paint_around(self, plane, radius_mm) -> None:
        view = self.hand.view
        while view.index != plane:
            self.hand.key(Qt.Key.Key_Up if view.index < plane else Qt.Key.Key_Down)
        r = radius_mm
        self.hand.drag((-r, -r), (r, -r), (r, r), (-r, r), (-r, -r), (0, 0))

    def ring_at(self, gantry_deg, share=1.0) -> QPoint:
        return self.window.station.stage.ring.ring(self.hand.view).at(gantry_deg, share).toPoint()

    def spoke_end(self, key) -> QPoint:
        return self.window.station.stage.ring.spoke_end(self.hand.view, key).toPoint()

    def add_beam(self, gantry_deg):
        at, view = self.ring_at(gantry_deg, 0.96), self.hand.view  # as near as a hand comes
        cursor_mm = self.workspace.cursor_mm
        QTest.mouseClick(view, LEFT, PLAIN, at)
        assert self.workspace.cursor_mm == cursor_mm  # the first press of a double click leaves the cross-hair
        QTest.mouseDClick(view, LEFT, PLAIN, at)
        QTest.mouseRelease(view, LEFT, PLAIN, at)
        return self.workspace.draft.beams[-1]

    def drag_spoke(self, key, *stops) -> None:
        view = self.hand.view
        QTest.mousePress(view, LEFT, PLAIN, self.spoke_end(key))
        for stop in stops:
            QTest.mouseMove(view, stop)
        QTest.mouseRelease(view, LEFT, PLAIN, stops[-1])

    def wait_for_fine_dose(self) -> None:
        follower = self.window.station.desk.follower
        self.qtbot.waitUntil(lambda: follower.state == "current" and not follower.asks.running, timeout=LONG_MS)

    def goal(self, row, column):
        model = self.window.station.goals.model
        return model.index(row, COLUMNS.index(column)).data()

    def add_goal(self, volume, metric, sense, limit) -> None:
        form = self.window.station.goals.form
        form.open()
        form.volume.setCurrentIndex(form.volume.findText(volume))
        form.metric_line.setText(metric)
        form.sense.setCurrentText(sense)
        form.limit.setValue(limit)
        assert form.put(), form.words.text()


def test_from_an_empty_slice_to_a_verified_seal(bare_window, qtbot, monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)
    window, path = bare_window, tmp_path / "case.halfshade"
    with qtbot.waitSignal(window.keeper.opened, timeout=LONG_MS):
        window.keeper.create(outlined_elsewhere(), path)
    planner = Planner(window, qtbot)
    workspace = planner.workspace

    window.go("outline")
    planner.new_volume("PTV_New")
    assert planner.volume("PTV_New").role == "PTV"
    window.context.settings.set("brush/radius_mm", 8.0)
    planner.hand.key("b")
    for plane, radius_mm in ((6, 6), (9, 9), (12, 6)):
        planner.paint_around(plane, radius_mm)
    assert [p for p, _ in planner.volume("PTV_New").coverage.areas_mm2] == [6, 9, 12]
    painted = planner.volume("PTV_New").coverage
    window.station._start("interpolate")
    qtbot.waitUntil(window.station.form.apply.isEnabled, timeout=LONG_MS)
    QTest.mouseClick(window.station.form.apply, LEFT)
    target = planner.volume("PTV_New")
    areas = dict(target.coverage.areas_mm2)
    assert sorted(areas) == list(range(6, 13))
    assert areas[6] < areas[7] < areas[9] > areas[11] > areas[12]
    assert areas[9] == dict(painted.areas_mm2)[9]

    window.go("aim")
    aim = window.station
    first = planner.add_beam(0)
    machine = aim.beams.model.index(0, aim.beams.model.columns.index("machine"))
    assert aim.beams.model.setData(machine, "point-6", Qt.ItemDataRole.EditRole)
    planner.add_beam(90)
    third = planner.add_beam(240)
    planner.drag_spoke(third.key, *(planner.ring_at(d, 0.9) for d in (250, 260, 270)))
    panel = aim.prescription
    panel.target.setCurrentIndex(panel.target.findText("PTV_New"))
    panel.target.activated.emit(panel.target.currentIndex())
    panel.dose.setValue(60)
    panel.fractions.setValue(30)
    to_target, to_cross_hair = aim.beams.isocentre.menu().actions()[:2]
    to_cross_hair.trigger()
    assert workspace.draft.beams[0].isocentre_mm == pytest.approx(workspace.cursor_mm, abs=0.01)
    to_target.trigger()
    QTest.mouseClick(aim.fit_all, LEFT)
    draft = workspace.draft
    assert [round(b.gantry_deg) for b in draft.beams] == [0, 90, 270]
    assert {b.machine for b in draft.beams} == {"point-6"}
    for beam in draft.beams:
        assert beam.isocentre_mm == pytest.approx(target.coverage.centroid_mm(), abs=0.01)
        low, high = beam.aperture.x_mm
        assert 17 + 8 - 5 < (high - low) / 2 < 17 + 8 + 5
    assert (draft.prescription.dose_gy, draft.prescription.volume_key) == (60, target.key)

    window.go("weigh")
    weigh = window.station
    planner.wait_for_fine_dose()
    planner.add_goal("PTV_New", "D95%[%]", "≥", 95)
    planner.add_goal("SpinalCord", "Max[Gy]", "≤", 5)
    before = weigh.desk.follower.now
    assert before.dvhs[target.key].mean_gy == pytest.approx(60, rel=0.05)
    assert before.mu[1] == pytest.approx(before.mu[2], rel=0.01)
    cord_before, drawn_before = planner.goal(1, "achieved"), {c.key: float(c.gy[-1]) for c in weigh.dvh._curves}
    assert "met" in planner.goal(0, "state")
    assert "missed" in planner.goal(1, "state")

    planner.drag_spoke(first.key, planner.ring_at(0, 0.75), planner.ring_at(0, 0.65))
    now = weigh.desk.follower.now  # nothing was waited for: all of it follows in the same call
    weight = workspace.draft.weights[0]
    assert weight < 0.5
    assert workspace.draft.weights[1:] == (1.0, 1.0)
    assert weigh.desk.follower.state == "current"
    assert now.mu[0] == pytest.approx(weight * now.mu[1])
    assert now.dvhs["cord"].mean_gy < 0.7 * before.dvhs["cord"].mean_gy
    assert float(planner.goal(1, "achieved")) < float(cord_before)
    drawn = {c.key: float(c.gy[-1]) for c in weigh.dvh._curves}
    assert drawn.keys() == drawn_before.keys() >= {"body", "cord", target.key}
    assert drawn["cord"] < 0.7 * drawn_before["cord"]
    planner.hand.key(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert weigh.desk.follower.now.mu == before.mu
    assert planner.goal(1, "achieved") == cord_before

    reviewer = Reviewer(window, qtbot)
    reviewer.enter()
    reviewer.name("Ada Reviewer")
    assert reviewer.open_all() >= 6
    reviewer.answer_all()
    reviewer.form.approve.click()
    reviewer.type_passphrase("short")
    assert not reviewer.form.seal.isEnabled()
    assert "at least 8" in reviewer.form.hint.text()
    record = reviewer.approve_and_seal(PASSPHRASE)
    assert record.statement.decision == "APPROVED"

    window.close()
    assert main(["seal", "verify", str(path)]) == 0
    told = capsys.readouterr().out
    assert "APPROVED by Ada Reviewer" in told
    assert "The present plan is the sealed one." in told
