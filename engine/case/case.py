"""The case: what people decided."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite
from typing import ClassVar

from engine.base.errors import GeometryError, InputError
from engine.base.values import Value
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.case.release import Release
from engine.evaluation.goals import Goal
from engine.image.ct import CtImage
from engine.image.density import DEFAULT_CURVE, DensityCurve
from engine.image.second_image import SecondImage
from engine.space.point import NamedPoint
from engine.volumes.volume import Volume

NORMALISATIONS = ("D95%", "D98%", "D50%", "D2%", "Mean", "Max", "Isocentre", "Point", "None")


@dataclass(frozen=True, eq=False)
class Patient(Value):
    """Who it is, as DICOM says it. Dates YYYYMMDD or empty; nothing is invented. `synthetic` marks demonstrations."""

    name: str = ""
    patient_id: str = ""
    birth_date: str = ""
    sex: str = ""
    synthetic: bool = False


@dataclass(frozen=True, eq=False)
class Prescription(Value):
    """What the physician asks for: total dose in Gy over all fractions, to a volume.

    `point` is where the dose is made equal to the prescription when a draft is normalised to a point.
    """

    LATER: ClassVar[Mapping[str, int]] = {"point": 2}

    dose_gy: float
    fractions: int
    volume_key: str
    point: NamedPoint | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if not 0 < self.dose_gy <= 200 or not 1 <= self.fractions <= 100:
            raise InputError(
                say(
                    "{dose_gy} Gy in {fractions} fractions is not a prescription",
                    dose_gy=self.dose_gy,
                    fractions=self.fractions,
                ),
                "prescription",
                "Give 0 to 200 Gy in 1 to 100 fractions.",
            )


@dataclass(frozen=True, eq=False)
class Draft(Value):
    """One arrangement of beams with its prescription, weights and goals.

    Parameters
    ----------
    weights : one per beam, not negative: each beam's share of the monitor units; only their ratios matter unless
        normalisation is "None", when weight w is 100 w MU per fraction
    normalisation : one of NORMALISATIONS: what of the prescribed volume (or the dose at the isocentre or at the
        prescription's point) is made equal to the prescription
    dose_spacing_mm : spacing of the fine dose grid
    report_to : "medium" or "water"
    levels_percent : isodose levels shown, percent of the prescription
    marker_mm : patient (x, y, z) of the point the patient is set up to before the couch goes to the isocentre; () if none
    """

    key: str
    name: str
    prescription: Prescription | None = None
    beams: tuple[Beam, ...] = ()
    weights: tuple[float, ...] = ()
    goals: tuple[Goal, ...] = ()
    normalisation: str = "D95%"
    dose_spacing_mm: float = 2.5
    report_to: str = "medium"
    levels_percent: tuple[float, ...] = (107.0, 100.0, 95.0, 80.0, 50.0, 30.0, 10.0)
    marker_mm: tuple[float, float, float] | tuple[()] = ()

    LATER: ClassVar[Mapping[str, int]] = {"marker_mm": 2}

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.marker_mm and not (len(self.marker_mm) == 3 and all(isfinite(v) for v in self.marker_mm)):
            raise InputError("the set-up point is not three numbers", self.name)
        if len(self.weights) != len(self.beams) or any(not 0 <= w < 1e6 for w in self.weights):
            raise InputError("each beam needs one weight that is not negative", self.name)
        if self.normalisation not in NORMALISATIONS:
            raise InputError(
                say(
                    "normalisation {normalisation!r} is not one of {normalisations}",
                    normalisation=self.normalisation,
                    normalisations=", ".join(NORMALISATIONS),
                ),
                self.name,
            )
        if not 1.0 <= self.dose_spacing_mm <= 10.0:
            raise InputError(
                say("a dose grid of {dose_spacing_mm} mm is not between 1 and 10 mm", dose_spacing_mm=self.dose_spacing_mm),
                self.name,
            )
        if len({b.key for b in self.beams}) != len(self.beams):
            raise InputError("two beams share one key", self.name)

    def beam(self, key: str) -> Beam:
        """Return a beam by key."""
        return next(b for b in self.beams if b.key == key)


@dataclass(frozen=True, eq=False)
class Answer(Value):
    """A finding that was not mended but answered with a reason. `finding` is the Finding's `code/place`."""

    finding: str
    reason: str
    who: str
    at: str


@dataclass(frozen=True, eq=False)
class Case(Value):
    """One patient's planning work. `machines` holds every machine its beams name, as it was when it was chosen.

    A goal that waits for a volume is given the one of that name as soon as there is one, whoever brings it.
    `points` are places that came with structure sets: markers, reference points, isocentres.
    `releases` are hand-overs of the volumes to planning, the last one is in force; whether it holds is compared.
    """

    LATER: ClassVar[Mapping[str, int]] = {"releases": 2, "second_images": 2, "points": 2}

    patient: Patient
    image: CtImage
    volumes: tuple[Volume, ...] = ()
    drafts: tuple[Draft, ...] = ()
    curve: DensityCurve = DEFAULT_CURVE
    machines: tuple[Machine, ...] = ()
    answers: tuple[Answer, ...] = ()
    releases: tuple[Release, ...] = ()
    second_images: tuple[SecondImage, ...] = ()
    points: tuple[NamedPoint, ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        object.__setattr__(self, "drafts", _joined(self.drafts, self.volumes))
        _refuse_circles(self.volumes)
        if len({v.key for v in self.volumes}) != len(self.volumes):
            raise InputError("two volumes share one key", "case")
        if any(v.coverage.grid != self.image.grid for v in self.volumes):
            raise GeometryError("a volume lies on another grid than the image", "case")
        known = {m.name for m in self.machines}
        for draft in self.drafts:
            for beam in draft.beams:
                if beam.machine not in known:
                    raise InputError(
                        say("the case does not hold machine {machine!r}", machine=beam.machine),
                        say("beam {beam}", beam=beam.name),
                    )

    def volume(self, key: str) -> Volume | None:
        """Return a volume by key, or None."""
        return next((v for v in self.volumes if v.key == key), None)

    def named(self, name: str) -> Volume | None:
        """Return a volume by name (case does not matter), or None."""
        return next((v for v in self.volumes if v.name.lower() == name.lower()), None)

    @property
    def body(self) -> Volume | None:
        """The volume of role EXTERNAL, or None."""
        return next((v for v in self.volumes if v.role == "EXTERNAL"), None)

    def draft(self, key: str) -> Draft | None:
        """Return a draft by key, or None."""
        return next((d for d in self.drafts if d.key == key), None)

    def machine(self, name: str) -> Machine:
        """Return a machine of the case by name."""
        return next(m for m in self.machines if m.name == name)


def _joined(drafts: tuple[Draft, ...], volumes: tuple[Volume, ...]) -> tuple[Draft, ...]:
    """Return the drafts with goals joined to the volumes they waited for; the same drafts if none did."""
    if not any(g.waits_for for d in drafts for g in d.goals):
        return drafts
    keys = {v.name.lower(): v.key for v in reversed(volumes)}

    def join(goal: Goal) -> Goal:
        key = keys.get(goal.waits_for.lower()) if goal.waits_for else None
        return goal if key is None else goal.but(volume_key=key, waits_for="")

    found = []
    for draft in drafts:
        goals = tuple(join(g) for g in draft.goals)
        same = all(a is b for a, b in zip(goals, draft.goals, strict=True))
        found.append(draft if same else draft.but(goals=goals))
    return drafts if all(a is b for a, b in zip(found, drafts, strict=True)) else tuple(found)


def _refuse_circles(volumes: tuple[Volume, ...]) -> None:
    """Peel off what stands on nothing that is left; what cannot be peeled off is derived from itself."""
    left = {v.key: v for v in volumes if v.recipe is not None}
    while left:
        free = [k for k, v in left.items() if not any(p in left for p in v.recipe.parents)]  # type: ignore[union-attr]
        if not free:
            names = ", ".join(v.name for v in left.values())
            raise InputError(say("volumes are derived from each other in a circle: {names}", names=names), "case")
        for key in free:
            del left[key]
