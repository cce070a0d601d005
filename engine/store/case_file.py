"""The case file: one SQLite database per patient's case."""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from typing import Self

from engine import __version__
from engine.base.errors import InputError, StoreError
from engine.base.values import Fingerprint, Value, array_digest
from engine.base.words import say
from engine.case.case import Case
from engine.dose.dose import Dose
from engine.review.record import GENESIS, Record
from engine.store import codec, migrate
from engine.store.lock import CaseLock, writable

APPLICATION_ID = 0x48534844
KEPT_RESULTS = 12  # beyond those that are needed: the last few arrangements, so that a second thought costs no wait


def now() -> str:
    """Return the time as stored: UTC, ISO 8601, seconds."""
    return datetime.now(UTC).isoformat(timespec="seconds")


class CaseFile:
    """An open case file. Safe to call from any thread; calls are serialised.

    Saves are one transaction each (rollback journal, synchronous FULL): after a crash the file holds the last save
    whole. Content is written once and never rewritten.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection, lock: CaseLock | None) -> None:
        self.path = path
        self.read_only = lock is None
        self._db, self._lock, self._guard = connection, lock, threading.RLock()
        self._fresh: set[Fingerprint] = set()
        self._stored: set[Fingerprint] = {h for (h,) in connection.execute("SELECT hash FROM content")}
        self._reader = codec.Reader(self._fetch)

    @classmethod
    def create(cls, path: Path, case: Case, reason: str = "created", who: str = "") -> Self:
        """Write a new case file; never over another one.

        Raises
        ------
        InputError
            If the file exists.
        StoreError
            If the folder cannot be written or the disk is full.
        """
        path = Path(path)
        if path.exists():
            raise InputError("this file exists already", str(path), "Choose another name, or open it.")
        if not path.parent.is_dir() or not writable(path):
            raise StoreError("the folder does not exist or cannot be written", str(path.parent), "Choose another folder.")
        lock = CaseLock(path)
        if not lock.take():
            raise StoreError("another window is writing here", str(path), "Close it first.")
        try:
            with _words(path):
                db = _connect(path, read_only=False)
                db.executescript(files(__package__).joinpath("schema.sql").read_text(encoding="utf-8"))
                db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                db.execute(f"PRAGMA user_version = {migrate.VERSION}")
                found = cls(path, db, lock)
            found.save(case, reason, who)
        except BaseException:
            lock.free()
            path.unlink(missing_ok=True)
            raise
        return found

    @classmethod
    def open(cls, path: Path, read_only: bool = False) -> Self:
        """Open a case file; where another window holds it, or it cannot be written, it opens read-only.

        Raises
        ------
        InputError
            If the file is missing or no case file.
        StoreError
            If it is damaged, or of a newer major version.
        """
        path = Path(path)
        if not path.is_file():
            raise InputError("there is no such case file", str(path), "Check the path.")
        if not _is_ours(path):
            raise InputError("this is not a Halfshade case", str(path), "Open a *.halfshade file.")
        lock = None if read_only or not writable(path) else CaseLock(path)
        if lock is not None and not lock.take():
            lock = None
        try:
            with _words(path):
                db = _connect(path, read_only=lock is None)
                migrate.bring_up(db, path, read_only=lock is None)
                return cls(path, db, lock)
        except BaseException:
            if lock is not None:
                lock.free()
            raise

    def close(self) -> None:
        """Close the file and give its lock back."""
        with self._guard:
            self._db.close()
            if self._lock is not None:
                self._lock.free()
                self._lock = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def save(self, case: Case, reason: str = "autosave", who: str = "") -> bool:
        """Store a revision if the case differs from the last one; return whether it did."""
        with self._writing():
            last = self._db.execute("SELECT id, root FROM revision ORDER BY id DESC LIMIT 1").fetchone()
            if last and last[1] == case.fingerprint:
                return False
            self._put(case)
            self._db.execute(
                "INSERT INTO revision (parent, root, reason, saved_at, app_version) VALUES (?, ?, ?, ?, ?)",
                (last[0] if last else None, case.fingerprint, reason, now(), __version__),
            )
            if reason != "autosave":
                self._event(who, reason)
        return True

    def case(self, revision: int | None = None) -> Case:
        """Return the last revision's case, or an earlier one's."""
        with self._reading():
            row = self._db.execute(
                "SELECT root FROM revision WHERE id = ?"
                if revision
                else "SELECT root FROM revision ORDER BY id DESC LIMIT 1",
                (revision,) if revision else (),
            ).fetchone()
            if row is None:
                raise StoreError("the case holds no revision", str(self.path))
            value = self._reader.value(row[0])
        if not isinstance(value, Case):
            raise StoreError("the revision does not lead to a case", str(self.path))
        return value

    def revisions(self) -> tuple[tuple[int, str, str, Fingerprint], ...]:
        """Return (id, reason, saved_at, fingerprint) of every revision, oldest first."""
        with self._reading():
            return tuple(self._db.execute("SELECT id, reason, saved_at, root FROM revision ORDER BY id"))

    def put_results(self, doses: tuple[Dose, ...], needed: Collection[Fingerprint] = ()) -> None:
        """Keep computed doses under the fingerprints they answer, and forget old ones that can be computed again.

        Kept are these doses, those a record names, those of the requests `needed` (of the drafts as they are now), and the
        newest KEPT_RESULTS of all others.
        """
        with self._writing():
            for dose in doses:
                self._put(dose)
                self._db.execute(
                    "INSERT OR REPLACE INTO result (kind, inputs, content, computed_at) VALUES (?, ?, ?, ?)",
                    (type(dose).__name__, dose.inputs, dose.fingerprint, now()),
                )
            self._prune({*needed, *(d.inputs for d in doses)})

    def kept(self) -> frozenset[Fingerprint]:
        """Return the fingerprints of the requests whose results are kept."""
        with self._reading():
            return frozenset(inputs for (inputs,) in self._db.execute("SELECT inputs FROM result"))

    def results(self) -> dict[Fingerprint, Value]:
        """Return every kept result by the fingerprint of the request it answers."""
        with self._reading():
            rows = self._db.execute("SELECT inputs, content FROM result").fetchall()
            return {inputs: self._reader.value(content) for inputs, content in rows}

    def add_record(self, record: Record, who: str) -> None:
        """Append a sealed record to the chain; the values it needs must be saved before or with it."""
        with self._writing():
            last = self._db.execute("SELECT content FROM record ORDER BY id DESC LIMIT 1").fetchone()
            previous = last[0] if last else GENESIS
            if record.previous != previous:
                raise StoreError("the record does not follow the last one of this case", str(self.path), "Sign again.")
            self._put(record)
            self._db.execute("INSERT INTO record (content, previous) VALUES (?, ?)", (record.fingerprint, previous))
            self._event(who, f"signed: {record.statement.decision}")

    def records(self) -> tuple[Record, ...]:
        """Return the chain of records, oldest first, as it is stored (see ``review.record.verify_chain``)."""
        with self._reading():
            hashes = [h for (h,) in self._db.execute("SELECT content FROM record ORDER BY id")]
            return tuple(self._reader.value(h) for h in hashes)  # type: ignore[misc]

    def put_value(self, value: Value) -> None:
        """Store a value (a picture, a document) by its fingerprint."""
        with self._writing():
            self._put(value)

    def value(self, fingerprint: Fingerprint) -> Value:
        """Return any stored value."""
        with self._reading():
            return self._reader.value(fingerprint)

    def event(self, who: str, what: str) -> None:
        """Append a line to the diary of the case."""
        with self._writing():
            self._event(who, what)

    def events(self) -> tuple[tuple[str, str, str], ...]:
        """Return (at, who, what), oldest first."""
        with self._reading():
            return tuple(self._db.execute("SELECT at, who, what FROM event ORDER BY id"))

    def set_desk(self, **values: str) -> None:
        """Remember where one was."""
        with self._writing():
            self._db.executemany("INSERT OR REPLACE INTO desk (name, value) VALUES (?, ?)", values.items())

    def desk(self) -> dict[str, str]:
        """Return where one was."""
        with self._reading():
            return dict(self._db.execute("SELECT name, value FROM desk"))

    def copy_to(self, path: Path) -> None:
        """Write a compact copy; complete or not at all."""
        path = Path(path)
        if path.exists():
            raise InputError("this file exists already", str(path), "Choose another name.")
        if not path.parent.is_dir() or not writable(path):
            raise StoreError("the folder does not exist or cannot be written", str(path.parent), "Choose another folder.")
        temporary = path.with_name(f".{path.name}.part")
        with self._reading(path):
            try:
                self._db.execute("VACUUM INTO ?", (str(temporary),))
                os.replace(temporary, path)
            finally:
                temporary.unlink(missing_ok=True)

    def check(self) -> str:
        """Return "ok" or SQLite's words on what is damaged."""
        with self._reading():
            return str(self._db.execute("PRAGMA integrity_check").fetchone()[0])

    def _put(self, value: Value) -> None:
        for row in codec.rows(value, lambda h: h in self._stored or h in self._fresh):
            self._db.execute("INSERT OR IGNORE INTO content (hash, kind, layout, bytes) VALUES (?, ?, ?, ?)", row)
            self._fresh.add(row[0])

    def _prune(self, needed: Collection[Fingerprint]) -> None:
        named = {d for r in self.records() for d in r.statement.doses}
        rows = self._db.execute("SELECT kind, inputs, content FROM result ORDER BY id DESC").fetchall()
        others = [r for r in rows if r[1] not in needed and r[2] not in named]
        for kind, inputs, content in others[KEPT_RESULTS:]:
            self._db.execute("DELETE FROM result WHERE kind = ? AND inputs = ?", (kind, inputs))
            dose = self._reader.value(content)
            self._forget(content)
            # Two beams that miss the patient have the same array of zeros.
            digest = array_digest(dose.gy) if isinstance(dose, Dose) else ""
            shared = "SELECT 1 FROM content WHERE kind = 'Dose' AND instr(bytes, CAST(? AS BLOB)) LIMIT 1"
            if digest and self._db.execute(shared, (digest,)).fetchone() is None:
                self._forget(digest)

    def _forget(self, fingerprint: Fingerprint) -> None:
        self._db.execute("DELETE FROM content WHERE hash = ?", (fingerprint,))
        self._stored.discard(fingerprint)

    def _event(self, who: str, what: str) -> None:
        self._db.execute("INSERT INTO event (at, who, what) VALUES (?, ?, ?)", (now(), who, what))

    def _fetch(self, fingerprint: Fingerprint) -> tuple[str, int, bytes]:
        row = self._db.execute("SELECT kind, layout, bytes FROM content WHERE hash = ?", (fingerprint,)).fetchone()
        if row is None:
            raise StoreError(
                say("content {fingerprint} is missing", fingerprint=fingerprint[:12]),
                str(self.path),
                "Open a copy of the case.",
            )
        return row

    @contextmanager
    def _writing(self) -> Iterator[None]:
        with self._guard:
            if self._lock is None:
                raise StoreError("this case is open read-only", str(self.path), "Save a copy to work on it.")
            if self._db.in_transaction:
                yield
                return
            self._fresh = set()
            with _words(self.path):
                self._db.execute("BEGIN IMMEDIATE")
                try:
                    yield
                    self._db.execute("COMMIT")
                except BaseException:
                    if self._db.in_transaction:
                        self._db.execute("ROLLBACK")
                    raise
            self._stored |= self._fresh

    @contextmanager
    def _reading(self, path: Path | None = None) -> Iterator[None]:
        with self._guard, _words(path or self.path):
            yield


def _is_ours(path: Path) -> bool:
    """Whether the file's head names SQLite and our application id (bytes 68 to 71 of the database header)."""
    with path.open("rb") as stream:
        head = stream.read(72)
    return head[:15] == b"SQLite format 3" and int.from_bytes(head[68:72], "big") == APPLICATION_ID


def _connect(path: Path, read_only: bool) -> sqlite3.Connection:
    uri = f"{path.absolute().as_uri()}?mode={'ro' if read_only else 'rwc'}"
    db = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False, timeout=5.0)
    db.execute("PRAGMA foreign_keys = ON")
    if not read_only:
        db.execute("PRAGMA journal_mode = DELETE")
        db.execute("PRAGMA synchronous = FULL")
    return db


@contextmanager
def _words(path: Path) -> Iterator[None]:
    """Turn the environment's database errors into words; our own mistakes stay as they are."""
    try:
        yield
    except sqlite3.Error as error:
        text = str(error).lower()
        if "full" in text:
            raise StoreError(
                "the disk is full; nothing of the case was lost", str(path), "Free space, then save."
            ) from error
        if "locked" in text or "busy" in text:
            raise StoreError("another program holds the case", str(path), "Close it, or save a copy.") from error
        if "readonly" in text or "unable to open" in text:
            raise StoreError("the file cannot be written", str(path), "Check its permissions, or save a copy.") from error
        if "malformed" in text or "not a database" in text or "i/o" in text:
            raise StoreError(
                say("the case file is damaged ({error})", error=str(error)), str(path), "Open a copy of it."
            ) from error
        raise
