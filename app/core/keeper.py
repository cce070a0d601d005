"""Keeps the case on disk: autosave one second after the last edit, off the screen thread. Sole user of the store."""

from __future__ import annotations

import json
import logging
import re
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QStandardPaths, QTimer, Signal

from app.core.workspace import Workspace
from engine.base.errors import StoreError, UserError
from engine.base.words import say
from engine.case.case import Case
from engine.case.requests import needed_doses
from engine.dose.dose import Dose
from engine.review.record import Picture, Record, Statement, seal
from engine.store.case_file import CaseFile

log = logging.getLogger("halfshade.keeper")
AUTOSAVE_MS = 1000


def default_folder() -> Path:
    """Return the folder new cases go to unless the person says otherwise."""
    documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    return Path(documents or Path.home()) / "Halfshade"


def free_name(folder: Path, case: Case) -> Path:
    """Return a file name in `folder` that is not taken, made from the patient's id or name."""
    words = case.patient.patient_id or case.patient.name or "case"
    stem = re.sub(r"[^A-Za-z0-9._-]+", "-", words).strip("-.") or "case"
    path, n = folder / f"{stem}.halfshade", 2
    while path.exists():
        path, n = folder / f"{stem}-{n}.halfshade", n + 1
    return path


class Keeper(QObject):
    """Opens, creates, saves and copies the case file of a workspace.

    Signals
    -------
    opened(path) : a case is in the workspace; `desk` holds where one was
    saved(path) : the present case is on disk
    signed(record) : a decision is sealed and on disk
    failed(error, topic) : UserError in words; the case in memory is untouched and saving is tried again after the next
        edit. Topics: "opening" (settled by `opened`), "keeping" (settled by `saved`), "signing", "" for what was asked once
    """

    opened = Signal(object)
    saved = Signal(object)
    failed = Signal(object, str)
    signed = Signal(object)
    _landed = Signal(object, object)

    def __init__(self, workspace: Workspace, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workspace = workspace
        self._file: CaseFile | None = None
        self._thread = ThreadPoolExecutor(1, "halfshade-keeper")
        self._kept: tuple[CaseFile | None, frozenset[str]] = (None, frozenset())
        self.desk: dict[str, str] = {}
        self.records: tuple[Record, ...] = ()
        self.who = ""
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(AUTOSAVE_MS)
        self._timer.timeout.connect(self.save)
        self._landed.connect(self._land)
        workspace.case_changed.connect(self._on_change)
        workspace.results_changed.connect(self._later)

    @property
    def path(self) -> Path | None:
        """The open case file, or None."""
        return self._file.path if self._file else None

    def open(self, path: Path) -> None:
        """Open a case file; `opened` or `failed` follows."""

        def work() -> tuple[Any, ...]:
            file = CaseFile.open(Path(path))
            try:
                return file, file.case(), file.results(), file.desk(), file.records()
            except BaseException:
                file.close()
                raise

        self._flush()
        self._do(work, self._show, "opening")

    def create(self, case: Case, path: Path | None = None) -> None:
        """Write a new case file (in the default folder unless told) and open it; `opened` or `failed` follows."""

        def work() -> tuple[Any, ...]:
            target = Path(path) if path else free_name(default_folder(), case)
            try:
                if path is None:
                    target.parent.mkdir(parents=True, exist_ok=True)
            except OSError as error:
                raise StoreError(
                    say("the folder cannot be made ({error})", error=str(error)), str(target.parent), "Choose another."
                ) from error
            return CaseFile.create(target, case, "created", self.who), case, {}, {}, ()

        self._flush()
        self._do(work, self._show, "opening")

    def save(self) -> None:
        """Save now what is not on disk yet; `saved` or `failed` follows."""
        file, case = self._file, self._workspace.case
        self._timer.stop()
        if file is None or case is None or file.read_only:
            return
        doses = self._fine_doses()

        def work() -> Path:
            file.save(case)
            self._keep(file, case, doses)
            return file.path

        self._do(work, self.saved.emit, "keeping")

    def name_revision(self, reason: str) -> None:
        """Save the present case as a revision with a name."""
        file, case = self._file, self._workspace.case
        if file is not None and case is not None:
            self._do(lambda: (file.save(case, reason, self.who), file.path)[1], self.saved.emit)

    def copy_to(self, path: Path) -> None:
        """Save, then write a copy; `saved` with the copy's path or `failed` follows."""
        file = self._file
        if file is not None:
            self.save()
            self._do(lambda: (file.copy_to(Path(path)), Path(path))[1], self.saved.emit)

    def sign(self, statement: Statement, passphrase: str, pictures: tuple[Picture, ...]) -> None:
        """Save the case and its doses, seal the statement, keep pictures and record; `signed` or `failed` follows."""
        file, case = self._file, self._workspace.case
        if file is None or case is None:
            raise StoreError("there is no case file to keep the record", do="Save the case first.")
        doses = tuple(
            d for d in self._workspace.results.values() if isinstance(d, Dose) and d.fingerprint in statement.doses
        )

        def work() -> tuple[Record, ...]:
            record = seal(statement, passphrase, file.records())
            file.save(case, "signed", statement.reviewer)
            file.put_results(doses, needed_doses(case))
            for picture in pictures:
                file.put_value(picture)
            file.add_record(record, statement.reviewer)
            return file.records()

        def done(records: tuple[Record, ...]) -> None:
            self.records = records
            self.signed.emit(records[-1])

        self._do(work, done, "signing")

    def write_record_pdf(self, path: Path, record: Record, write: Callable[..., None]) -> None:
        """Fetch the pictures of a record and hand them to `write(path, case, record, pictures)` on the screen thread."""
        file, case = self._file, self._workspace.case
        if file is None or case is None:
            return

        def done(shown: tuple[Picture, ...]) -> None:
            try:
                write(Path(path), case, record, shown)
            except UserError as error:
                self.failed.emit(error, "")
            else:
                self.saved.emit(Path(path))

        self._do(lambda: tuple(file.value(p) for p in record.statement.pictures), done)

    def note(self, what: str) -> None:
        """Append a line to the case's diary (an export, an import)."""
        file = self._file
        if file is not None and not file.read_only:
            self._do(lambda: file.event(self.who, what), lambda _: None)

    def remember(self, **desk: Any) -> None:
        """Keep where one is: station, cursor, active keys."""
        file = self._file
        texts = {k: v if isinstance(v, str) else json.dumps(v) for k, v in desk.items()}
        self.desk.update(texts)
        if file is not None and not file.read_only:
            self._do(lambda: file.set_desk(**texts), lambda _: None)

    def close(self) -> None:
        """Save, close the file and end the thread; waits."""
        self._flush()
        file, self._file = self._file, None
        if file is not None:
            self._thread.submit(file.close)
        self._thread.shutdown(wait=True)

    def _fine_doses(self) -> tuple[Dose, ...]:
        found = self._workspace.results.values()
        return tuple(d for d in found if isinstance(d, Dose) and d.quality == "fine")

    def _keep(self, file: CaseFile, case: Case, doses: tuple[Dose, ...]) -> None:
        """Write the doses that the drafts ask for now; what was tried on the way is not worth the room on disk.

        Runs on the keeper's thread, the only one that changes what is kept while a file is open.
        """
        needed = needed_doses(case)
        kept = self._kept[1] if self._kept[0] is file else file.kept()
        fresh = tuple(d for d in doses if d.inputs in needed and d.inputs not in kept)
        if fresh:
            file.put_results(fresh, needed)
            self._kept = (file, file.kept())

    def _on_change(self, before: Case | None, after: Case | None) -> None:
        if after is not None and before is not after:
            self._later()

    def _flush(self) -> None:
        """Save an edit that still waits for its second, before another case takes its place."""
        if self._timer.isActive():
            self.save()

    def _later(self) -> None:
        if self._file is not None and not self._file.read_only:
            self._timer.start()

    def _show(self, found: tuple[Any, ...]) -> None:
        file, case, results, desk, records = found
        old, self._file = self._file, file
        if old is not None:
            self._thread.submit(old.close)
        self.desk, self.records = desk, records
        self._kept = (file, frozenset(results))
        self._workspace.open(case, results, read_only=file.read_only)
        self._timer.stop()
        self.opened.emit(file.path)
        if file.read_only:
            self._workspace.message.emit(
                "warning",
                self.tr("This case is open elsewhere or write-protected: read-only here. Save a copy to work on it."),
            )

    def _do(self, work: Callable[[], Any], then: Callable[[Any], None], topic: str = "") -> None:
        """Run `work` on the keeper's thread, `then` with its answer on the screen thread."""

        def fail(error: UserError) -> None:
            self.failed.emit(error, topic)

        def run() -> None:
            try:
                answer: Any = work()
            except UserError as error:
                self._landed.emit(fail, error)
            except Exception as error:
                log.exception("keeping the case failed")
                words = StoreError(
                    say("the case could not be kept ({error})", error=str(error)),
                    str(self.path or ""),
                    "Save a copy elsewhere.",
                )
                self._landed.emit(fail, words)
            else:
                self._landed.emit(then, answer)

        future: Future[None] = self._thread.submit(run)
        del future

    def _land(self, then: Callable[[Any], None], answer: Any) -> None:
        then(answer)
