"""The case file: nothing lost, nothing half-written, one writer, records that only grow."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import textwrap

import numpy as np
import pytest

from engine.base.errors import InputError, StoreError
from engine.base.values import frozen_array
from engine.case import edits
from engine.store.case_file import KEPT_RESULTS, CaseFile
from tests.support.cases import GRID, flat_dose, small_case


@pytest.fixture
def path(tmp_path):
    return tmp_path / "patient.halfshade"


def test_reopening_gives_the_same_case_results_and_desk(path):
    case = small_case()
    dose = flat_dose(GRID, 2.0, inputs="a" * 64)
    with CaseFile.create(path, case) as file:
        file.put_results((dose,))
        file.set_desk(station="outline", cursor="1,2,3")
    with CaseFile.open(path) as file:
        assert file.case() == case
        assert file.results() == {"a" * 64: dose}
        assert file.desk() == {"station": "outline", "cursor": "1,2,3"}
        assert file.check() == "ok"
    assert sorted(p.name for p in path.parent.iterdir()) == [path.name]


def test_saving_the_same_case_adds_no_revision_and_earlier_revisions_stay(path):
    case = small_case()
    with CaseFile.create(path, case) as file:
        assert not file.save(case)
        later = case.but(volumes=case.volumes[:2])
        assert file.save(later)
        assert file.case() == later
        first = file.revisions()[0][0]
        assert file.case(first) == case


def test_create_never_overwrites(path):
    path.write_text("precious")
    with pytest.raises(InputError, match="exists already"):
        CaseFile.create(path, small_case())
    assert path.read_text() == "precious"


def test_a_second_window_is_read_only_and_says_so(path):
    case = small_case()
    with CaseFile.create(path, case), CaseFile.open(path) as second:
        assert second.read_only
        assert second.case() == case
        with pytest.raises(StoreError, match="read-only"):
            second.save(case.but(volumes=()))
    with CaseFile.open(path) as third:
        assert not third.read_only


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"", "not a Halfshade case"), (b"hello" * 1000, "not a Halfshade case")],
)
def test_other_files_are_refused_in_words(path, content, words):
    path.write_bytes(content)
    with pytest.raises(InputError, match=words):
        CaseFile.open(path)
    assert path.read_bytes() == content


def test_a_missing_file_is_refused(path):
    with pytest.raises(InputError, match="no such case"):
        CaseFile.open(path)


def test_a_newer_major_version_is_refused(path):
    CaseFile.create(path, small_case()).close()
    db = sqlite3.connect(path)
    db.execute(f"PRAGMA user_version = {9 << 16}")
    db.close()
    with pytest.raises(StoreError, match="newer Halfshade"):
        CaseFile.open(path)


def test_a_full_disk_loses_nothing(path):
    case = small_case()
    with CaseFile.create(path, case) as file:
        pages = file._db.execute("PRAGMA page_count").fetchone()[0]
        file._db.execute(f"PRAGMA max_page_count = {pages}")
        noise = np.random.default_rng(1).random(GRID.shape).astype(np.float32)
        dose = flat_dose(GRID, 0).but(gy=frozen_array(noise), inputs="b" * 64)
        with pytest.raises(StoreError, match="disk is full"):
            file.put_results((dose,))
        file._db.execute("PRAGMA max_page_count = 1000000")
        file.put_results((dose,))
        assert file.results()["b" * 64] == dose
    with CaseFile.open(path) as file:
        assert file.case() == case


def test_a_process_killed_while_saving_leaves_the_last_save_whole(path):
    code = textwrap.dedent(
        f"""
        import os
        from engine.store.case_file import CaseFile
        from tests.support.cases import small_case
        case = small_case()
        file = CaseFile.create({str(path)!r}, case)
        file._db.execute("BEGIN IMMEDIATE")
        file._put(case.but(volumes=()))
        file._db.execute("INSERT INTO event (at, who, what) VALUES ('', '', 'half')")
        os._exit(9)
        """
    )
    root = os.path.dirname(os.path.dirname(os.path.dirname(os.path.dirname(__file__))))
    assert subprocess.run([sys.executable, "-c", code], cwd=root, check=False).returncode == 9
    with CaseFile.open(path) as file:
        assert file.case() == small_case()
        assert file.check() == "ok"
        assert "half" not in [what for _, _, what in file.events()]


def test_copy_is_complete_and_never_over_another_file(path, tmp_path):
    case = small_case()
    with CaseFile.create(path, case) as file:
        copy = tmp_path / "copy.halfshade"
        file.copy_to(copy)
        with pytest.raises(InputError, match="exists already"):
            file.copy_to(copy)
    with CaseFile.open(copy) as file:
        assert file.case() == case


def test_events_cannot_be_changed_or_removed(path):
    with CaseFile.create(path, small_case(), who="A. Planner") as file:
        file.event("A. Planner", "exported")
        for sql in ("UPDATE event SET what = 'x'", "DELETE FROM event"):
            with pytest.raises(sqlite3.IntegrityError):
                file._db.execute(sql)
        assert [(who, what) for _, who, what in file.events()][-1] == ("A. Planner", "exported")


def test_old_results_are_forgotten_but_the_file_stays_whole(path):
    case = small_case()
    with CaseFile.create(path, case) as file:
        for i in range(KEPT_RESULTS + 3):
            file.put_results((flat_dose(GRID.but(shape=(2, 2, 2)), i, inputs=f"{i:064x}"),))
        assert len(file.results()) == KEPT_RESULTS + 1
    with CaseFile.open(path) as file:
        assert len(file.results()) == KEPT_RESULTS + 1
        assert file.case() == case
        again = flat_dose(GRID.but(shape=(2, 2, 2)), 0, inputs="f" * 64)
        file.put_results((again,))
        assert file.results()["f" * 64] == again


def test_forgetting_a_dose_leaves_another_of_the_same_numbers_whole(path):
    """Two beams that miss the patient give equal arrays, which are stored once."""
    small = GRID.but(shape=(2, 2, 2))
    with CaseFile.create(path, small_case()) as file:
        for i in range(KEPT_RESULTS + 3):
            file.put_results((flat_dose(small, 0.0, inputs=f"{i:064x}"),), needed={"0" * 64})
    with CaseFile.open(path) as file:
        assert set(file.results()) == file.kept()
        assert all(not d.gy.any() for d in file.results().values())


def test_results_that_are_needed_stay_however_old(path):
    small, first, second = GRID.but(shape=(2, 2, 2)), "a" * 64, "b" * 64
    with CaseFile.create(path, small_case()) as file:
        file.put_results((flat_dose(small, 1, inputs=first), flat_dose(small, 2, inputs=second)))
        for i in range(KEPT_RESULTS + 5):
            file.put_results((flat_dose(small, i + 3, inputs=f"{i:064x}"),), needed={first})
        assert first in file.kept()
        assert second not in file.kept()
        assert file.kept() == frozenset(file.results())


def test_desk_and_case_are_independent(path):
    case = small_case()
    with CaseFile.create(path, case) as file:
        file.set_desk(station="aim")
        file.save(edits.without_volume(case, "cord"), "without the cord", "A. Planner")
    with CaseFile.open(path) as file:
        assert file.case().named("SpinalCord") is None
        assert file.desk() == {"station": "aim"}


def test_a_copy_into_a_folder_that_cannot_be_written_is_refused_by_the_name_of_the_folder(path, tmp_path):
    with CaseFile.create(path, small_case()) as file, pytest.raises(StoreError, match="none: the folder does not exist"):
        file.copy_to(tmp_path / "none" / "copy.halfshade")
