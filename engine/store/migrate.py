"""Steps from older table layouts to the present one. Content is never touched, or seals would break."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

from engine.base.errors import StoreError

MAJOR, MINOR = 1, 0
VERSION = MAJOR << 16 | MINOR

# major version found -> step to the next major; each step has a test on a kept sample file
STEPS: dict[int, Callable[[sqlite3.Connection], None]] = {}


def bring_up(db: sqlite3.Connection, path: Path, read_only: bool) -> None:
    """Migrate an open database to VERSION; a copy is kept beside it first.

    Raises
    ------
    StoreError
        If the file is of a newer major version, or needs a migration and is read-only.
    """
    found = int(db.execute("PRAGMA user_version").fetchone()[0])
    major = found >> 16
    if major > MAJOR:
        raise StoreError("this case was written by a newer Halfshade", str(path), "Update the program to open it.")
    if major == MAJOR:
        return
    if read_only:
        raise StoreError(
            "this older case must be brought up to date, but is read-only", str(path), "Copy it, open the copy."
        )
    shutil.copy2(path, path.with_name(f"{path.stem}-before-update{path.suffix}"))
    for step in range(major, MAJOR):
        db.execute("BEGIN IMMEDIATE")
        STEPS[step](db)
        db.execute(f"PRAGMA user_version = {(step + 1) << 16}")
        db.execute("COMMIT")
    db.execute(f"PRAGMA user_version = {VERSION}")
