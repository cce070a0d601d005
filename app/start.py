"""Starting the window: the application object, the theme, and plain words when Qt cannot start."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import assets
from app.core.language import install, translated
from app.core.libraries import SYSTEM_LIBRARIES, words_for
from engine.base.words import say

if TYPE_CHECKING:
    from app.window import Window

# What Qt's xcb plug-in is linked with and a bare system may lack (read from the plug-in), and its key in the table.
XCB_LIBRARIES = {
    "libxcb-cursor.so.0": "xcb-cursor",
    "libxcb-icccm.so.4": "xcb-icccm",
    "libxcb-image.so.0": "xcb-image",
    "libxcb-keysyms.so.1": "xcb-keysyms",
    "libxcb-render-util.so.0": "xcb-render-util",
    "libxcb-xkb.so.1": "xcb-xkb",
    "libxcb-shape.so.0": "xcb-shape",
    "libxkbcommon-x11.so.0": "xkbcommon-x11",
}


def loads(library: str) -> bool:
    """Whether the system can load a shared library."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def obstacle(environment: dict[str, str] | None = None, platform: str = sys.platform) -> str:
    """Return why Qt could not open a window here, in one sentence with what to do, or ""."""
    env = dict(os.environ if environment is None else environment)
    chosen = env.get("QT_QPA_PLATFORM", "")
    if not platform.startswith("linux") or chosen.split(":")[0] in ("offscreen", "minimal", "vnc", "linuxfb"):
        return ""
    if env.get("WAYLAND_DISPLAY") and chosen in ("", "wayland"):
        return ""
    if not env.get("DISPLAY"):
        return say(
            "There is no screen to open a window on (neither DISPLAY nor WAYLAND_DISPLAY is set). "
            "Start from a desktop session, or use a subcommand: halfshade --help."
        )
    # Qt ends the process when its plug-in cannot be loaded: this has to be known before.
    missing = [SYSTEM_LIBRARIES[key] for library, key in XCB_LIBRARIES.items() if not loads(library)]
    if missing:
        return say(
            "Qt's window plug-in needs system libraries that are missing: {number} of them. "
            "On Debian or Ubuntu: sudo apt install {missing}",
            number=len(missing),
            missing=" ".join(missing),
        )
    return ""


def show_again(window: Window) -> None:
    """Show what was left out while its kernels were made ready."""
    from PySide6.QtWidgets import QWidget

    window.stage.refresh()
    for widget in window.findChildren(QWidget):
        widget.update()
    window.context.workspace.results_changed.emit()


def start(path: str | None = None) -> int:
    """Open the window on a case file or folder, or on nothing, and return the exit code."""
    why = obstacle()
    if why:
        print(translated(why), file=sys.stderr)
        return 2
    try:
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QApplication
    except ImportError as error:
        print(f"halfshade: {translated(words_for(error))}", file=sys.stderr)
        return 2
    from app import theme
    from app.core import log
    from app.core.collector import Collector
    from app.core.settings import Settings
    from app.core.warm import Warmer
    from app.window import Window

    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("Halfshade")
    app.setApplicationDisplayName("Halfshade")
    app.setDesktopFileName("halfshade")
    install(assets.path("translations"))
    log.start()
    settings = Settings()
    theme.apply(app, settings.get("theme"))
    window = Window(settings)
    log.uncaught_listeners.append(window.context.messages.failure)
    window.show()
    if path:
        QTimer.singleShot(0, lambda: window.open_path(Path(path)))
    warmer = Warmer(window.shelf.modules(), window.context.messages, window)
    warmer.loaded.connect(lambda _: show_again(window))
    warmer.done.connect(window.make_all)
    collector = Collector(app)
    collector.start()
    QTimer.singleShot(100, warmer.begin)
    code = int(app.exec())
    warmer.stop()
    collector.stop()
    return code
