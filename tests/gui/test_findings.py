"""The panel of findings: what it says, which buttons it offers, and that a typed reason is not lost."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton

from app.panels.findings import Findings
from app.panels.pane import Pane
from engine.case.case import Answer
from engine.review.finding import Finding

pytestmark = pytest.mark.gui

STOP = Finding("no-body", "stop", "There is a body.", "No volume is the body.")
WARN = Finding("hot-spot", "warn", "No dose exceeds 110 %.", "It is 118 %.", "max", point_mm=(1.0, 2.0, 3.0))
OTHER = Finding("goal-missed", "warn", "Every goal is met.", "Lung V20 is missed.", "lung", volume_key="lung")
NOTE = Finding("synthetic", "note", "The patient is named.", "A synthetic patient.", "patient")


@pytest.fixture
def panel(qtbot):
    panel = Findings()
    pane = Pane(panel)
    qtbot.addWidget(pane)
    pane.resize(300, 600)
    pane.show()
    qtbot.waitExposed(pane)
    panel.pane = pane
    return panel


def shown(panel):
    return [w.text() for w in panel.findChildren(QLabel) if w.isVisibleTo(panel)]


def test_the_heading_counts_what_is_open(panel):
    panel.show_findings((STOP, WARN, OTHER, NOTE), ())
    assert panel.heading.text() == "Findings: 1 to mend, 2 to mend or answer"
    answers = tuple(Answer(f.key, "Seen.", "A", "2026-01-01") for f in (WARN, OTHER))
    panel.show_findings((WARN, OTHER, NOTE), answers)
    assert panel.heading.text() == "Findings: none open"
    panel.show_findings((), ())
    assert "No finding. Every automatic check holds." in shown(panel)


def test_a_severity_is_told_in_word_and_shape(panel):
    panel.show_findings((STOP, WARN, NOTE), ())
    heads = [t for t in shown(panel) if t[:1] in "\u25a0\u25b2\u25cf"]
    assert heads == ["\u25a0  Mend", "\u25b2  Mend or answer", "\u25cf  Note"]


def test_only_a_warning_can_be_answered_and_only_a_place_can_be_gone_to(panel, qtbot):
    panel.show_findings((STOP, WARN, NOTE), ())
    assert list(panel.answer_buttons) == [WARN.key]
    (go,) = [b for b in panel.findChildren(QPushButton) if b.text() == "Go there"]
    with qtbot.waitSignal(panel.jump_wanted) as got:
        go.click()
    assert got.args == [WARN]


def test_a_reason_is_typed_in_place_and_enter_keeps_it(panel, qtbot):
    panel.show_findings((WARN,), ())
    line = panel.reasons[WARN.key]
    assert not line.isVisible()
    panel.answer_buttons[WARN.key].click()
    assert line.isVisible()
    assert QApplication.focusWidget() is line
    QTest.keyClick(line, Qt.Key.Key_Return)
    QTest.keyClicks(line, "  Small.  ")
    with qtbot.waitSignal(panel.answered) as got:
        QTest.keyClick(line, Qt.Key.Key_Return)
    assert got.args == [WARN.key, "Small."]


def test_an_empty_reason_is_no_answer(panel, qtbot):
    panel.show_findings((WARN,), ())
    panel.answer_buttons[WARN.key].click()
    with qtbot.assertNotEmitted(panel.answered):
        QTest.keyClicks(panel.reasons[WARN.key], "   ")
        QTest.keyClick(panel.reasons[WARN.key], Qt.Key.Key_Return)
    panel.show_findings((WARN,), (Answer(WARN.key, "  ", "A", "2026-01-01"),))
    assert panel.heading.text() == "Findings: 1 to mend or answer"


def test_an_answer_shows_its_author_and_can_be_changed(panel):
    panel.show_findings((WARN,), (Answer(WARN.key, "Small.", "A. Reader", "2026-01-01"),))
    assert "A. Reader: Small." in shown(panel)
    assert "\u2713  Answered" in shown(panel)
    assert panel.answer_buttons[WARN.key].text() == "Change the answer"
    panel.answer_buttons[WARN.key].click()
    assert panel.reasons[WARN.key].text() == "Small."


def test_what_is_being_typed_outlives_a_new_list(panel):
    panel.show_findings((WARN, OTHER), ())
    panel.answer_buttons[OTHER.key].click()
    QTest.keyClicks(panel.reasons[OTHER.key], "Half a sent")
    panel.show_findings((WARN, OTHER, NOTE), ())
    line = panel.reasons[OTHER.key]
    assert line.isVisible()
    assert line.text() == "Half a sent"
    assert QApplication.focusWidget() is line


def test_long_words_fit_the_pane(panel, qtbot):
    long = Finding("x", "warn", "A rule " * 20, "A finding with many words and numbers 12.34 mm " * 8, "p", volume_key="v")
    panel.show_findings((long, STOP), (Answer(long.key, "because " * 30, "A. Reviewer", "2026-01-01"),))
    panel.answer_buttons[long.key].click()
    assert panel.minimumSizeHint().width() <= panel.pane.viewport().width()
