"""How many movements of the hand a target costs: `python -m tests.support.hand_speed [thorax head pelvis]`.

The target of each demonstration patient that the image shows (true volume of the phantom) is drawn with the real tools
in the real window by mouse and key events. The eye is replaced by the true outline, the hand by one that trembles (0.6 mm,
slow, from a fixed seed). Counted are strokes, clicks and keys (a notch of the wheel is a key) from the first slice of the
target on; the Dice coefficient compares the result with the truth.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from engine.case import edits
from engine.case.case import Case, Patient
from engine.volumes.coverage import Coverage
from engine.volumes.outline import missing_planes, signed_area, slice_outlines_mm
from engine.volumes.volume import Volume

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
TARGETS = {"thorax": "GTV", "head": "GTV", "pelvis": "Prostate"}
TREMOR_MM, EVERY_MM = 0.6, 2.5
PATIENCE_S = 20.0


@dataclass
class Desk:
    """A window with an empty target, the truth, and a hand that counts."""

    window: Any
    truth: Coverage
    strokes: int = 0
    clicks: int = 0
    keys: int = 0
    rng: np.random.Generator = field(default_factory=lambda: np.random.default_rng(11))

    @property
    def view(self) -> Any:
        return self.window.stage.view_of("z")

    @property
    def painted(self) -> Coverage:
        coverage: Coverage = self.window.context.workspace.volume.coverage
        return coverage

    def at(self, point: Any) -> QPoint:
        place: QPoint = self.view.project(tuple(map(float, point))).toPoint()
        return place

    def key(self, key: Any, modifiers: Qt.KeyboardModifier = NONE, widget: Any = None) -> None:
        self.keys += 1
        QTest.keyClick(widget or self.view, key, modifiers)

    def click(self, point: Any) -> None:
        self.clicks += 1
        QTest.mouseClick(self.view, LEFT, NONE, self.at(point))

    def stroke(self, line: NDArray[np.float64]) -> None:
        """Draw along patient points (n, 3)."""
        self.strokes += 1
        QTest.mousePress(self.view, LEFT, NONE, self.at(line[0]))
        for p in line[1:]:
            QTest.mouseMove(self.view, self.at(p))
        QTest.mouseRelease(self.view, LEFT, NONE, self.at(line[-1]))

    def around(self) -> NDArray[np.float64] | None:
        """Return the true outline on the shown slice as a hand would follow it, or None."""
        loops = slice_outlines_mm(self.truth, self.view.index)
        if not loops:
            return None
        loop = max(loops, key=lambda points: abs(signed_area(points[:, :2])))
        steps = np.linalg.norm(np.diff(loop, axis=0, append=loop[:1]), axis=1)
        way = np.concatenate(((0.0,), np.cumsum(steps)))
        at = np.arange(0.0, way[-1], EVERY_MM)
        ring = np.vstack((loop, loop[:1]))
        line = np.stack([np.interp(at, way, ring[:, i]) for i in range(3)], axis=1)
        tremor = self.rng.normal(size=(len(line), 2))
        tremor = (tremor + np.roll(tremor, 1, 0) + np.roll(tremor, 2, 0)) / np.sqrt(3.0)
        line[:, :2] += TREMOR_MM * tremor
        return line

    def wait(self, until: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE_S
        while not until():
            if time.monotonic() > end:
                raise TimeoutError("the window did not answer")
            QTest.qWait(5)

    def dice(self) -> float:
        """Return twice the common share over the sum of both."""
        a, b = (c.dense().astype(np.float64) for c in (self.painted, self.truth))
        return float(2 * np.minimum(a, b).sum() / (a.sum() + b.sum()))

    def start(self) -> None:
        """Begin at the first slice of the target, magnified over it by four notches of the wheel."""
        first = self.truth.planes[0]
        x, y, _ = self.truth.centroid_mm() or (0.0, 0.0, 0.0)
        z = float(self.truth.grid.z_mm[first])
        self.window.context.workspace.set_cursor((x, y, z))
        for _ in range(4):
            self.keys += 1
            self.window.stage.zoom(self.view, 1.2, self.view.project((x, y, z)))


def every_slice(desk: Desk) -> None:
    """Freehand around it on every slice."""
    desk.key("h")
    for k in desk.truth.planes:
        line = desk.around()
        if line is not None:
            desk.stroke(line)
        if k != desk.truth.planes[-1]:
            desk.key(Qt.Key.Key_Up)


def every_third(desk: Desk) -> None:
    """Freehand on every third slice and the last, then fill the slices between."""
    desk.key("h")
    last = desk.truth.planes[-1]
    while True:
        line = desk.around()
        if line is not None:
            desk.stroke(line)
        left = last - desk.view.index
        if left <= 0:
            break
        if left >= 3:
            desk.key(".")
        else:
            for _ in range(left):
                desk.key(Qt.Key.Key_Up)
    desk.key(Qt.Key.Key_I, Qt.KeyboardModifier.ControlModifier, desk.window)
    form = desk.window.station.form
    desk.wait(lambda: form.apply.isEnabled() and desk.window.focusWidget() is form.apply)
    desk.key(Qt.Key.Key_Space, NONE, form.apply)
    desk.wait(lambda: not missing_planes(desk.painted))


def one_ball(desk: Desk) -> None:
    """One dab of a ball of about the right size (the wheel sets it, a notch a millimetre)."""
    radius = (3000 * desk.truth.volume_cm3 / (4 * np.pi)) ** (1 / 3)
    settings = desk.window.context.settings
    desk.key("b")
    desk.key("d")
    desk.keys += abs(round(radius) - 6)
    settings.set("brush/radius_mm", float(round(radius)))
    middle = desk.truth.centroid_mm()
    assert middle is not None
    desk.keys += 2
    desk.window.context.workspace.set_cursor(middle)
    desk.click(middle)
    settings.set("brush/ball", False)


def grown(desk: Desk) -> None:
    """One press of Region grow through all slices, kept with Enter."""
    settings = desk.window.context.settings
    settings.set("grow/tolerance_hu", 60.0)
    desk.key("w")
    desk.key("d")
    middle = desk.truth.centroid_mm()
    desk.keys += 2
    desk.window.context.workspace.set_cursor(middle)
    desk.click(middle)
    job = desk.window.station.tools["grow"].job
    desk.wait(lambda: job.made is not None or job.asked is None)
    desk.key(Qt.Key.Key_Return)
    settings.set("grow/all_slices", False)


WAYS: tuple[tuple[str, Callable[[Desk], None]], ...] = (
    ("freehand, every slice", every_slice),
    ("freehand, every third, filled", every_third),
    ("region grow, all slices", grown),
    ("one dab of a ball", one_ball),
)


def empty_case(image: Any, truth: Coverage, others: tuple[Volume, ...] = ()) -> Case:
    """Return a case with an empty target."""
    case = Case(Patient("Hand^Speed", synthetic=True), image)
    for v in (*others, Volume("target", "GTV", "GTV", (230, 90, 80), truth.but(tiles=()))):
        case = edits.with_volume(case, v)
    return case


def drawn(window: Any, case: Case, truth: Coverage, way: Callable[[Desk], None]) -> Desk:
    """Draw the target in one way and return the desk with its counts."""
    window.context.workspace.open(case)
    window.go("outline")
    window.context.workspace.activate(volume="target")
    QTest.qWait(0)
    desk = Desk(window, truth)
    desk.start()
    way(desk)
    return desk


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("patients", nargs="*", default=list(TARGETS))
    from app.core.settings import Settings
    from app.window import Window
    from engine.phantoms import make

    app = QApplication.instance() or QApplication([])
    print("| target | way | strokes | clicks | keys | Dice |\n| --- | --- | --- | --- | --- | --- |")
    with tempfile.TemporaryDirectory() as folder:
        window = Window(Settings(QSettings(f"{folder}/s.ini", QSettings.Format.IniFormat)))
        window.resize(1280, 800)
        window.show()
        for name in parser.parse_args().patients:
            phantom = make(name)
            truth = phantom.volume(TARGETS[name]).coverage
            body = tuple(v for v in phantom.volumes if v.role == "EXTERNAL")
            case = empty_case(phantom.image, truth, body)
            what = f"{name}, {truth.volume_cm3:.0f} cm³ on {len(truth.planes)} slices"
            for words, way in WAYS:
                desk = drawn(window, case, truth, way)
                print(
                    f"| {what} | {words} | {desk.strokes} | {desk.clicks} | {desk.keys} | {desk.dice():.3f} |", flush=True
                )
        window.close()
    assert app is not None


if __name__ == "__main__":
    main()
