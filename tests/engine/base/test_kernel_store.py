import os
import subprocess
import sys
from pathlib import Path

import pytest

from engine.base.kernel_store import folder_of, is_marked, keep_kernels, mark, sources

KERNEL = "from numba import njit\nfrom engine.steps import STEP\n\n@njit(cache=True)\ndef walk(n):\n    return n * STEP\n"


@pytest.fixture
def package(tmp_path):
    folder = tmp_path / "engine"
    folder.mkdir()
    (folder / "__init__.py").write_text("")
    (folder / "walk.py").write_text(KERNEL)
    (folder / "steps.py").write_text("from engine.size import SIZE\n\nSTEP = 2 * SIZE\n")
    (folder / "size.py").write_text("SIZE = 3\n")
    (folder / "words.py").write_text("HELLO = 'hello'\n")
    return folder


def test_kernels_are_made_of_their_files_and_of_those_these_take_things_from(package):
    assert [p.name for p in sources(package)] == ["size.py", "steps.py", "walk.py"]


@pytest.mark.parametrize("name", ["walk.py", "steps.py", "size.py"])
def test_a_changed_file_means_another_folder(package, tmp_path, name):
    before = folder_of(package, tmp_path)
    (package / name).write_text((package / name).read_text() + "# changed\n")
    assert folder_of(package, tmp_path) != before


def test_other_files_change_nothing(package, tmp_path):
    before = folder_of(package, tmp_path)
    (package / "words.py").write_text("HELLO = 'good day'\n")
    assert folder_of(package, tmp_path) == before


def test_a_kernel_never_keeps_a_number_of_another_file_that_has_changed(package, tmp_path, monkeypatch):
    """The compiler's own rule, by the kernel's file alone, would give the old number."""
    store = str(Path(__file__).parents[3] / "engine" / "base" / "kernel_store.py")
    run = (
        "import sys, importlib.util, pathlib\n"
        f"spec = importlib.util.spec_from_file_location('kernel_store', {store!r})\n"
        "module = importlib.util.module_from_spec(spec); spec.loader.exec_module(module)\n"
        f"module.keep_kernels(pathlib.Path({str(package)!r}))\n"
        f"sys.path.insert(0, {str(tmp_path)!r})\n"
        "from engine.walk import walk\n"
        "print(walk(1), sum(walk.stats.cache_hits.values()))\n"
    )

    def walked() -> str:
        environment = dict(os.environ, NUMBA_CACHE_DIR=str(tmp_path / "kernels"))
        done = subprocess.run([sys.executable, "-c", run], env=environment, capture_output=True, text=True, check=True)
        return done.stdout.strip()

    monkeypatch.setenv("NUMBA_CACHE_DIR", str(folder_of(package, tmp_path / "kernels")))
    assert [walked(), walked()] == ["6 0", "6 1"]
    (package / "size.py").write_text("SIZE = 50\n")
    assert walked() == "100 0"


def test_old_states_are_removed_but_for_the_last_few_and_nothing_else_is(package, tmp_path, monkeypatch):
    root = tmp_path / "kernels"
    (root / "notes").mkdir(parents=True)
    for n in range(6):
        (package / "size.py").write_text(f"SIZE = {n}\n")
        monkeypatch.setenv("NUMBA_CACHE_DIR", str(root))
        keep_kernels(package)
    states = [p for p in root.iterdir() if p.name != "notes"]
    assert len(states) == 3
    assert (root / "notes").exists()
    assert folder_of(package, root) in states


def test_a_process_that_inherits_the_folder_uses_the_same(package, tmp_path, monkeypatch):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "kernels"))
    keep_kernels(package)
    first = os.environ["NUMBA_CACHE_DIR"]
    keep_kernels(package)
    assert os.environ["NUMBA_CACHE_DIR"] == first


def test_where_nothing_can_be_written_nothing_is_refused(package, tmp_path, monkeypatch):
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "file" / "kernels"))
    keep_kernels(package)
    mark("all")
    assert not is_marked("all")


def test_a_mark_goes_with_the_state_it_was_set_for(package, tmp_path, monkeypatch):
    root = str(tmp_path / "kernels")
    monkeypatch.setenv("NUMBA_CACHE_DIR", root)
    keep_kernels(package)
    assert not is_marked("all")
    mark("all")
    assert is_marked("all")
    assert not is_marked("some")
    (package / "steps.py").write_text("STEP = 4\n")
    monkeypatch.setenv("NUMBA_CACHE_DIR", root)
    keep_kernels(package)
    assert not is_marked("all")
