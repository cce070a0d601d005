"""The sum of courses, such as a first course and a boost: in Gy as absorbed, and as EQD2.

Each course keeps its own number of fractions. Its EQD2 is that of every voxel's own dose per fraction, D (D/n + a/b) /
(2 + a/b), with the alpha/beta of the volume that is read; then courses are added. The body and whole pictures are read with
one alpha/beta, said beside them. Complete repair between fractions and courses, no time factor: nothing here knows how
long the courses are apart.

Courses may have dose grids of their own. Then all are read, linearly, at the voxel centres of the finest of the grids, cut
to the box they share (to less than one of its voxels beyond).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from engine.base.errors import GeometryError, InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value, own_array
from engine.base.words import say
from engine.dose.dose import Dose
from engine.evaluation.dvh import Dvh
from engine.evaluation.goals import Goal
from engine.evaluation.live import GoalState, LiveBasis, LiveRequest, PlanNow, Prescribed, prepare
from engine.evaluation.radiobiology import LQ_DOUBTFUL_ABOVE_GY, eqd2, eqd2_voxels
from engine.space.grid import Grid, Point
from engine.space.sampling import on_grid
from engine.volumes.volume import Volume

# Of early effects and most tumours, and of late effects [common practice]; every organ and tumour has its own.
USUAL_TARGET_GY, USUAL_OTHER_GY = 10.0, 3.0
USUAL_SOURCE = say("common practice")


@dataclass(frozen=True, eq=False)
class Course(Value):
    """One draft as it is given: what its total dose is made from.

    Parameters
    ----------
    name : of the draft
    doses : of each beam in Gy per MU, all on one grid
    weights, normalisation, isocentre_mm : as ``LiveBasis.evaluate`` takes them
    prescription : a value with dose_gy, fractions and volume_key
    frame : frame of reference of the patient axes
    """

    name: str
    doses: tuple[Dose, ...]
    weights: tuple[float, ...]
    normalisation: str
    prescription: Prescribed
    isocentre_mm: Point
    frame: str


@dataclass(frozen=True, eq=False)
class CourseSumRequest(Value):
    """Two or more courses added up, and what is read of their sum.

    Parameters
    ----------
    alpha_beta_gy : (volume key, Gy); a volume that is not named has the usual one
    picture_alpha_beta_gy : of whole planes, points and the body
    goals : demands on the sum; limits in Gy are EQD2 in the EQD2 sum
    """

    courses: tuple[Course, ...]
    volumes: tuple[Volume, ...]
    alpha_beta_gy: tuple[tuple[str, float], ...] = ()
    picture_alpha_beta_gy: float = USUAL_OTHER_GY
    goals: tuple[Goal, ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        if len(self.courses) < 2:
            raise InputError("a sum needs at least two drafts")
        if len({c.frame for c in self.courses}) > 1:
            raise GeometryError(
                "their doses lie in different frames of reference",
                sum_words([c.name for c in self.courses]),
                "Only drafts on the same image can be added.",
            )
        for gy in (self.picture_alpha_beta_gy, *(gy for _, gy in self.alpha_beta_gy)):
            if not 0.1 <= gy <= 100.0:
                raise InputError(say("an alpha/beta of {gy:g} Gy is not between 0.1 and 100 Gy", gy=gy))
        plain = tuple(Volume(v.key, v.key, v.role, (0, 0, 0), v.coverage) for v in self.volumes)
        object.__setattr__(self, "volumes", plain)

    def alpha_beta_of(self, volume: Volume) -> float:
        """Return the alpha/beta a volume is read with."""
        if volume.role == "EXTERNAL":
            return self.picture_alpha_beta_gy
        return dict(self.alpha_beta_gy).get(volume.key, usual_alpha_beta(volume))


@dataclass(frozen=True, eq=False)
class CourseSum:
    """What the courses give together; each plan is read like any other: DVHs, goals, planes, points.

    Parameters
    ----------
    physical : in Gy as absorbed; ``point`` gives each course's share
    eqd2 : in Gy of EQD2; volumes with their own alpha/beta, planes and points with the picture's
    parts : each course alone, in Gy as absorbed
    reference_gy, reference_eqd2_gy : the prescriptions added, the latter with the picture's alpha/beta: 100 % of a picture
    one_grid : whether all courses had one dose grid
    doubt : why the EQD2 is in doubt, or ""
    """

    request: CourseSumRequest
    physical: PlanNow
    eqd2: PlanNow
    parts: tuple[PlanNow, ...]
    reference_gy: float
    reference_eqd2_gy: float
    one_grid: bool
    doubt: str


@dataclass(frozen=True)
class _Total:
    """The prescriptions added, as one prescription."""

    dose_gy: float
    volume_key: str
    fractions: int = 1
    point: None = None


def sum_words(names: Sequence[str]) -> str:
    """Return what a sum is called everywhere: "sum of A and B"."""
    return say("sum of {names} and {last}", names=", ".join(names[:-1]), last=names[-1])


def usual_alpha_beta(volume: Volume) -> float:
    """Return the alpha/beta in Gy a volume has until somebody chooses one (see USUAL_SOURCE)."""
    return USUAL_TARGET_GY if volume.is_target else USUAL_OTHER_GY


def sum_courses(request: CourseSumRequest, report: Report = quiet) -> CourseSum:
    """Add the courses up.

    Raises
    ------
    GeometryError
        If a course has no dose where it is normalised, or their dose grids have no place in common.
    """
    report(0.0, "adding up the courses")
    basis, one_grid = _laid_together(request.courses, request.volumes)
    fractions = tuple(c.prescription.fractions for c in request.courses)
    reference = sum(c.prescription.dose_gy for c in request.courses)
    ones = (0.01,) * len(fractions)
    physical = basis.evaluate(ones, "None", _total(request, None), None, request.goals)
    parts = tuple(
        basis.evaluate(tuple(w * (i == j) for j, w in enumerate(ones)), "None", None) for i in range(len(fractions))
    )
    converted = _eqd2(request, basis, fractions, part(report, 0.4, 1.0))
    reference_eqd2 = _prescribed_eqd2(request, request.picture_alpha_beta_gy)
    doubt = _doubt(request, parts)
    return CourseSum(request, physical, converted, parts, reference, reference_eqd2, one_grid, doubt)


@lru_cache(maxsize=2)
def _laid_together(courses: tuple[Course, ...], volumes: tuple[Volume, ...]) -> tuple[LiveBasis, bool]:
    """Return the courses' total doses on one grid, read in the volumes; kept: alpha/beta and goals change more often."""
    totals = [_total_dose(course, volumes) for course in courses]
    grid = shared_grid([d.grid for d in totals])
    same = all(d.grid == grid for d in totals)
    doses = tuple(d if d.grid == grid else Dose(own_array(on_grid(d.gy, d.grid, grid)), grid) for d in totals)
    return prepare(LiveRequest(doses, volumes)), same


def _total_dose(course: Course, volumes: Sequence[Volume]) -> Dose:
    wanted = tuple(v for v in volumes if v.key == course.prescription.volume_key)
    basis = prepare(LiveRequest(course.doses, wanted))
    now = basis.evaluate(course.weights, course.normalisation, course.prescription, course.isocentre_mm)
    if now.scale is None:
        raise GeometryError(now.reason, course.name, "Mend this draft first.")
    return now.dose()


def shared_grid(grids: Sequence[Grid]) -> Grid:
    """Return the finest of the grids, cut to the box that all of them hold; the order does not matter.

    Raises
    ------
    GeometryError
        If there is no such box.
    """
    finest = min(grids, key=lambda g: (g.voxel_cm3, g.fingerprint))
    lows, highs = (np.array([g.bounds_mm[side] for g in grids]) for side in (0, 1))
    low, high = lows.max(axis=0), highs.min(axis=0)
    spacing, face = np.array(finest.spacing_mm), np.array(finest.bounds_mm[0])
    first = np.floor((low - face) / spacing + 1e-6).astype(int)
    last = np.ceil((high - face) / spacing - 1e-6).astype(int)
    if (last <= first).any() or (high <= low).any():
        raise GeometryError("the dose grids of the courses have no place in common")
    origin = np.array(finest.origin_mm) + first * spacing
    n = last - first
    return Grid(tuple(float(v) for v in origin), finest.spacing_mm, (int(n[2]), int(n[1]), int(n[0])))  # type: ignore[arg-type]


def _eqd2(request: CourseSumRequest, basis: LiveBasis, fractions: Sequence[int], report: Report) -> PlanNow:
    """Read each group of volumes of one alpha/beta in doses converted with it; the body's group gives the pictures."""
    groups: dict[float, list[Volume]] = {request.picture_alpha_beta_gy: []}
    for volume in request.volumes:
        groups.setdefault(request.alpha_beta_of(volume), []).append(volume)
    dvhs: dict[str, Dvh] = {}
    states: list[GoalState] = []
    picture: PlanNow | None = None
    for i, (alpha_beta, volumes) in enumerate(groups.items()):
        report(i / len(groups), "converting to EQD2")
        doses = tuple(
            Dose(own_array(eqd2_voxels(gy, n, alpha_beta)), basis.grid) for gy, n in zip(basis.gy, fractions, strict=True)
        )
        keys = {v.key for v in volumes}
        goals = tuple(g for g in request.goals if g.volume_key in keys)
        read = prepare(LiveRequest(doses, tuple(volumes)))
        now = read.evaluate((0.01,) * len(doses), "None", _total(request, alpha_beta), None, goals)
        picture = now if picture is None else picture
        dvhs.update(now.dvhs)
        states += now.goals
    assert picture is not None
    ordered = {v.key: dvhs[v.key] for v in request.volumes if v.key in dvhs}
    return dataclasses.replace(picture, dvhs=ordered, goals=_as_asked(request.goals, states))


def _as_asked(goals: Sequence[Goal], states: Sequence[GoalState]) -> tuple[GoalState, ...]:
    found: Mapping[int, GoalState] = {id(s[0]): s for s in states}
    return tuple(found.get(id(g), (g, None, say("not judged"))) for g in goals)


def _total(request: CourseSumRequest, alpha_beta_gy: float | None) -> _Total | None:
    """Return the prescriptions added, if all are to one volume: else nobody knows what 100 % of a goal would be."""
    wanted = [c.prescription for c in request.courses]
    if len({p.volume_key for p in wanted}) > 1:
        return None
    gy = sum(p.dose_gy for p in wanted) if alpha_beta_gy is None else _prescribed_eqd2(request, alpha_beta_gy)
    return _Total(gy, wanted[0].volume_key)


def _prescribed_eqd2(request: CourseSumRequest, alpha_beta_gy: float) -> float:
    return sum(eqd2(c.prescription.dose_gy, c.prescription.fractions, alpha_beta_gy) for c in request.courses)


def _doubt(request: CourseSumRequest, parts: Sequence[PlanNow]) -> str:
    for course, now in zip(request.courses, parts, strict=True):
        hottest = now.hottest()
        per_fraction = hottest[1] / course.prescription.fractions if hottest is not None else 0.0
        if per_fraction > LQ_DOUBTFUL_ABOVE_GY:
            return say(
                "{name} gives up to {gy:.1f} Gy a fraction: above {limit:g} Gy the linear-quadratic formula is in doubt",
                name=course.name,
                gy=per_fraction,
                limit=LQ_DOUBTFUL_ABOVE_GY,
            )
    return ""
