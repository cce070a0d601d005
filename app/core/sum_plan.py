"""The sum of two or more drafts to look at: asked for from the doses they have, gone as soon as one of them changes.

It is a view. Nothing of it is kept with the case, so nothing of it can be signed or exported.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal

from app.core.jobs import JobRunner
from app.core.language import translated
from app.core.workspace import Workspace
from engine import compute
from engine.base.errors import UserError
from engine.base.values import Value
from engine.case.case import Draft
from engine.case.courses import course_of, goals_of
from engine.volumes.volume import Volume

KIND = "course-sum"


class SumPlan(QObject):
    """Holds the chosen drafts, whether Gy or EQD2 is read, and the alpha/beta of each volume.

    Looks to dose layers and the DVH like the follower of a draft (``now``, ``is_old``, ``shown_draft``, ``ghost``).

    Signals
    -------
    now_changed(now, state) : another sum or none ("none", "reading", "current"), or read in another quantity
    ghost_changed(object) : never
    lapsed(words) : a member changed and the sum is gone; words say which and why
    refused(words) : these drafts cannot be added
    """

    now_changed = Signal(object, str)
    ghost_changed = Signal(object)
    lapsed = Signal(str)
    refused = Signal(str)

    def __init__(self, workspace: Workspace, jobs: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.workspace, self._jobs = workspace, jobs
        self.keys: tuple[str, ...] = ()
        self.names: tuple[str, ...] = ()
        self.found: Any = None
        self.in_eqd2 = False
        # Alpha/beta by volume key where somebody chose one ("" of pictures): as wanted, and as what is shown was read with.
        self.chosen_gy: dict[str, float] = {}
        self.used_gy: dict[str, float] = {}
        self.origins: tuple[tuple[str, ...], ...] = ()
        self._courses: tuple[Any, ...] = ()
        self._goals: tuple[Any, ...] = ()
        self._volumes: tuple[Any, ...] = ()
        self._image: Any = None
        self._asked: Value | None = None
        self._asked_with: tuple[dict[str, float], tuple[tuple[str, ...], ...]] = ({}, ())
        self.ghost: Any = None
        self.is_old, self.reason, self.problem = False, "", ""
        workspace.case_changed.connect(self._check)
        workspace.results_changed.connect(self._check)
        workspace.active_changed.connect(self._check)
        jobs.result.connect(self._take)
        jobs.failed.connect(lambda kind, error: self.end() if kind == KIND else None)

    # -- what the views ask --------------------------------------------------------------------------------------

    @property
    def now(self) -> Any:
        """The sum as a plan (PlanNow) in the chosen quantity, or None."""
        return None if self.found is None else self.found.eqd2 if self.in_eqd2 else self.found.physical

    @property
    def state(self) -> str:
        """ "none", "reading" or "current"."""
        return "current" if self.found is not None else "reading" if self.keys else "none"

    @property
    def shown_draft(self) -> Draft | None:
        """The first member, whose levels and target are shown."""
        return self.workspace.case.draft(self.keys[0]) if self.keys and self.workspace.case is not None else None

    @property
    def reference_gy(self) -> float:
        """The dose that is 100 % of the pictures: the prescriptions added."""
        if self.found is None:
            return 0.0
        return float(self.found.reference_eqd2_gy if self.in_eqd2 else self.found.reference_gy)

    @property
    def members(self) -> tuple[Draft, ...]:
        """The drafts of the sum."""
        case = self.workspace.case
        return tuple(d for d in map(case.draft, self.keys) if d is not None) if case is not None else ()

    def title(self, shorten: Callable[[str], str] = str) -> str:
        """Return what it is called: "sum of A and B"; `shorten` may cut the names where there is little room."""
        from engine.evaluation.course_sum import sum_words

        return translated(sum_words([shorten(name) for name in self.names])) if len(self.names) > 1 else ""

    def heading(self) -> str:
        """Return what it is called as a heading."""
        title = self.title()
        return title[:1].upper() + title[1:]

    def picture_words(self) -> str:
        """Return the quantity of planes and points with all that belongs to it."""
        if not self.in_eqd2:
            return self.tr("physical dose in Gy")
        return self.tr("EQD2 in Gy, {0}").format(self.alpha_beta_words(""))

    def short_words(self) -> str:
        """Return the quantity of planes and points in short."""
        return (
            self.tr("EQD2, α/β {0} Gy").format(f"{self.alpha_beta('')[0]:g}") if self.in_eqd2 else self.tr("physical dose")
        )

    def unit(self, key: str = "") -> str:
        """Return what stands behind a dose of a volume ("": of a point of a picture)."""
        return self.tr("Gy EQD2 ({0})").format(self.alpha_beta_words(key)) if self.in_eqd2 else self.tr("Gy")

    def alpha_beta_words(self, key: str) -> str:
        """Return the alpha/beta of a volume and where it is from."""
        gy, source = self.alpha_beta(key)
        return self.tr("α/β {0} Gy, {1}").format(f"{gy:g}", source)

    def alpha_beta(self, key: str) -> tuple[float, str]:
        """Return the alpha/beta of a volume ("" and the body: of pictures) in Gy and where it is from."""
        from engine.evaluation.course_sum import USUAL_OTHER_GY, USUAL_SOURCE, usual_alpha_beta

        volume = self.workspace.case.volume(key) if self.workspace.case is not None else None
        key = "" if volume is None or volume.role == "EXTERNAL" else key
        if key in self.used_gy:
            return self.used_gy[key], self.tr("chosen here")
        usual = USUAL_OTHER_GY if not key or volume is None else usual_alpha_beta(volume)
        return usual, translated(USUAL_SOURCE)

    def readout(self, point_mm: tuple[float, float, float]) -> str:
        """Return the dose at a point: the sum, and of each course in order its Gy and its Gy in a fraction."""
        if self.now is None:
            return ""
        total = f"{sum(self.now.point(point_mm)):.2f}"
        parts = [
            f"{gy:.2f} ({gy / draft.prescription.fractions:.2f})"
            for gy, draft in zip(self.found.physical.point(point_mm), self.members)
            if draft.prescription is not None
        ]
        if not self.in_eqd2:
            return self.tr("sum {0} Gy = {1} a fraction").format(total, " + ".join(parts))
        words = self.tr("sum {0} Gy EQD2 (α/β {1} Gy) of {2} Gy a fraction")
        return words.format(total, f"{self.alpha_beta('')[0]:g}", " + ".join(parts))

    # -- the hand ------------------------------------------------------------------------------------------------

    def choose(self, keys: tuple[str, ...]) -> bool:
        """Add up these drafts; fewer than two end the sum. Returns whether a sum is on its way."""
        case = self.workspace.case
        if case is None or len(keys) < 2:
            self.end()
            return False
        drafts = [case.draft(k) for k in keys]
        try:
            courses = tuple(course_of(case, d, self.workspace.results) for d in drafts if d is not None)
            self.keys, self.names, self.found = tuple(keys), tuple(c.name for c in courses), None
            self._courses, self._volumes = courses, _places(case.volumes)
            self._ask()
        except UserError as error:
            self.end()
            self.refused.emit(translated(error))
            return False
        self._tell()
        return True

    def end(self) -> None:
        """Leave the sum."""
        if self.keys:
            self.keys, self.names, self.found, self._courses, self._asked = (), (), None, (), None
            self._jobs.cancel(KIND)
            self._tell()

    def set_eqd2(self, in_eqd2: bool) -> None:
        """Read EQD2 instead of physical dose."""
        if in_eqd2 != self.in_eqd2:
            self.in_eqd2 = in_eqd2
            self._tell()

    def set_alpha_beta(self, key: str, gy: float | None) -> bool:
        """Choose the alpha/beta of a volume ("" and the body: of pictures), or None for the usual; whether it was taken."""
        volume = self.workspace.case.volume(key) if self.workspace.case is not None else None
        key = "" if volume is None or volume.role == "EXTERNAL" else key
        before = dict(self.chosen_gy)
        self.chosen_gy.pop(key, None)
        if gy is not None:
            self.chosen_gy[key] = gy
        try:
            if self.keys and self.chosen_gy != before:
                self._ask()
        except UserError as error:
            self.chosen_gy = before
            self.refused.emit(translated(error))
            return False
        return True

    # -- following -----------------------------------------------------------------------------------------------

    def _ask(self) -> None:
        from engine.evaluation.course_sum import USUAL_OTHER_GY

        case = self.workspace.case
        if case is None:
            return
        listed = goals_of(self.members)
        self._goals = tuple(g for g, _ in listed)
        self._asked_with = dict(self.chosen_gy), tuple(names for _, names in listed)
        self._asked = compute.request(
            "CourseSumRequest",
            courses=self._courses,
            volumes=case.volumes,
            alpha_beta_gy=tuple((k, gy) for k, gy in sorted(self.chosen_gy.items()) if k),
            picture_alpha_beta_gy=self.chosen_gy.get("", USUAL_OTHER_GY),
            goals=self._goals,
        )
        self._jobs.submit(KIND, [self._asked])

    def _take(self, kind: str, request: Value, value: Any) -> None:
        if kind == KIND and request is self._asked:
            self.found, (self.used_gy, self.origins) = value, self._asked_with
            self._tell()

    def _check(self, *_: object) -> None:
        """Let the sum lapse if a member or a volume is not what was added up."""
        if self.workspace.case is None or self.workspace.case.image is not self._image:
            self._image = self.workspace.case.image if self.workspace.case is not None else None
            self.chosen_gy, self.used_gy = {}, {}
        if not self.keys:
            return
        why = self._changed()
        if why:
            words = self.tr("The {0} is gone: {1}").format(self.title(), why)
            self.end()
            self.lapsed.emit(words)

    def _changed(self) -> str:
        case, active = self.workspace.case, self.workspace.draft
        if case is None or active is None:
            return self.tr("another case is open.")
        if _places(case.volumes) != self._volumes:
            return self.tr("a volume was changed.")
        courses = []
        for key, name, course in zip(self.keys, self.names, self._courses):
            draft = case.draft(key)
            if draft is None:
                return self.tr("{0} was removed.").format(name)
            try:
                present = course_of(case, draft, self.workspace.results)
            except UserError as error:
                return translated(error)
            if present.but(name=name) != course:
                return self.tr("{0} was changed.").format(name)
            courses.append(present)
        if active.key not in self.keys:
            return self.tr("another draft is active.")
        names, goals = tuple(c.name for c in courses), tuple(g for g, _ in goals_of(self.members))
        if names != self.names or goals != self._goals:
            self.names, self._courses = names, tuple(courses)
            self._ask()
            self._tell()
        return ""

    def _tell(self) -> None:
        self.now_changed.emit(self.now, self.state)


def _places(volumes: tuple[Volume, ...]) -> tuple[tuple[str, str, str], ...]:
    return tuple((v.key, v.role, v.coverage.fingerprint) for v in volumes)
