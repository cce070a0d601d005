"""The DVH under the hand: read-outs both ways, axes, the differential form, goals as marks."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolTip

from engine.evaluation.goals import Goal
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def weigh(qtbot, bare_window, stub):
    bare_window.context.workspace.open(planned_case())
    bare_window.go("weigh")
    station = bare_window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=60000)
    station.dvh.resize(420, 260)
    return station


def histogram(weigh, key):
    return weigh.desk.follower.now.dvhs[key]


def test_the_read_out_goes_both_ways(weigh):
    gy = histogram(weigh, "ptv").d_gy(40.0)
    words = weigh.dvh.words_at(weigh.dvh._at(gy, 40.0))
    assert words == f"PTV: 40.0 % receives {gy:.1f} Gy or more\nhottest 40.0 %: {gy:.1f} Gy or more"


def test_dose_in_percent_of_the_prescription(weigh):
    weigh.dvh_box.in_percent.trigger()
    gy = histogram(weigh, "ptv").d_gy(40.0)
    words = weigh.dvh.words_at(weigh.dvh._at(gy, 40.0))
    assert f"{gy / 0.6:.1f} % of the prescription" in words
    assert weigh.dvh._step_gy / 0.6 == pytest.approx(20), "round steps in percent of 60 Gy"
    assert "%" in weigh.dvh._quantity()


def test_the_differential_form_encloses_each_volume_once(weigh):
    before = weigh.dvh.grab().toImage()
    weigh.dvh_box.differential.trigger()
    assert weigh.dvh.grab().toImage() != before
    curve = next(c for c in weigh.dvh._curves if c.key == "cord")
    step = curve.gy[2] - curve.gy[1]
    assert curve.amount.sum() * step == pytest.approx(100)
    weigh.dvh_box.cm3.setChecked(True)
    curve = next(c for c in weigh.dvh._curves if c.key == "cord")
    assert curve.amount.sum() * step == pytest.approx(histogram(weigh, "cord").volume_cm3)
    peak = int(np.argmax(curve.amount))
    words = weigh.dvh.words_at(weigh.dvh._at(curve.gy[peak], curve.amount[peak]))
    assert words.startswith("SpinalCord: ")
    assert "cm³ per Gy at" in words


def test_a_mark_tells_its_goal(weigh):
    weigh.desk.draft.add_goals([Goal("cord", "V50Gy[%]", "<=", 30)])
    words = weigh.dvh.mark_words(weigh.dvh._at(50, 30))
    share = 100 * histogram(weigh, "cord").v_share(50)
    assert words == f"Goal of SpinalCord: V50Gy ≤ 30 %. Now {share:.2f} %: missed."
    assert weigh.dvh.mark_words(weigh.dvh._at(20, 50)) == ""


def test_goals_stand_at_their_dose_in_the_differential_form(weigh):
    """Limits of dose from the top, volumes at a dose at the foot; those at one dose do not cover each other."""
    goals = ("V50Gy[%]", "<=", 30), ("Mean[Gy]", "<=", 50), ("D2cc[Gy]", "<=", 50)
    weigh.desk.draft.add_goals([Goal("cord", *g) for g in goals])
    assert "Mean" not in {m.goal.metric.partition("[")[0] for m in weigh.dvh._marks}, "a mean has no percentage of volume"
    weigh.dvh_box.differential.trigger()
    plot, area = weigh.dvh, weigh.dvh._area()
    places = {m.goal.metric: p for m, p in zip(plot._marks, plot._mark_places(), strict=True)}
    assert {"V50Gy[%]", "Mean[Gy]", "D2cc[Gy]", "Max[Gy]", "D95%[%]"} == set(places)
    at_fifty = [places[g[0]] for g in goals]
    assert all(p.x() == pytest.approx(plot._at(50, 0).x()) for p in at_fifty)
    assert places["D95%[%]"].x() == pytest.approx(plot._at(57, 0).x())
    volume, mean, least = at_fifty
    assert volume.y() > area.center().y() > least.y() > mean.y() + 10
    assert "Goal of SpinalCord: Mean ≤ 50 Gy" in plot.mark_words(mean)
    assert "V50Gy ≤ 30 %" in plot.mark_words(volume)
    before = plot.grab().toImage()
    weigh.desk.draft.remove_goals([2])
    assert plot.grab().toImage() != before


def test_the_tooltip_says_how_end_slices_are_counted(weigh):
    at = QPoint(200, 250)
    QApplication.sendEvent(weigh.dvh, QHelpEvent(QEvent.Type.ToolTip, at, weigh.dvh.mapToGlobal(at)))
    assert "half a spacing" in QToolTip.text()


def test_arrow_keys_walk_along_the_active_curve(weigh):
    weigh.context.workspace.activate(volume="cord")
    weigh.dvh.setFocus()
    QTest.keyClick(weigh.dvh, Qt.Key.Key_Right)
    first = weigh.dvh.words_at(weigh.dvh._pointer)
    QTest.keyClick(weigh.dvh, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    second = weigh.dvh.words_at(weigh.dvh._pointer)
    assert first.startswith("SpinalCord: ")
    assert second.startswith("SpinalCord: ")
    assert first != second
