"""The menus: every action in words, with its shortcut."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QUndoStack
from PySide6.QtWidgets import QMenu

from app.views.grey import PRESETS

STEPS_SHOWN = 20


def _tr(text: str) -> str:
    return QCoreApplication.translate("Menu", text)


def add(menu: QMenu, words: str, do: Callable[[], Any], shortcut: str = "", checkable: bool = False) -> QAction:
    """Add an action to a menu."""
    action = QAction(words, menu)
    if shortcut:
        action.setShortcut(QKeySequence(shortcut))
    action.setCheckable(checkable)
    action.triggered.connect(lambda checked=False: do())
    menu.addAction(action)
    return action


def fill_menus(window: Any) -> None:
    """Make the menu bar of a Window."""
    bar = window.menuBar()
    _file(window, bar.addMenu(_tr("&File")))
    _edit(window, bar.addMenu(_tr("&Edit")))
    _view(window, bar.addMenu(_tr("&View")))
    _go(window, bar.addMenu(_tr("&Go")))
    window.station_menu = bar.addMenu(_tr("&Station"))
    _help(window, bar.addMenu(_tr("&Help")))


def _file(window: Any, menu: QMenu) -> None:
    add(menu, _tr("Open a &folder of images\u2026"), window.ask_for_folder, "Ctrl+Shift+O")
    add(menu, _tr("&Open a case\u2026"), window.ask_for_case, "Ctrl+O")
    recent = menu.addMenu(_tr("&Recent cases"))

    def fill() -> None:
        recent.clear()
        paths: list[Path] = window.context.settings.recent()
        for path in paths:
            add(recent, path.stem, lambda p=path: window.open_path(p)).setToolTip(str(path))
        if not paths:
            recent.addAction(_tr("No case has been opened yet")).setEnabled(False)

    recent.aboutToShow.connect(fill)
    menu.addSeparator()
    add(menu, _tr("Read &volumes from a structure set\u2026"), window.ask_for_structures)
    add(menu, _tr("La&y a second image over the CT\u2026"), window.ask_for_second)
    add(menu, _tr("&Export RT DICOM\u2026"), window.ask_for_export, "Ctrl+E")
    window.copy_action = add(menu, _tr("Save a &copy\u2026"), window.ask_for_copy, "Ctrl+Shift+S")
    window.close_action = add(menu, _tr("C&lose the case"), window.close_case, "Ctrl+W")
    menu.addSeparator()
    add(menu, _tr("&Quit"), window.close, "Ctrl+Q")


def _edit(window: Any, menu: QMenu) -> None:
    stack = window.context.workspace.undo_stack
    undo = stack.createUndoAction(window, _tr("&Undo"))
    undo.setShortcut(QKeySequence("Ctrl+Z"))
    redo = stack.createRedoAction(window, _tr("&Redo"))
    redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
    menu.addActions([undo, redo])
    menu.addSeparator()
    steps = menu.addMenu(_tr("&Go back to"))
    steps.aboutToShow.connect(lambda: _steps(steps, stack))
    menu.aboutToShow.connect(lambda: steps.menuAction().setEnabled(stack.count() > 0))


def _steps(menu: QMenu, stack: QUndoStack) -> None:
    """List the last steps, newest first, with a mark at the present one; choosing one goes there, forwards too."""
    menu.clear()
    present = stack.index()
    last = min(stack.count(), present + STEPS_SHOWN // 2)
    first = max(0, last - STEPS_SHOWN)
    for i in range(last, first, -1):
        words = stack.text(i - 1).replace("&", "&&")
        action = add(menu, words, lambda n=i: stack.setIndex(n), checkable=True)
        action.setChecked(i == present)
    words = _tr("As it was opened") if first == 0 else _tr("{0} steps further back").format(first)
    action = add(menu, words, lambda: stack.setIndex(first), checkable=True)
    action.setChecked(first == present)


def _view(window: Any, menu: QMenu) -> None:
    stage, settings = window.context.stage, window.context.settings
    levels = menu.addMenu(_tr("CT &window"))
    for i, preset in enumerate(PRESETS):
        words = QCoreApplication.translate("Preset", preset.name)
        text = _tr("{} (level {:g}, width {:g})").format(words, preset.level, preset.width)
        add(levels, f"{text}\t{i + 1}", lambda p=preset: stage.set_levels(p.level, p.width))
    add(menu, _tr("&Fit the pictures") + "\tF", stage.fit)
    add(menu, _tr("&Trade the large picture") + "\tTab", stage.swap)
    menu.addSeparator()
    for words, key in (
        (_tr("&Magnify all planes together"), "stage/link_zoom"),
        (_tr("Fi&ll the volumes"), "stage/fill"),
        (_tr("Show the &cross-hair"), "stage/crosshair"),
    ):
        action = add(menu, words, lambda: None, checkable=True)
        action.setChecked(settings.get(key))
        action.toggled.connect(lambda on, k=key: settings.set(k, on))
    menu.addSeparator()
    group = QActionGroup(menu)
    for words, name in ((_tr("&Dark"), "dark"), (_tr("L&ight, for bright rooms"), "light")):
        action = add(menu, words, lambda n=name: window.set_theme(n), checkable=True)
        action.setChecked(settings.get("theme") == name)
        group.addAction(action)
    menu.addSeparator()
    add(menu, _tr("&Next part of the window"), window.next_part, "F6")
    add(menu, _tr("F&ull screen"), window.toggle_full_screen, "F11")


def _go(window: Any, menu: QMenu) -> None:
    for i, (name, title) in enumerate(window.shelf.names()):
        add(menu, title, lambda n=name: window.go(n), f"Ctrl+{i + 1}")
    menu.addSeparator()
    walk = window.context.stage.walk
    add(menu, _tr("One slice towards the &head") + "\tUp", lambda: walk("z", 1))
    add(menu, _tr("One slice towards the &feet") + "\tDown", lambda: walk("z", -1))


def _help(window: Any, menu: QMenu) -> None:
    add(menu, _tr("&Keys and gestures"), window.show_keys, "F1")
    add(menu, _tr("&Messages so far"), window.show_log)
    add(menu, _tr("&Report a fault\u2026"), window.show_fault)
    add(menu, _tr("&About Halfshade"), window.show_about)
