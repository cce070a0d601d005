"""The window: stations, messages, jobs, what is remembered, keyboard, starting."""

from __future__ import annotations

import threading

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication

from app import start, theme
from app.core.messages import Messages
from app.core.settings import Settings
from app.core.tokens import DARK, LIGHT, tokens, use
from app.window import Window
from engine import compute
from engine.base.errors import Cancelled, UserError
from tests.support.cases import small_case

pytestmark = pytest.mark.gui


@pytest.fixture(autouse=True)
def plain_style(qapp):
    """Leave no theme behind for other tests."""
    yield
    qapp.setStyleSheet("")
    use("dark")


def test_every_station_can_be_entered_with_and_without_a_case(bare_window):
    names = [n for n, _ in bare_window.shelf.names()]
    assert names[:2] == ["intake", "outline"]
    for name in names:
        bare_window.go(name)
        assert bare_window.station.name == name
    bare_window.context.workspace.open(small_case())
    for i, name in enumerate(names):
        QTest.keyClick(bare_window, str(i + 1), Qt.KeyboardModifier.ControlModifier)
        assert bare_window.station.name == name


def test_the_rail_tells_the_state(window):
    window._show_states()
    states = {b.name: b.state for b in window.rail.buttons}
    assert states["intake"] == "19 slices"
    assert states["outline"].startswith("3 volumes")


def test_a_long_job_shows_progress_and_can_be_cancelled(window, qtbot, answer):
    begun, ended = threading.Event(), threading.Event()

    def slow(request, report):
        begun.set()
        try:
            while True:
                report(0.3, "thinking")
                ended.wait(0.002)
        except Cancelled:
            ended.set()
            raise

    answer("MakeDemonstration", slow)
    window.context.jobs.submit("demonstration", [compute.request("MakeDemonstration", name="head")])
    qtbot.waitUntil(window.strip.cancel.isVisible)
    assert begun.is_set()
    assert window.strip.what.text() == "Thinking"
    window.strip.cancel.click()
    assert window.strip.what.text() == "Stopping\u2026"
    assert not window.strip.cancel.isEnabled()
    qtbot.waitUntil(lambda: not window.strip.cancel.isVisible())
    assert ended.is_set()
    assert window.strip.cancel.isEnabled()


def test_a_refusal_is_shown_in_its_words_and_a_fault_as_a_fault(window, caplog):
    window.context.messages.failure(UserError("slice 3 is missing", "series 7", "Copy it again."))
    assert window.strip.text.text() == "series 7: slice 3 is missing. Copy it again."
    assert window.strip.level.text() == "Problem"
    window.context.messages.failure(ZeroDivisionError("x"))
    assert "made a mistake" in window.strip.text.text()
    window.strip.dismiss.click()
    assert window.strip.text.text() == ""


def test_a_message_may_carry_a_button(qapp, window):
    done = []
    window.context.messages.info("Nothing here yet", "Make it", lambda: done.append(1))
    window.strip.button.click()
    assert done == [1]


def test_messages_of_an_unknown_level_count_as_information(qapp):
    messages = Messages()
    messages.post("odd", "words")
    assert messages.kept[0].level == "info"


def test_themes_change_and_are_remembered(window):
    window.set_theme("light")
    assert tokens() is LIGHT
    assert window.context.settings.get("theme") == "light"
    window.set_theme("dark")
    assert tokens() is DARK


def test_the_style_sheet_holds_no_gap(qapp):
    for name in ("dark", "light"):
        theme.apply(QApplication.instance(), name)
        assert "{" in QApplication.instance().styleSheet()
    theme.apply(QApplication.instance(), "dark")


def contrast(a, b):
    def luminance(text):
        parts = [int(text[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("t", [DARK, LIGHT], ids=lambda t: t.name)
def test_words_stand_out_from_every_ground_they_lie_on(t):
    """4.5 to 1, as WCAG 2.1, 1.4.3 asks for text of this size."""
    for ground in (t.ground, t.panel, t.raised, t.selected):
        assert contrast(t.text, ground) >= 4.5
    for words in (t.quiet, t.warn, t.bad, t.good):
        assert contrast(words, t.panel) >= 4.5
        assert contrast(words, t.ground) >= 4.5
    assert contrast(t.on_accent, t.accent) >= 4.5
    assert contrast(t.stage_quiet, t.stage_ground) >= 4.5


def test_f6_goes_through_the_parts_of_the_window(window):
    window.activateWindow()
    window.rail.buttons[1].setFocus()
    seen = []
    for _ in range(4):
        QTest.keyClick(window, Qt.Key.Key_F6)
        focus = window.focusWidget()
        seen.append("stage" if window.stage.isAncestorOf(focus) else "rail" if window.rail.isAncestorOf(focus) else "panel")
    assert set(seen) == {"stage", "rail", "panel"}


def test_every_button_has_a_word(window):
    for name, _ in window.shelf.names()[:2]:
        window.go(name)
        for button in window.findChildren(QAbstractButton):
            if button.isVisible() and button.metaObject().className() not in ("QTableCornerButton", "QToolButton"):
                assert button.text(), button


def test_sizes_and_settings_are_remembered(qtbot, settings, tmp_path):
    window = Window(settings)
    window.resize(1200, 760)
    window.show()
    window.context.workspace.open(small_case())
    window.go("outline")
    window.frame.across.setSizes([0, 700, 470])
    wide = window.frame.right.width()
    window.stage.set_levels(-600, 1500)
    window.close()
    window.deleteLater()
    again = Window(Settings(QSettings(settings._store.fileName(), QSettings.Format.IniFormat)))
    again.resize(1200, 760)  # the offscreen screen is too small for the remembered window
    again.show()
    again.context.workspace.open(small_case())
    again.go("outline")
    assert again.frame.right.width() == pytest.approx(wide, abs=4)
    assert again.stage.levels == (-600, 1500)
    again.close()
    again.deleteLater()


def test_a_list_that_was_asked_for_is_ones_own(settings):
    settings.set("stage/looks", ["30|1.5|ptv"])
    settings.get("stage/looks").append("no look")
    assert settings.get("stage/looks") == ["30|1.5|ptv"]


def test_an_undeclared_setting_is_a_mistake(settings):
    with pytest.raises(KeyError):
        settings.set("no/such", 1)
    settings._store.setValue("brush/radius_mm", "nonsense")
    assert settings.get("brush/radius_mm") == 6.0


def test_pages_of_help_open_and_carry_the_caution(window):
    for show in (window.show_keys, window.show_log, window.show_fault, window.show_about):
        show()
    dialogs = [w for w in QApplication.topLevelWidgets() if w.parent() is window and w.isVisible() and w.isWindow()]
    assert len(dialogs) == 4
    for dialog in dialogs:
        assert "ot a medical device" in dialog.findChild(object, "caution").text()
        dialog.close()


def test_a_case_opens_where_it_was_left(qtbot, settings, tmp_path, monkeypatch):
    import app.core.keeper as keeper

    monkeypatch.setattr(keeper, "default_folder", lambda: tmp_path / "cases")
    window = Window(settings)
    window.show()
    window.open_case(small_case())
    qtbot.waitUntil(lambda: window.context.workspace.case is not None)
    path = window.keeper.path
    window.context.workspace.set_cursor((12.0, -9.0, 20.0))
    window.context.workspace.activate(volume="cord")
    window.close()
    window.deleteLater()
    again = Window(settings)
    again.show()
    again.open_path(path)
    qtbot.waitUntil(lambda: again.context.workspace.case is not None)
    qtbot.waitUntil(lambda: again.context.workspace.cursor_mm == (12.0, -9.0, 20.0))
    assert again.context.workspace.volume.key == "cord"
    assert again.station.name == "outline"
    again.close()
    again.deleteLater()


def test_a_file_that_is_not_there_is_said(window, qtbot, tmp_path):
    window.open_path(tmp_path / "none.halfshade")
    qtbot.waitUntil(lambda: "none.halfshade" in window.strip.text.text())
    assert window.strip.level.text() == "Problem"


def test_what_hinders_the_start_is_said_with_the_packages(monkeypatch):
    assert "DISPLAY" in start.obstacle({}, "linux")
    assert start.obstacle({"QT_QPA_PLATFORM": "offscreen"}, "linux") == ""
    assert start.obstacle({}, "darwin") == ""
    assert start.obstacle({"WAYLAND_DISPLAY": "wayland-0"}, "linux") == ""
    monkeypatch.setattr(start, "loads", lambda library: library != "libxcb-cursor.so.0")
    assert start.obstacle({"DISPLAY": ":0"}, "linux").endswith("sudo apt install libxcb-cursor0")
    monkeypatch.setattr(start, "loads", lambda library: True)
    assert start.obstacle({"DISPLAY": ":0"}, "linux") == ""


def test_without_a_patient_every_station_says_what_it_is_for_and_leads_to_intake(bare_window):
    for name in ("outline", "aim", "weigh"):
        bare_window.go(name)
        page = bare_window.frame.middle.currentWidget()
        assert page is bare_window.frame.empty
        assert page.title.text() == bare_window.station.title
        assert page.words.text().startswith("Here ")
        assert not bare_window.frame.right.isVisible()
        QTest.mouseClick(page.way, Qt.MouseButton.LeftButton)
        assert bare_window.station.name == "intake"
    bare_window.go("aim")
    bare_window.context.workspace.open(small_case())
    assert bare_window.frame.middle.currentWidget() is bare_window.stage
    bare_window.context.workspace.open(None)
    assert bare_window.frame.middle.currentWidget() is bare_window.frame.empty
