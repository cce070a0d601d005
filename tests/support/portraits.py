"""Pictures of the program for README, made by itself: `python -m tests.support.portraits CASE.halfshade FOLDER`.

Needs a case with a dose (for instance that of `halfshade demo`). Run it under a real or virtual screen, or offscreen.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from PySide6.QtCore import QDeadlineTimer, QSettings
from PySide6.QtWidgets import QApplication

from app import theme
from app.core.settings import Settings
from app.window import Window


def wait(app: QApplication, until: object, seconds: float = 120) -> None:
    """Let events pass until `until()` holds."""
    deadline = QDeadlineTimer(int(1000 * seconds))
    while not until() and not deadline.hasExpired():  # type: ignore[operator]
        app.processEvents()


def main(case: str, folder: str, size: tuple[int, int] = (1440, 900), look: str = "dark") -> None:
    """Open a copy of the case, walk through the stations and save a picture of each."""
    app = QApplication(sys.argv[:1])
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(scratch) / "demonstration.halfshade"
        shutil.copy(case, copy)
        settings = Settings(QSettings(str(Path(scratch) / "s.ini"), QSettings.Format.IniFormat))
        theme.apply(app, look)
        window = Window(settings)
        window.resize(*size)
        window.show()
        window.open_path(copy)
        wait(app, lambda: window.context.workspace.case is not None)
        window.make_all()  # as the program does once it is at rest, so that the rail says how each station stands
        draft = window.context.workspace.draft
        if draft is not None and draft.beams:
            window.context.workspace.set_cursor(draft.beams[0].isocentre_mm)
        for name in ("intake", "outline", "aim", "weigh", "sign"):
            window.go(name)
            calm = QDeadlineTimer(4000)
            wait(app, lambda c=calm: c.hasExpired() and not window.context.jobs.busy())
            if name == "sign":
                wait(app, lambda: window.station.sheet.currentIndex() == 1)  # type: ignore[union-attr]
            calm = QDeadlineTimer(1500)
            wait(app, lambda c=calm: c.hasExpired())
            window.grab().save(str(Path(folder) / f"{name}.png"))
        window.close()


if __name__ == "__main__":
    main(*sys.argv[1:3], *([tuple(int(n) for n in sys.argv[3].split("x"))] if len(sys.argv) > 3 else []), *sys.argv[4:5])
