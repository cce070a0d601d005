"""Making ready: by a process where nothing is compiled, by loading where all is, and in the end in any case."""

from __future__ import annotations

import pytest

from app.core import warm
from app.core.messages import Messages
from engine import rehearsal

SAYS = "import sys\nfor part in sys.argv[1:]:\n    print(part, flush=True)\n"
BREAKS = "import sys\nprint(sys.argv[1], flush=True)\nsys.exit(3)\n"


@pytest.fixture
def told(monkeypatch):
    """What was rehearsed here, while whoever asks is told to wait, and noted; no kernel is touched."""
    told = []
    monkeypatch.setattr(rehearsal, "rehearse", lambda part: told.append(part) if warm.pending(part) else None)
    monkeypatch.setattr(rehearsal, "note_done", lambda: told.append("noted"))
    return told


@pytest.fixture
def messages(qapp):
    return Messages()


@pytest.fixture
def run(qtbot, qapp, messages):
    def run() -> list[str]:
        made = warm.Warmer((), messages, qapp)
        loaded = []
        made.loaded.connect(loaded.append)
        try:
            with qtbot.waitSignal(made.ended, timeout=20_000):
                made.begin()
        finally:
            made.stop()
        assert not any(map(warm.pending, (*rehearsal.SCREEN, *rehearsal.BESIDE)))
        return loaded

    return run


def test_where_all_is_compiled_it_is_loaded_and_nothing_is_said(run, told, messages, monkeypatch):
    monkeypatch.setattr(rehearsal, "is_done", lambda: True)
    assert run() == list(rehearsal.SCREEN) == told
    assert not messages.kept


def test_where_nothing_is_compiled_processes_do_it_and_what_the_screen_calls_is_loaded(run, told, messages, monkeypatch):
    monkeypatch.setattr(rehearsal, "is_done", lambda: False)
    monkeypatch.setattr(warm, "CODE", SAYS)
    loaded = run()
    for line in rehearsal.LINES:
        assert [part for part in loaded if part in line] == list(line)
    assert sorted(told) == sorted(["noted", *rehearsal.SCREEN])
    assert [m.topic for m in messages.kept] == [warm.TOPIC]
    assert not messages.standing


def test_a_process_that_breaks_leaves_nothing_waiting_and_is_tried_again_next_time(run, told, messages, monkeypatch):
    monkeypatch.setattr(rehearsal, "is_done", lambda: False)
    monkeypatch.setattr(warm, "CODE", BREAKS)
    assert sorted(run()) == sorted([*rehearsal.SCREEN, *rehearsal.BESIDE])
    assert "noted" not in told
    assert sorted(told) == sorted(rehearsal.SCREEN)
    assert not messages.standing
