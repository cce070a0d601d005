import pytest

from engine import rehearsal
from engine.base import kernel_store


def test_every_part_belongs_to_one_line_of_work():
    parts = [part for line in rehearsal.LINES for part in line]
    assert sorted(parts) == sorted({**rehearsal.SCREEN, **rehearsal.BESIDE})


def test_what_paints_is_rehearsed_first():
    assert {line[0] for line in rehearsal.LINES} == {"outlines", "painting"}


def test_it_is_done_once_it_was_noted_for_these_kernels_and_this_rehearsal(tmp_path, monkeypatch):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert not rehearsal.is_done()
    rehearsal.note_done()
    assert rehearsal.is_done()
    monkeypatch.setattr(rehearsal, "get_host_cpu_name", lambda: "another")
    assert not rehearsal.is_done()
    assert kernel_store.is_marked(next(tmp_path.iterdir()).name)


def test_there_is_no_other_part():
    with pytest.raises(KeyError):
        rehearsal.rehearse("singing")
