"""Region growing through all slices: runs beside the screen, is shown, and becomes one edit when kept."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core.guard import Guard
from app.core.language import translated
from engine import compute
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case import edits
from engine.case.case import Case
from engine.volumes.coverage import Coverage

KIND = "grow"


class GrowJob(QObject):
    """One growth at a time. A result is shown only if it answers what was asked last.

    Attributes
    ----------
    asked : the request that runs or is answered, or None
    made : what the volume would be, once answered

    Signals
    -------
    told(words, fraction) : what there is to say; fraction 0..1 while it runs, 1 when it can be kept, -1 otherwise
    """

    told = Signal(str, float)

    def __init__(self, context: Any, guard: Guard | None) -> None:
        super().__init__()
        self._context, self._guard = context, guard
        self.asked: Value | None = None
        self.made: Coverage | None = None
        self._subtract = False
        jobs, workspace = context.jobs, context.workspace
        jobs.result.connect(self._result)
        jobs.progress.connect(self._progress)
        jobs.failed.connect(self._failed)
        workspace.case_changed.connect(self._case_changed)
        workspace.active_changed.connect(self.drop)

    def say_range(self, low_hu: float, high_hu: float) -> None:
        """Tell which CT numbers join."""
        self.told.emit(self.tr("{:.0f} to {:.0f} HU").format(low_hu, high_hu).replace("-", "\u2212"), -1.0)

    def ask(self, seed: tuple[int, int, int], numbers: tuple[float, float, float, float, float], subtract: bool) -> None:
        """Grow from a voxel (plane, row, column); `numbers` as in GrowRegion."""
        workspace = self._context.workspace
        case, volume = workspace.case, workspace.volume
        guard = self._guard.standing if self._guard is not None else None
        self.drop()
        self._subtract = subtract
        self.asked = compute.request(
            "GrowRegion",
            image=case.image,
            seed=seed,
            numbers=numbers,
            coverage=volume.coverage,
            subtract=subtract,
            guard=guard.coverage if guard is not None else None,
            inside=self._guard.inside if self._guard is not None else True,
        )
        self.told.emit(self.tr("Growing through all slices"), 0.0)
        self._context.jobs.submit(KIND, [self.asked])

    def drop(self) -> None:
        """Stop it, or take its preview away: nothing has changed."""
        if self.asked is None:
            return
        self.asked = None
        self._context.jobs.cancel(KIND)
        if self.made is not None and self._context.stage.preview.coverage is self.made:
            self._context.stage.preview.show(None)
        self.made = None
        self.told.emit("", -1.0)

    def keep(self) -> None:
        """Make what is shown one undoable step."""
        made, workspace = self.made, self._context.workspace
        case, volume = workspace.case, workspace.volume
        self.drop()
        if made is not None and case is not None and volume is not None:
            text = self.tr("Cut from {}") if self._subtract else self.tr("Grow in {}")
            workspace.edit(text.format(volume.name), edits.with_volume(case, volume.with_coverage(made)))

    def _result(self, kind: str, request: Value, value: Any) -> None:
        if kind != KIND or self.asked is None or value.inputs != self.asked.fingerprint:
            return
        notes = translated(value.notes)
        if not value.grown_cm3:
            self.drop()
            self.told.emit(self.tr("Nothing grew from that place."), -1.0)
            return
        self.made = value.coverage
        self._context.stage.preview.show(self.made)
        words = self.tr("{:.1f} cm\u00b3 found.").format(value.grown_cm3)
        if notes:
            words += " " + self.tr("Held back: {}.").format(notes)
        self.told.emit(words + " " + self.tr("Enter keeps it, Esc drops it."), 1.0)

    def _progress(self, kind: str, fraction: float, words: str) -> None:
        if kind == KIND and self.asked is not None and self.made is None:
            self.told.emit(self.tr("Growing through all slices"), min(fraction, 0.99))

    def _failed(self, kind: str, error: BaseException) -> None:
        if kind == KIND and self.asked is not None:
            self.drop()
            words = translated(error) if isinstance(error, UserError) else self.tr("This failed; the log says why.")
            self.told.emit(words, -1.0)

    def _case_changed(self, before: Case | None, after: Case | None) -> None:
        if before is None or after is None or before.volumes is not after.volumes or before.image is not after.image:
            self.drop()
