"""Starting the window: the application object, the theme, and plain words when Qt cannot start."""

from __future__ import annotations

import ctypes.util
import os
import sys
from pathlib import Path

from app.core.libraries import SYSTEM_LIBRARIES, words_for


def obstacle(environment: dict[str, str] | None = None, platform: str = sys.platform) -> str:
    """Return why Qt could not open a window here, in one sentence with what to do, or ""."""
    env = dict(os.environ if environment is None else environment)
    chosen = env.get("QT_QPA_PLATFORM", "")
    if not platform.startswith("linux") or chosen.split(":")[0] in ("offscreen", "minimal", "vnc", "linuxfb"):
        return ""
    if not env.get("DISPLAY") and not env.get("WAYLAND_DISPLAY"):
        return (
            "There is no screen to open a window on (neither DISPLAY nor WAYLAND_DISPLAY is set). "
            "Start from a desktop session, or use a subcommand: halfshade --help."
        )
    missing = [package for name, package in SYSTEM_LIBRARIES.items() if ctypes.util.find_library(name) is None]
    if missing:
        return f"Qt needs system libraries that are missing. On Debian or Ubuntu: sudo apt install {' '.join(missing)}"
    return ""


def start(path: str | None = None) -> int:
    """Open the window on a case file or folder, or on nothing, and return the exit code."""
    why = obstacle()
    if why:
        print(why, file=sys.stderr)
        return 2
    try:
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QApplication
    except ImportError as error:
        print(f"halfshade: {words_for(error)}", file=sys.stderr)
        return 2
    from app import theme
    from app.core import log
    from app.core.settings import Settings
    from app.core.warm import Warmer
    from app.window import Window

    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("Halfshade")
    app.setApplicationDisplayName("Halfshade")
    app.setDesktopFileName("halfshade")
    log.start()
    settings = Settings()
    theme.apply(app, settings.get("theme"))
    window = Window(settings)
    log.uncaught_listeners.append(window.context.messages.failure)
    window.show()
    if path:
        QTimer.singleShot(0, lambda: window.open_path(Path(path)))
    warmer = Warmer(window.shelf.modules(), window)
    warmer.kernels.connect(window.stage.refresh)
    warmer.done.connect(window.make_all)
    QTimer.singleShot(100, warmer.begin)
    code = int(app.exec())
    warmer.stop()
    return code
