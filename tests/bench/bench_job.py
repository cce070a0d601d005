"""Start of the window, opening a CT, the dose of one beam; run as `python -m tests.bench.bench_job`.

Budgets are for a two-core machine at rest with warm file and compile caches. The last row is a ratio measured in this
run: the dose of one beam against one pass of a 3x3x3 running mean over the same grid, which any machine does at its own
speed.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from scipy.ndimage import uniform_filter

from engine.base.values import own_array
from engine.beams.beam import Aperture, Beam
from engine.beams.machine_file import load_machine
from engine.case.case import Patient
from engine.dicom.ct_files import write_ct
from engine.dicom.read_ct import OpenSeries, open_series
from engine.dose.calculate import calculate
from engine.dose.request import DoseRequest
from engine.image.ct import CtImage
from engine.image.density import Density
from engine.space.grid import Grid

BUDGET_S = {
    "start to a usable window": 2.0,
    "open 200 slices": 4.0,
    "fine dose of one 100 x 100 mm beam": 0.5,
}
BOX = Grid((-174.0, -124.0, -164.0), (2.5, 2.5, 2.5), (132, 100, 140))

START = """
import sys, time
from PySide6.QtWidgets import QApplication
from app import theme
from app.core.settings import Settings
from app.window import Window
app = QApplication(sys.argv[:1])
settings = Settings()
theme.apply(app, settings.get("theme"))
window = Window(settings)
window.show()
for _ in range(5):
    app.processEvents()
"""


def best(function: Callable[[], object], times: int = 5) -> float:
    """Return the median of several runs in seconds, the first not counted."""
    function()
    spans = []
    for _ in range(times):
        begin = time.perf_counter()
        function()
        spans.append(time.perf_counter() - begin)
    return float(np.median(spans))


def time_start() -> float:
    """Seconds from starting the interpreter to a window that has handled its first events, and left again."""
    return best(lambda: subprocess.run([sys.executable, "-c", START], check=True), 3)


def time_open(folder: Path) -> float:
    """Seconds to open 200 slices of 512 x 512."""
    grid = Grid((-249.5, -249.5, -300.0), (0.9766, 0.9766, 3.0), (200, 512, 512))
    hu = np.random.default_rng(1).integers(-1000, 1000, grid.shape, dtype=np.int16)
    write_ct(CtImage(own_array(hu), grid), Patient("Bench", "B", synthetic=True), folder)
    return best(lambda: open_series(OpenSeries(str(folder))), 3)


def time_dose() -> tuple[float, float]:
    """Seconds for one beam in water at 2.5 mm, and for the yardstick."""
    density = Density(own_array(np.ones(BOX.shape, dtype=np.float32)), BOX)
    beam = Beam("", "", "generic-6", (0, 0, 0), 0, 0, 0, Aperture((-50, 50), (-50, 50)))
    request = DoseRequest(density, beam, load_machine("generic-6"), BOX)
    noise = np.random.default_rng(1).random(BOX.shape, dtype=np.float32)
    return best(lambda: calculate(request)), best(lambda: uniform_filter(noise, 3))


def main() -> int:
    """Print the table; returns 1 when a budget is missed."""
    with tempfile.TemporaryDirectory() as folder:
        dose_s, yard_s = time_dose()
        found = {
            "start to a usable window": time_start(),
            "open 200 slices": time_open(Path(folder)),
            "fine dose of one 100 x 100 mm beam": dose_s,
        }
    for name, seconds in found.items():
        print(f"{name:40} {seconds:7.3f} s   budget {BUDGET_S[name]:g} s")
    print(f"{'dose against a running mean':40} {dose_s / yard_s:7.1f} times")
    return int(any(found[n] > BUDGET_S[n] for n in found))


if __name__ == "__main__":
    sys.exit(main())
