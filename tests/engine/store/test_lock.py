"""The lock: one holder, freed with it, no file left behind."""

from engine.store.lock import CaseLock, writable


def test_one_holder_at_a_time_and_nothing_is_left(tmp_path):
    path = tmp_path / "a.halfshade"
    first, second = CaseLock(path), CaseLock(path)
    assert first.take()
    assert not second.take()
    first.free()
    assert second.take()
    second.free()
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_gives_no_lock(tmp_path):
    assert not CaseLock(tmp_path / "gone" / "a.halfshade").take()
    assert writable(tmp_path / "new.halfshade")
