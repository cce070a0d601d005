"""How long the beam's-eye view takes from a turn of the gantry to the picture. Run: python -m tests.bench.bench_eye

From the edit until the paint event has ended, with a radiograph of 256 x 256 and the outlines of six volumes of a
synthetic chest of 512 x 512 x 90. Nothing but this process must run.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

FRAME_MS = 33.0


def main() -> int:
    """Return 0 if the typical turn is shown within FRAME_MS."""
    app = QApplication.instance() or QApplication([])
    from app.core.settings import Settings
    from app.window import Window
    from engine.image.quick_view import CoarseRequest, coarse_box
    from tests.bench.bench_stage import chest

    with tempfile.TemporaryDirectory() as folder:
        window = Window(Settings(QSettings(f"{folder}/s.ini", QSettings.Format.IniFormat)))
        window.resize(1280, 800)
        window.show()
        case = chest()
        window.context.workspace.open(case)
        window.go("aim")
        desk, view = window.station.desk, window.station.view
        key = desk.beams.add(0.0)
        desk.follower.set_active(False)
        window.context.jobs.cancel()
        view.resize(440, 440)
        desk.pictures._box = coarse_box(CoarseRequest(case.image))
        taken, busy, sums = [], [], []
        for n in range(60):
            start, worked = time.perf_counter(), time.thread_time()
            desk.beams.set_gantry(key, 3.0 * n, "gantry")
            view.repaint()
            taken.append(1e3 * (time.perf_counter() - start))
            busy.append(1e3 * (time.thread_time() - worked))
            app.processEvents()
        from engine.image.quick_view import quick_paths

        for _ in range(20):
            request = desk.pictures._request(window.context.workspace.case, window.context.workspace.beam)
            start = time.perf_counter()
            quick_paths(desk.pictures._box, request.beam, request.sad_mm, 400.0, 256)
            sums.append(1e3 * (time.perf_counter() - start))
        window.close()
    typical, slow = statistics.median(taken[5:]), sorted(taken[5:])[int(0.9 * len(taken[5:]))]
    print(f"sum of 256 x 256 rays: {statistics.median(sums):.1f} ms")
    print(f"gantry to picture: {typical:.1f} ms (budget {FRAME_MS:.0f} ms), nine of ten within {slow:.1f} ms")
    print(f"processor time of the screen thread: {statistics.median(busy[5:]):.1f} ms")
    return int(typical > FRAME_MS)


if __name__ == "__main__":
    sys.exit(main())
