"""Objects in a cycle are freed on the screen thread, never on the compute thread."""

from __future__ import annotations

import gc
import threading
import weakref

import pytest
from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication

from app.core.collector import Collector

pytestmark = pytest.mark.gui


@pytest.fixture
def collector(qapp):
    made = Collector()
    made.start()
    yield made
    made.stop()
    gc.collect()


class Knot(QObject):
    """A Qt object that only a collection can free."""

    def __init__(self) -> None:
        super().__init__()
        self.me = self


def litter(freed: list[int], count: int = 1) -> None:
    """Leave knots behind; each notes the thread it is freed on."""
    for _ in range(count):
        weakref.finalize(Knot(), lambda: freed.append(threading.get_ident()))


def on_a_thread(work) -> None:
    thread = threading.Thread(target=work)
    thread.start()
    thread.join()


def make_many_objects() -> None:
    """Far beyond the count at which Python would collect by itself."""
    kept = [[i] for i in range(200_000)]
    assert len(kept) == 200_000


def test_python_alone_would_free_them_on_the_thread_that_makes_objects(qapp):
    """Why the collector is there; if this fails, Python has changed and so may the collector."""
    freed: list[int] = []
    gc.collect()
    was_enabled = gc.isenabled()
    gc.enable()
    try:
        litter(freed)
        on_a_thread(make_many_objects)
    finally:
        gc.collect()
        if not was_enabled:
            gc.disable()
    assert freed
    assert freed[0] != threading.get_ident()


def test_a_busy_thread_frees_nothing_and_the_timer_frees_it_here(collector, qtbot):
    freed: list[int] = []
    litter(freed)
    on_a_thread(make_many_objects)
    assert freed == []
    on_a_thread(lambda: litter(freed, 50))
    kept = [[i] for i in range(1000)]  # over the first threshold
    qtbot.waitUntil(lambda: len(freed) == 51)
    assert set(freed) == {threading.get_ident()}
    assert kept


def test_it_collects_nothing_while_nothing_was_made(collector, monkeypatch):
    asked: list[int] = []
    monkeypatch.setattr(gc, "collect", lambda generation=2: asked.append(generation))
    monkeypatch.setattr(gc, "get_count", lambda: (3, 0, 0))
    collector.collect()
    assert asked == []
    monkeypatch.setattr(gc, "get_count", lambda: (5000, 0, 0))
    collector.collect()
    monkeypatch.setattr(gc, "get_count", lambda: (5000, 100, 100))
    # Another test may have left a button of the one mouse down: here the hand is what is said.
    monkeypatch.setattr(QApplication, "mouseButtons", staticmethod(lambda: Qt.MouseButton.NoButton))
    collector.collect()
    assert asked == [0, 2]
    monkeypatch.setattr(QApplication, "mouseButtons", staticmethod(lambda: Qt.MouseButton.LeftButton))
    collector.collect()
    assert asked == [0, 2, 1]


def test_stopped_it_gives_collection_back(qapp):
    made = Collector()
    before = gc.isenabled()
    made.start()
    assert not gc.isenabled()
    made.stop()
    assert gc.isenabled() == before
    assert gc.get_freeze_count() == 0
