"""A demonstration patient as a value: image, true volumes, and what one might plan for it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from engine.base.values import Value
from engine.image.ct import CtImage
from engine.image.second_image import SecondImage
from engine.volumes.volume import Volume


@dataclass(frozen=True, eq=False)
class GoalHint(Value):
    """A goal by volume name. Fields as in a plan's goals: comparator "<=" or ">=", limit and tolerance in the metric's
    unit, priority 1 (must) to 3 (wish), source with how it is known."""

    volume: str
    metric: str
    comparator: str
    limit: float
    tolerance: float
    priority: int
    source: str


@dataclass(frozen=True, eq=False)
class PlanHint(Value):
    """A sensible start for planning: an exercise, not advice for any real patient.

    Parameters
    ----------
    target : name of the volume that is prescribed to
    prescription_gy : total dose over all fractions
    gantry_deg, collimator_deg, couch_deg, weights : one per beam, IEC 61217 angles
    wanted_machine : name of a shipped machine; take any other if it is not there
    goals : demands by volume name
    """

    target: str
    prescription_gy: float
    fractions: int
    gantry_deg: tuple[float, ...]
    collimator_deg: tuple[float, ...]
    couch_deg: tuple[float, ...]
    weights: tuple[float, ...]
    wanted_machine: str
    goals: tuple[GoalHint, ...]


@dataclass(frozen=True, eq=False)
class Phantom(Value):
    """A synthetic patient.

    Parameters
    ----------
    name : "thorax", "head" or "pelvis"
    patient_name, patient_id, sex : as DICOM writes them; no birth date, nobody was born
    note : says that the patient is synthetic
    image : its CT
    volumes : true volumes on the image's grid, from the very solids that made the image
    plan : a start for planning
    second : another image of the same patient with its true way to the CT, or None
    """

    LATER: ClassVar[Mapping[str, int]] = {"second": 2}

    name: str
    patient_name: str
    patient_id: str
    sex: str
    note: str
    image: CtImage
    volumes: tuple[Volume, ...]
    plan: PlanHint
    second: SecondImage | None = None

    def volume(self, name: str) -> Volume:
        """Return a volume by its name."""
        return next(v for v in self.volumes if v.name == name)


def key_of(phantom: str, volume: str) -> str:
    """Return the key of a true volume: eight hex digits that only depend on the two names."""
    return hashlib.sha256(f"{phantom}/{volume}".encode()).hexdigest()[:8]
