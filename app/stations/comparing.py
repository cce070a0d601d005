"""Compares volumes of the case with each other, or with another observer's, beside the screen and after every edit."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QFileDialog

from app.core.context import Context
from app.core.language import translated
from app.models.pair_table import Pair
from app.panels.comparison import Comparison
from app.views.outline_paths import OutlinePaths
from app.views.unlike_layer import UnlikeLayer
from engine import compute
from engine.case import edits
from engine.case.case import Case
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume, new_key

KIND, READ = "compare-volumes", "read-observer"
TOLERANCE = "compare/tolerance_mm"
REST_MS = 300
KEPT = 300

Key = tuple[int, int, float]


class Comparing(QObject):
    """Turns the form into requests and their results into numbers, a table and a picture.

    What was found is kept by the very coverages compared (held, so that an id is never used twice), so a late result
    does no harm and undo needs no computing. The other observer's volumes are no part of the case.
    """

    def __init__(self, context: Context, panel: Comparison) -> None:
        super().__init__()
        self._context, self._panel = context, panel
        self.theirs: tuple[Volume, ...] = ()
        self.theirs_name = ""
        self.layer = UnlikeLayer(OutlinePaths())
        self._awake = False
        self._found: dict[Key, tuple[Any, Coverage, Coverage]] = {}
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._ask)
        context.jobs.result.connect(self._result)
        context.jobs.failed.connect(lambda kind, _: self._show(self.tr("This failed.")) if kind == KIND else None)
        context.workspace.case_changed.connect(self._case_changed)
        panel.changed.connect(self._chosen)
        panel.read_wanted.connect(self.ask_file)
        panel.drop_wanted.connect(lambda: self._observe((), ""))
        panel.slice_wanted.connect(self.to_worst_slice)
        panel.place_wanted.connect(self.to_worst_place)
        panel.take_wanted.connect(self.take_over)

    def wake(self, awake: bool) -> None:
        """Compare while the form is in front, and not otherwise."""
        if awake == self._awake:
            return
        self._awake = awake
        if awake:
            self._context.stage.add_layer(self.layer)
            self._offer()
        else:
            self._rest.stop()
            self._context.jobs.cancel(KIND)
            self.layer.show(None, None)
            self._context.stage.remove_layer(self.layer)

    # what is compared

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if after is None or before is None or before.image is not after.image:
            self.theirs, self.theirs_name = (), ""
            self._found.clear()
        if self._awake and (before is None or after is None or before.volumes is not after.volumes):
            self._offer()

    def _offer(self) -> None:
        case = self._context.workspace.case
        mine = case.volumes if case is not None else ()
        self._panel.show_volumes(mine, self.theirs, self.theirs_name)
        if self.pair() is None:
            self._choose_usual()
        pairs = self.pairs()
        known = {p.second.key for p in pairs}
        self._panel.show_observer(self.theirs_name, len(pairs), [v.name for v in self.theirs if v.key not in known])
        self._again()

    def _choose_usual(self) -> None:
        """The active volume with its partner, or with the next volume of the case."""
        case, active = self._context.workspace.case, self._context.workspace.volume
        if case is None or active is None:
            return
        partners = [p.second for p in self.pairs() if p.first.key == active.key]
        others = partners or [v for v in case.volumes if v.key != active.key and v.role == active.role]
        others = others or [v for v in case.volumes if v.key != active.key and v.role != "EXTERNAL"]
        self._panel.choose(active.key, others[0].key if others else "")

    def pair(self) -> tuple[Volume, Volume] | None:
        """Return A and B as they are now, or None if one is not chosen."""
        case = self._context.workspace.case
        first, second = self._panel.chosen
        a = case.volume(first) if case is not None else None
        b = next((v for v in (*(case.volumes if case is not None else ()), *self.theirs) if v.key == second), None)
        return (a, b) if a is not None and b is not None else None

    def pairs(self) -> list[Pair]:
        """Return the case's volumes with the observer's of the same name, letter case aside."""
        case = self._context.workspace.case
        if case is None:
            return []
        by_name = {v.name.strip().lower(): v for v in reversed(self.theirs)}
        both = [(v, by_name[v.name.strip().lower()]) for v in case.volumes if v.name.strip().lower() in by_name]
        return [Pair(a, b, self._likeness(a, b)) for a, b in both]

    def _likeness(self, a: Volume, b: Volume) -> Any:
        found = self._found.get(self._key(a.coverage, b.coverage))
        return found[0] if found is not None else None

    def _key(self, a: Coverage, b: Coverage) -> Key:
        return (id(a), id(b), self._panel.tolerance.value())

    # asking and showing

    def _chosen(self) -> None:
        self._context.settings.set(TOLERANCE, self._panel.tolerance.value())
        self._again()

    def _again(self) -> None:
        self._show()
        if self._awake:
            self._rest.start()

    def _ask(self) -> None:
        if not self._awake:
            return
        if self._context.stage.painting:
            self._rest.start()
            return
        # One at a time, small ones first: what else waits for the compute thread gets its turn between them.
        pair = self.pair()
        rest = sorted(self.pairs(), key=lambda p: sum(t.total for t in p.first.coverage.tiles))
        both = ([pair] if pair is not None else []) + [(p.first, p.second) for p in rest]
        for a, b in both:
            key = self._key(a.coverage, b.coverage)
            if key not in self._found:
                request = compute.request("CompareVolumes", first=a.coverage, second=b.coverage, tolerance_mm=key[2])
                self._context.jobs.submit(KIND, [request])
                return
        self._context.jobs.cancel(KIND)

    def _result(self, kind: str, request: Any, value: Any) -> None:
        if kind == READ:
            self._read(request, value)
        if kind != KIND:
            return
        self._found[(id(request.first), id(request.second), request.tolerance_mm)] = (value, request.first, request.second)
        while len(self._found) > KEPT:
            self._found.pop(next(iter(self._found)))
        self._show()
        if not self._rest.isActive():
            self._ask()

    def _show(self, failed: str = "") -> None:
        if not self._awake:
            return
        self._panel.show_pairs(self.pairs())
        pair = self.pair()
        if pair is None:
            self.layer.show(None, None)
            words = self.tr("Choose two volumes, or read another observer's structure set of the same images.")
            self._panel.show_likeness(None, words)
            return
        a, b = pair
        other = any(b is v for v in self.theirs)
        same = b.name.strip().lower() == a.name.strip().lower()
        names = (
            self.tr("A, {}").format(a.name),
            self.tr("B, {}").format(self.theirs_name if other and same else b.name),
        )
        self.layer.show(a, b, names)
        found = self._likeness(a, b)
        words = "" if found is not None else failed or self.tr("Comparing\u2026")
        if found is not None and found.mean_mm is None:
            words = self.tr("One of the two is empty, so there are no distances.")
        self._panel.show_likeness(found, words, other and not self._context.workspace.read_only)

    # going there

    def to_worst_slice(self) -> None:
        """Go to the slice with the largest difference, into the part only one of the two holds."""
        pair = self.pair()
        found = self._likeness(*pair) if pair is not None else None
        if pair is None or found is None or found.worst_plane is None:
            return
        a, b = (v.coverage.slice(found.worst_plane).astype(np.int16) for v in pair)
        at = np.argwhere(np.abs(a - b) > 127)
        if not len(at):
            at = np.argwhere(a != b)
        nearest = at[((at - at.mean(axis=0)) ** 2).sum(axis=1).argmin()]
        x, y, z = pair[0].coverage.grid.point((found.worst_plane, *nearest)).tolist()
        self._context.stage.centre_on((x, y, z))

    def to_worst_place(self) -> None:
        """Go to the place of the largest distance."""
        pair = self.pair()
        found = self._likeness(*pair) if pair is not None else None
        if found is not None and found.worst_mm is not None:
            self._context.stage.centre_on(found.worst_mm)

    # the other observer

    def ask_file(self) -> None:
        """Let the person choose a structure set."""
        start = self._context.settings.get("folder/images")
        path, _ = QFileDialog.getOpenFileName(self._panel, self.tr("Another observer's structure set"), start)
        if path:
            self.read(Path(path))

    def read(self, path: Path) -> None:
        """Read a structure set of the case's images as another observer's."""
        case = self._context.workspace.case
        if case is not None:
            self._context.jobs.submit(READ, [compute.request("ReadStructures", path=str(path), image=case.image)])

    def _read(self, request: Any, read: Any) -> None:
        case = self._context.workspace.case
        if case is None or request.image is not case.image:
            return
        name = Path(request.path).name
        self._observe(tuple(v.but(key=new_key()) for v in read.volumes), name)
        words = self.tr("{} volumes of {} are compared; the case stays as it is.").format(len(read.volumes), name)
        if read.notes:
            text = " ".join([words, *map(translated, read.notes[:3])])
            self._context.messages.warning(text, topic="case/observer")
        else:
            self._context.messages.info(words, topic="case/observer")

    def _observe(self, volumes: tuple[Volume, ...], name: str) -> None:
        self.theirs, self.theirs_name = volumes, name
        first, second = self._panel.chosen
        partner = next((p.second.key for p in self.pairs() if p.first.key == first), second)
        if self._awake:
            case = self._context.workspace.case
            self._panel.show_volumes(case.volumes if case is not None else (), volumes, name)
            self._panel.choose(first, partner)
            self._offer()

    def take_over(self) -> None:
        """Make the observer's volume a new one of the case, as one undoable step."""
        workspace, pair = self._context.workspace, self.pair()
        case = workspace.case
        if case is None or pair is None or not any(pair[1] is v for v in self.theirs):
            return
        taken = {v.name.lower() for v in case.volumes}
        name, n = pair[1].name, 2
        while name.lower() in taken:
            name, n = f"{pair[1].name}_{n}", n + 1
        note = self.tr("taken over from {}").format(self.theirs_name)
        new = pair[1].but(key=new_key(), name=name, colour=edits.next_colour(case), note=note)
        workspace.edit(self.tr("Take {} over from {}").format(name, self.theirs_name), edits.with_volume(case, new))
