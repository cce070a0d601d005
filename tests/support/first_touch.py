"""The first touch of everything, by a hand in the real window: which kernels it meets that nobody has made ready.

`python -m tests.support.first_touch` rehearses as the program does, then draws with every tool, works on volumes, weighs,
aims, and prints each kernel that was called for a kind of arrays the rehearsal does not know. `every_touch` yields the
touches one by one, for who wants to time them.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QPoint, QPointF, QSettings, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QWidget

import engine  # noqa: F401  (its thread settings must come before numpy)

LEFT, NONE, SHIFT = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
PATIENCE_S = 300.0
STROKES = (
    ("freehand", "z", False, NONE),
    ("freehand", "z", False, SHIFT),
    ("freehand", "x", False, NONE),
    ("brush", "z", False, NONE),
    ("brush", "y", False, NONE),
    ("eraser", "x", False, NONE),
    ("brush", "z", True, NONE),
    ("eraser", "y", True, NONE),
    ("range", "z", False, NONE),
    ("range", "x", True, NONE),
    ("nudge", "z", False, NONE),
    ("nudge", "x", False, NONE),
    ("grow", "z", False, NONE),
)
Touch = tuple[str, Callable[[], object]]


def signatures() -> set[tuple[str, str]]:
    """Return (kernel, kinds of arguments) of all that is ready in this process."""
    from numba.core.dispatcher import Dispatcher

    return {
        (f"{name}.{kernel.py_func.__name__}", str(kinds))
        for name, module in list(sys.modules.items())
        if module is not None and name.startswith("engine.")
        for kernel in list(vars(module).values())
        if isinstance(kernel, Dispatcher) and kernel.py_func.__module__ == name
        for kinds in kernel.signatures
    }


class Hand:
    """A hand in an open window."""

    def __init__(self, window: Any) -> None:
        self.window, self.stage = window, window.stage
        self.workspace, self.jobs, self.settings = window.context.workspace, window.context.jobs, window.context.settings
        self.app = QApplication.instance()

    def wait(self, until: Callable[[], bool]) -> None:
        """Let the window work until something holds."""
        end = time.monotonic() + PATIENCE_S
        while not until():
            if time.monotonic() > end:
                raise TimeoutError("the window did not answer")
            QTest.qWait(1)

    def rest(self) -> None:
        """Let what was asked for come to its end."""
        self.app.processEvents()  # type: ignore[union-attr]
        self.wait(lambda: not self.jobs.busy())
        self.app.processEvents()  # type: ignore[union-attr]

    def stroke(self, tool: str, axis: str, ball: bool, keys: Qt.KeyboardModifier) -> None:
        """Draw a round stroke about the cross-hair."""
        self.settings.set("brush/ball", ball)
        self.window.station.take(tool)
        view = self.stage.view_of(axis)
        centre, reach = view.project(self.workspace.cursor_mm), 0.1 * view.width()
        way = [(centre + QPointF(reach * x, reach * y)).toPoint() for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1), (1, 0.2))]
        QTest.mousePress(view, LEFT, keys, way[0])
        for at in way[1:]:
            QTest.mouseMove(view, at)
        QTest.mouseRelease(view, LEFT, keys, way[-1])

    def clicks(self, tool: str, axis: str) -> None:
        """Click a shape of three corners and close it."""
        self.window.station.take(tool)
        view = self.stage.view_of(axis)
        centre = view.project(self.workspace.cursor_mm)
        for x, y in ((0.0, 0.0), (0.1, 0.0), (0.0, 0.1)):
            at = (centre + QPointF(x * view.width(), y * view.width())).toPoint()
            QTest.mouseMove(view, at)
            QTest.mouseClick(view, LEFT, NONE, at)
        QTest.keyClick(view, Qt.Key.Key_Return)

    def operation(self, name: str) -> None:
        """Have an operation shown and apply it if it can be."""
        station = self.window.station
        station.tabs.setCurrentWidget(station.form)
        station.form.choose(name)
        if station.form.other.isVisibleTo(station.form) and not station.form.other.currentData():
            station.form.other.setCurrentIndex(station.form.other.count() - 1)
        station.operations._wait.stop()
        station.operations._ask()
        self.rest()
        station.form.apply.click()

    def press(self, page: QWidget, words: str) -> None:
        """Click a button of a page by its words."""
        QTest.mouseClick(next(b for b in page.findChildren(QPushButton) if b.text() == words), LEFT)

    def weigh(self) -> None:
        """Draw a spoke of the ring outwards."""
        view, ring, beam = self.stage.view_of("z"), self.window.station.stage.ring, self.workspace.draft.beams[0]
        start, (x, y) = ring.spoke_end(view, beam.key), ring.ring(view).direction(beam.gantry_deg)
        kinds = QEvent.Type.MouseButtonPress, QEvent.Type.MouseMove, QEvent.Type.MouseButtonRelease
        for kind, far in zip(kinds, (0.0, 15.0, 15.0), strict=True):
            at = start + QPointF(far * x, far * y)
            button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else LEFT
            held = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseButtonRelease else LEFT
            event = QMouseEvent(kind, at, view.mapToGlobal(at), button, held, Qt.KeyboardModifier.ControlModifier)
            QApplication.sendEvent(view, event)


def every_touch(hand: Hand) -> Iterator[Touch]:
    """Yield what a hand does in its first minutes, station by station; each must be done before the next is asked for."""
    yield from _outline(hand)
    yield from _plan(hand)


def _outline(hand: Hand) -> Iterator[Touch]:
    from app.panels.operation_list import groups
    from engine.case.second_images import with_second_image
    from tests.support.second import ramp

    window, w = hand.window, hand.workspace
    target = next(v for v in w.case.volumes if v.is_target)
    yield "outline", lambda: window.go("outline")
    w.activate(volume=target.key)
    w.set_cursor(target.coverage.centroid_mm())
    station, stack = window.station, w.undo_stack
    for stroke in STROKES:
        yield " ".join(map(str, stroke[:3])), lambda s=stroke: hand.stroke(*s)  # type: ignore[misc]
        yield "undo", stack.undo
    hand.settings.set("grow/all_slices", True)
    yield "grow, all slices", lambda: hand.stroke("grow", "z", False, NONE)
    for tool, axis in (("polygon", "z"), ("trace", "z"), ("trace", "x")):
        yield f"{tool} {axis}", lambda t=tool, a=axis: hand.clicks(t, a)  # type: ignore[misc]
        yield "undo", stack.undo
    station.guard.set(on=True, key=w.case.body.key)
    yield "guarded brush", lambda: hand.stroke("brush", "z", False, NONE)
    yield "undo", stack.undo
    station.guard.set(on=False)
    for axis in "zxy":
        yield f"slice {axis}", lambda a=axis: hand.stage.walk(a, 2)  # type: ignore[misc]
    for operation in (o for _, members in groups() for o in members):
        before = stack.index()
        yield operation.name, lambda o=operation: hand.operation(o.name)  # type: ignore[misc]
        if stack.index() > before:
            yield "undo", stack.undo
        w.activate(volume=target.key)
    yield "checks", station.checks._ask
    yield "findings", lambda: station.tabs.setCurrentWidget(station.findings)
    yield "compare", lambda: station.tabs.setCurrentWidget(station.comparison)
    yield "second image", lambda: w.edit("second", with_second_image(w.case, ramp()))
    yield "window of it", lambda: window.second.set_window(900, 1200)
    yield "no second image", stack.undo


def _plan(hand: Hand) -> Iterator[Touch]:
    from app.core.plan_desk import PlanDesk

    window, w = hand.window, hand.workspace
    yield "weigh", lambda: window.go("weigh")
    desk, station = PlanDesk.of(w, hand.jobs), window.station
    hand.wait(lambda: desk.follower.state == "current")
    w.set_cursor(w.draft.beams[0].isocentre_mm)
    hand.rest()
    yield "weight", hand.weigh
    for axis in "zxy":
        yield f"slice {axis}", lambda a=axis: hand.stage.walk(a, 1)  # type: ignore[misc]
    yield "highest dose", station.stage.go_to_hottest
    yield "dose along a line", lambda: station.stage.line.set_shown(True)
    yield "probe", lambda: station.stage.probe.set_pinned(True)
    yield "extremes", lambda: station.stage.show_extremes(True)
    yield "curve", lambda: QTest.mouseMove(station.dvh, QPoint(station.dvh.width() // 2, station.dvh.height() // 2))
    yield "balance", lambda: station.show_balance(True)
    yield "balance, run", station.balance.run.click
    yield "ledger", lambda: station.show_balance(False)
    yield "aim", lambda: window.go("aim")
    station = window.station
    for key in [b.key for b in w.draft.beams]:
        yield "beam", lambda k=key: w.activate(beam=k)  # type: ignore[misc]
    beam = w.draft.beams[-1]
    low, high = beam.aperture.x_mm
    yield "jaw", lambda: desk.beams.set_jaws(beam.key, "x", (low, high - 5.0), "jaw")
    yield "gantry", lambda: desk.beams.set_gantry(beam.key, beam.gantry_deg + 5.0)
    yield "fit", lambda: station._fit(True)
    yield "shape", lambda: station.tabs.setCurrentWidget(station.shape)
    for name in ("Fit", "Cover"):
        yield name, lambda n=name: hand.press(station.shape, n)  # type: ignore[misc]
    yield "room", lambda: station.room_shown.setChecked(True)
    yield "sign", lambda: window.go("sign")


def open_window(folder: str) -> Any:
    """Return a shown window without a case."""
    from app.core.settings import Settings
    from app.window import Window

    window = Window(Settings(QSettings(f"{folder}/s.ini", QSettings.Format.IniFormat)))
    window.resize(1280, 800)
    window.show()
    return window


def main() -> int:
    """Print what the rehearsal leaves out; returns how many kernels that are."""
    from engine import rehearsal
    from tests.support.cases import planned_case

    app = QApplication.instance() or QApplication([])
    for line in rehearsal.LINES:
        for part in line:
            rehearsal.rehearse(part)
    rehearsed = ready = signatures()
    with tempfile.TemporaryDirectory() as folder:
        window = open_window(folder)
        window.context.workspace.open(planned_case())
        hand = Hand(window)
        touches = 0
        for name, act in every_touch(hand):
            act()
            hand.rest()
            touches += 1
            now = signatures()
            for kernel, kinds in sorted(now - ready):
                print(f"{name}: {kernel} {kinds}", flush=True)
            ready = now
        window.close()
    for kernel in sorted({name for name, _ in rehearsed}):
        print(f"rehearsed: {kernel}")
    print(f"{touches} touches", flush=True)
    assert app is not None
    return len(ready - rehearsed)


if __name__ == "__main__":
    raise SystemExit(min(main(), 100))
