"""Every word of the window goes through translation: nothing is left bare in a language made of brackets."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QMenu, QWidget

from app.window import Window
from engine.base.errors import EmptyVolume, InputError
from engine.base.words import say
from engine.beams.machine_file import shipped_machines
from engine.case.case import NORMALISATIONS, Case
from engine.dicom.read_ct import SeriesFound, SeriesList
from engine.review import record as records
from engine.space.frames import POSITIONS
from engine.volumes.volume import ROLES
from tests.gui.sign_desk import LONG_MS, Reviewer, kept, stub_radiograph
from tests.support.brackets import Brackets, bare_words, shown_texts
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui

# Units, quantities of the trade, keys and the program's name are the same in every language.
NAMES = {
    "mm", "cm", "cm³", "cm²", "cc", "Gy", "HU", "MU", "MV", "kV", "deg", "%", "Halfshade", "DVH", "CT", "DICOM", "IEC",
    "TG", "AAPM", "Mean", "Max", "Min", "Ctrl", "Shift", "Alt", "Tab", "Esc", "Enter", "Space", "Del", "ICRU", "SAD",
}  # fmt: skip


@pytest.fixture
def brackets(qapp):
    """The language of brackets; installed before any window is made."""
    translator = Brackets()
    assert QCoreApplication.installTranslator(translator)
    yield translator
    QCoreApplication.removeTranslator(translator)


@pytest.fixture
def window(brackets, bare_window) -> Window:
    return bare_window


@pytest.fixture
def painted(monkeypatch) -> list[str]:
    """Every text our own painting writes."""
    texts: list[str] = []
    draw = QPainter.drawText

    def listen(painter, *given):
        texts.extend(g for g in given if isinstance(g, str))
        return draw(painter, *given)

    monkeypatch.setattr(QPainter, "drawText", listen)
    return texts


def names_of(case: Case | None) -> set[str]:
    """Return what a case calls its things, and other proper names."""
    names = {*NAMES, *ROLES, *NORMALISATIONS, *shipped_machines()}
    if case is not None:
        names |= {v.name for v in case.volumes} | {v.note for v in case.volumes} | {m.name for m in case.machines}
        names |= {m.description for m in case.machines} | {case.image.patient_position, *case.patient.name.split("^")}
        names |= {case.patient.name, case.patient.patient_id, case.image.description, case.curve.name, case.curve.source}
        for draft in case.drafts:
            names |= {draft.name, *(b.name for b in draft.beams)}
            names |= {text for g in draft.goals for text in (g.metric, g.metric.partition("[")[0], g.source)}
    return {n for n in names if n}


def bare(window: Window, *more: str) -> set[str]:
    """Return what stands bare in everything visible in the window."""
    QApplication.processEvents()
    names = names_of(window.context.workspace.case) | set(more)
    out = set()
    for widget in (window, *window.findChildren(QWidget)):
        if widget.isVisibleTo(window) or widget.inherits("QMenu"):
            for where, text in shown_texts(widget):
                if words := bare_words(text, names):
                    out.add(f"{where}: {text!r} has {words}")
    return out


def test_the_language_of_brackets_knows_the_file_only(brackets):
    assert QCoreApplication.translate("Menu", "&Quit") == "⟦&Quit⟧"
    assert QCoreApplication.translate("Menu", "not in the file") == "not in the file"
    assert bare_words("⟦Dose of ⟦beam⟧ PTV⟧: 3 mm left", {"mm"}) == ["left"]


def test_an_empty_window_has_no_bare_word(window):
    for name, _ in window.shelf.names():
        window.go(name)
        assert not bare(window)


def test_every_station_with_a_plan_has_no_bare_word(window, qtbot, answer, stub, painted, tmp_path):
    answer("Radiograph", stub_radiograph)
    with qtbot.waitSignal(window.keeper.opened, timeout=LONG_MS):
        window.open_path(kept(tmp_path / "case.halfshade"))
    found: set[str] = set()
    for name, _ in window.shelf.names():
        if name == "sign":
            Reviewer(window, qtbot).enter()
        else:
            window.go(name)
        QTest.qWait(0)
        window.grab()
        found |= {f"{name}: {text}" for text in bare(window)}
    names = names_of(window.context.workspace.case)
    found |= {f"painted: {text!r} has {words}" for text in set(painted) if (words := bare_words(text, names))}
    assert not found, "\n".join(sorted(found))


def test_tools_and_operations_on_volumes_have_no_bare_word(window, painted):
    window.context.workspace.open(planned_case())
    window.go("outline")
    window.context.workspace.activate(volume="ptv")
    station, found = window.station, set()
    for tool in station.tools:
        station.take(tool)
        found |= bare(window)
    form = station.form
    for tab in range(station.tabs.count()):
        station.tabs.setCurrentIndex(tab)
        for operation in form.operations:
            form.choose(operation.name)
            found |= bare(window)
    window.grab()
    names = names_of(window.context.workspace.case)
    found |= {f"painted: {text!r} has {words}" for text in set(painted) if (words := bare_words(text, names))}
    assert not found, "\n".join(sorted(found))


def test_menus_and_dialogs_have_no_bare_word(window):
    window.context.workspace.open(planned_case())
    for name, _ in window.shelf.names():
        window.go(name)
        for menu in window.findChildren(QMenu):
            menu.aboutToShow.emit()
        assert not bare(window)
    for show in (window.show_keys, window.show_log, window.show_about):
        show()
        dialog = window.findChildren(QDialog)[-1]
        texts = [*shown_texts(dialog), *(t for w in dialog.findChildren(QWidget) for t in shown_texts(w))]
        texts.append(("title", dialog.windowTitle()))
        for where, text in texts:
            assert not bare_words(text, names_of(None)), f"{show.__name__} {where}: {text!r}"
        dialog.close()


def test_a_dose_that_is_made_old_and_fails_is_told_without_a_bare_word(window, qtbot, answer, stub, painted):
    answer("Radiograph", stub_radiograph)
    window.context.workspace.open(planned_case())
    window.go("weigh")
    follower = window.station.desk.follower
    qtbot.waitUntil(lambda: follower.state == "current", timeout=LONG_MS)
    found = bare(window)
    stub.gate.clear()
    window.station.desk.beams.change("a", "⟦Turn⟧", gantry_deg=20.0)
    qtbot.waitUntil(lambda: follower.state == "out of date", timeout=LONG_MS)
    window.grab()
    found |= bare(window)
    stub.error = EmptyVolume(
        "there is nothing to open the beam for", say("beam {name}", name="AP"), "Paint the target first."
    )
    stub.gate.set()
    window.station.desk.beams.change("a", "⟦Turn⟧", gantry_deg=40.0)
    qtbot.waitUntil(lambda: bool(follower.asks.failure), timeout=LONG_MS)
    window.grab()
    found |= bare(window)
    names = names_of(window.context.workspace.case)
    found |= {f"painted: {text!r} has {words}" for text in set(painted) if (words := bare_words(text, names))}
    assert not found, "\n".join(sorted(found))


def test_two_drafts_beside_each_other_have_no_bare_word(window, qtbot, stub, painted):
    window.context.workspace.open(planned_case())
    window.go("weigh")
    station = window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=LONG_MS)
    station.desk.draft.duplicate_draft()
    station.desk.beams.set_weight("p", 3.0)
    station.drafts.beside.setCurrentIndex(1)
    station.drafts.beside.activated.emit(1)
    qtbot.waitUntil(lambda: station.beside.other.now is not None, timeout=LONG_MS)
    station.drafts.difference.setChecked(True)
    station.stage.probe.set_pinned(True)
    window.grab()
    found, names = bare(window), names_of(window.context.workspace.case)
    found |= {f"painted: {text!r} has {words}" for text in set(painted) if (words := bare_words(text, names))}
    assert not found, "\n".join(sorted(found))


def test_a_sum_of_drafts_has_no_bare_word(window, qtbot, stub, painted):
    window.context.workspace.open(planned_case())
    window.go("weigh")
    station = window.station
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=LONG_MS)
    station.desk.draft.duplicate_draft()
    qtbot.waitUntil(lambda: station.desk.follower.state == "current", timeout=LONG_MS)
    menu = station.drafts.sum_with.menu()
    menu.aboutToShow.emit()
    menu.actions()[0].trigger()
    qtbot.waitUntil(lambda: station.summing.plan.now is not None, timeout=LONG_MS)
    menu.aboutToShow.emit()
    station.stage.line.set_shown(True)
    found: set[str] = set()
    for choose in (station.summing.panel.eqd2, station.summing.ledger.by_volume, station.summing.panel.physical):
        choose.click()
        window.grab()
        found |= bare(window)
    names = names_of(window.context.workspace.case)
    found |= {f"painted: {text!r} has {words}" for text in set(painted) if (words := bare_words(text, names))}
    assert not found, "\n".join(sorted(found))


def test_deciding_and_sealing_have_no_bare_word(window, qtbot, answer, stub, monkeypatch, tmp_path):
    answer("Radiograph", stub_radiograph)
    monkeypatch.setattr(records, "SCRYPT_N", 2**10)
    with qtbot.waitSignal(window.keeper.opened, timeout=LONG_MS):
        window.open_path(kept(tmp_path / "case.halfshade"))
    reviewer = Reviewer(window, qtbot)
    reviewer.enter()
    reviewer.open_all()
    typed = ("A. Reviewer", "It is a test case.")
    found = bare(window)
    reviewer.name(typed[0])
    reviewer.answer_all()
    found |= bare(window, *typed)
    record = reviewer.approve_and_seal()
    found |= bare(window, *typed, "APPROVED", "UTC", record.fingerprint[:12])
    assert not found, "\n".join(sorted(found))


def test_what_is_wrong_with_a_series_has_no_bare_word(window, qtbot, answer, tmp_path):
    unread = say("it is not a CT series but {kind} ({name})", kind="MR", name="MR")
    problem = say("{reason}", reason=InputError(unread, do="Choose a CT series."))
    row = SeriesFound("1.2", "MR", "Planning", "A^B", "7", "20260102", 40, problem, over_problem=problem)
    answer("FindSeries", lambda request, report: SeriesList(request.folder, (row,)))
    window.open_path(tmp_path)
    panel = window.shelf.get("intake").series
    qtbot.waitUntil(lambda: panel.model.rowCount() == 1, timeout=LONG_MS)
    panel.table.selectRow(0)
    found = bare(window, "MR", "Planning", *POSITIONS, str(tmp_path), tmp_path.name)
    assert panel.why.text() == "⟦it is not a CT series but MR (MR)⟧. ⟦Choose a CT series.⟧"
    assert not found, "\n".join(sorted(found))


def test_a_finding_is_shown_in_the_persons_language_and_keeps_its_own(window, qtbot, answer, stub, tmp_path):
    answer("Radiograph", stub_radiograph)
    with qtbot.waitSignal(window.keeper.opened, timeout=LONG_MS):
        window.open_path(kept(tmp_path / "case.halfshade"))
    reviewer = Reviewer(window, qtbot)
    reviewer.enter()
    findings = reviewer.station.maker.review.findings
    missed = next(f for f in findings if f.code == "goal-missed")
    assert "demanded ≤ 45" in missed.evidence
    shown = {text for w in reviewer.station.findings.findChildren(QWidget) for _, text in shown_texts(w)}
    assert any(text.startswith("⟦⟦SpinalCord Mean[Gy]: demanded ≤ 45⟧, reached ") for text in shown), shown
    assert "⟦Every goal is met, or its miss is answered.⟧" in shown


def test_an_error_of_the_engine_is_shown_in_the_persons_language(window):
    error = InputError(
        say("there is no machine {name_or_path!r}", name_or_path="X"), say("beam {name}", name="AP"), "Add it."
    )
    window.context.messages.failure(error)
    strip = window.findChild(QWidget, "message")
    assert strip.text() == "⟦beam AP⟧: ⟦there is no machine 'X'⟧. ⟦Add it.⟧"
