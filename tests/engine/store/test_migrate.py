"""Migrations: the present version needs none, no step is missing, a newer major is refused."""

import sqlite3

import pytest

from engine.base.errors import StoreError
from engine.store import migrate


def database(version):
    db = sqlite3.connect(":memory:", isolation_level=None)
    db.execute(f"PRAGMA user_version = {version}")
    return db


def test_every_earlier_major_has_a_step():
    assert sorted(migrate.STEPS) == list(range(1, migrate.MAJOR))


def test_present_files_are_left_alone_and_newer_ones_refused(tmp_path):
    path = tmp_path / "a.halfshade"
    migrate.bring_up(database(migrate.VERSION), path, read_only=True)
    migrate.bring_up(database(migrate.VERSION + 1), path, read_only=True)  # a newer minor reads fine
    with pytest.raises(StoreError, match="newer Halfshade"):
        migrate.bring_up(database((migrate.MAJOR + 1) << 16), path, read_only=False)
    with pytest.raises(StoreError, match="read-only"):
        migrate.bring_up(database(0), path, read_only=True)
