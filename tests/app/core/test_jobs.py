"""The compute thread gives way to the hand where nobody waits."""

import threading
from dataclasses import dataclass

import pytest
import shiboken6

from app.core import jobs as module
from app.core.jobs import JobRunner
from engine.base.values import Value

pytestmark = pytest.mark.gui


@dataclass(frozen=True, eq=False)
class Place(Value):
    n: int


@pytest.fixture
def runner(qtbot, monkeypatch):
    """A runner whose requests tell when they have begun and when their report has let them go on."""
    runner = JobRunner()
    runner.began, runner.went_on, runner.told = threading.Event(), threading.Event(), []

    def run(request, report):
        runner.began.set()
        report(0.5, "half")
        runner.went_on.set()
        return request

    monkeypatch.setattr(module.compute, "run", run)
    monkeypatch.setattr(module, "HAND_S", 3600.0)
    runner.finished.connect(lambda kind, state: runner.told.append((kind, state)))
    yield runner
    runner.close()


def test_what_gives_way_pauses_while_the_hand_works(runner, qtbot):
    runner.hand_works()
    runner.submit("marks", [Value()], gives_way=True)
    assert runner.began.wait(20)
    assert not runner.went_on.wait(0.05)
    assert runner.busy("marks")
    runner.submit("dose", [Value()])  # somebody waits for this one: the worker must not rest
    qtbot.waitUntil(lambda: runner.told == [("marks", "done"), ("dose", "done")], timeout=20000)


def test_a_paused_list_can_be_cancelled(runner, qtbot):
    runner.hand_works()
    runner.submit("marks", [Value()], gives_way=True)
    assert runner.began.wait(20)
    runner.cancel("marks")
    qtbot.waitUntil(lambda: runner.told == [("marks", "cancelled")], timeout=20000)
    assert not runner.went_on.is_set()


def test_a_hand_at_rest_and_other_work_are_not_waited_for(runner, qtbot):
    runner.submit("marks", [Value()], gives_way=True)
    qtbot.waitUntil(lambda: len(runner.told) == 1, timeout=20000)
    runner.hand_works()
    runner.submit("dose", [Value()])
    qtbot.waitUntil(lambda: runner.told == [("marks", "done"), ("dose", "done")], timeout=20000)


def test_paused_work_does_not_keep_the_thread_from_ending(runner):
    runner.hand_works()
    runner.submit("marks", [Value()], gives_way=True)
    assert runner.began.wait(20)
    runner.close(20.0)
    assert not runner._thread.is_alive()


def test_a_step_that_outlives_its_window_ends_in_silence(qtbot, monkeypatch):
    began, end = threading.Event(), threading.Event()

    def run(request, report):
        began.set()
        assert end.wait(20)
        return request

    monkeypatch.setattr(module.compute, "run", run)
    runner = JobRunner()
    runner.submit("marks", [Value()])
    assert began.wait(20)
    runner.close(0.0)
    shiboken6.delete(runner)
    end.set()
    runner._thread.join(20)  # an exception in a thread fails the test
    assert not runner._thread.is_alive()


def test_what_waits_behind_a_hand_is_replaced_where_it_stands_and_told_of_once(qtbot, monkeypatch):
    gate, run, told = threading.Event(), [], []

    def answer(request, report):
        run.append(request)
        assert gate.wait(20)
        return request

    monkeypatch.setattr(module.compute, "run", answer)
    runner = JobRunner()
    runner.finished.connect(lambda kind, state: told.append((kind, state)))
    first, second, third, other = (Place(n) for n in range(4))
    assert runner.submit("dose", [first], let_end=True)
    qtbot.waitUntil(lambda: run == [first])
    assert runner.submit("dose", [second], let_end=True)
    assert runner.submit("picture", [other])
    assert not runner.submit("dose", [third], let_end=True)
    gate.set()
    qtbot.waitUntil(lambda: len(told) == 3)
    assert run == [first, third, other]
    assert told == [("dose", "done"), ("dose", "done"), ("picture", "done")]
    runner.close()


def test_large_requests_that_differ_are_not_hashed_to_tell_them_apart(runner, qtbot):
    runner.hand_works()
    runner.submit("marks", [Value()], gives_way=True)
    assert runner.began.wait(20)
    waits, comes = Place(1), Place(2)
    runner.submit("live", [waits])
    runner.submit("live", [comes])
    qtbot.waitUntil(lambda: ("live", "done") in runner.told)
    assert "_fingerprint" not in waits.__dict__
    assert "_fingerprint" not in comes.__dict__
