"""A beam as it is planned, in IEC 61217 angles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite
from typing import ClassVar

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say

# Which way the gantry turns while the beam delivers, as the gantry angle grows (CW) or falls (CC) [DICOM PS3.3 C.8.8.14].
ROTATIONS = ("", "CW", "CC")

_WEIGHT_SLACK = 1e-9


@dataclass(frozen=True, eq=False)
class Aperture(Value):
    """What the beam limiting device lets through; all positions in mm at the isocentre plane, device axes.

    Parameters
    ----------
    x_mm, y_mm : jaw positions (X1, X2), (Y1, Y2)
    leaf_edges_mm : boundaries of the leaf pairs along Y, N + 1 ascending values; () without leaves
    leaves_mm : N pairs (bank at -X, bank at +X); () without leaves
    """

    x_mm: tuple[float, float]
    y_mm: tuple[float, float]
    leaf_edges_mm: tuple[float, ...] = ()
    leaves_mm: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        places = (*self.x_mm, *self.y_mm, *self.leaf_edges_mm, *(v for pair in self.leaves_mm for v in pair))
        if not all(isfinite(v) for v in places):
            raise InputError("the position of a jaw or leaf is not a number", "aperture")
        if self.x_mm[1] < self.x_mm[0] or self.y_mm[1] < self.y_mm[0]:
            raise InputError(say("jaws cross: X {x_mm}, Y {y_mm} mm", x_mm=self.x_mm, y_mm=self.y_mm), "aperture")
        if (self.leaf_edges_mm or self.leaves_mm) and len(self.leaf_edges_mm) != len(self.leaves_mm) + 1:
            raise InputError("leaf pairs and leaf boundaries do not match", "aperture")
        if any(b <= a for a, b in pairwise(self.leaf_edges_mm)):
            raise InputError("the boundaries of the leaves do not ascend", "aperture")
        if any(b < a - 1e-6 for a, b in self.leaves_mm):
            raise InputError("opposed leaves cross", "aperture")


@dataclass(frozen=True, eq=False)
class ControlPoint(Value):
    """Where the gantry and the aperture stand when a share of the beam's monitor units is given.

    One control point of an RT Plan (PS3.3 C.8.8.14), its meterset weight as a share of the final one. From point to
    point everything moves evenly with the monitor units.

    Parameters
    ----------
    cumulative_weight : 0 at the first point, 1 at the last
    gantry_deg : IEC 61217, 0 <= a < 360
    aperture : jaws and leaves
    """

    cumulative_weight: float
    gantry_deg: float
    aperture: Aperture

    def __post_init__(self) -> None:
        super().__post_init__()
        if not (isfinite(self.gantry_deg) and isfinite(self.cumulative_weight)):
            raise InputError("the gantry angle or weight of a control point is not a number", "control point")
        object.__setattr__(self, "gantry_deg", round(self.gantry_deg, 6) % 360.0)
        if not 0.0 <= self.cumulative_weight <= 1.0:
            raise InputError(
                say("a cumulative weight of {weight:g} is not between 0 and 1", weight=self.cumulative_weight),
                "control point",
            )


@dataclass(frozen=True, eq=False)
class Beam(Value):
    """One photon beam: a still one, one of several apertures after another, or an arc.

    Parameters
    ----------
    key : identity
    name : shown name
    machine : name of the machine file it is planned on
    isocentre_mm : patient (x, y, z)
    gantry_deg, collimator_deg, couch_deg : IEC 61217, 0 <= a < 360; with `points` the gantry's is that of the first
    aperture : jaws and leaves; with `points` those of the first
    wedge : name of a wedge of the machine; "" without
    wedge_orientation_deg : which way it stands: 0 has its toe towards +Y of the device, see ``wedge``
    bolus : keys of the volumes of role BOLUS that lie on the patient for this beam
    points : control points, two or more, or () where nothing moves. An aperture that stays while monitor units are given
        stands at two points (see ``segments``)
    rotation : one of ROTATIONS; "" where the gantry stands still. In an arc two neighbouring points at one angle are a
        full turn apart, as in DICOM
    """

    key: str
    name: str
    machine: str
    isocentre_mm: tuple[float, float, float]
    gantry_deg: float
    collimator_deg: float
    couch_deg: float
    aperture: Aperture
    wedge: str = ""
    wedge_orientation_deg: float = 0.0
    bolus: tuple[str, ...] = ()
    points: tuple[ControlPoint, ...] = ()
    rotation: str = ""

    LAYOUT: ClassVar[int] = 2
    LATER: ClassVar[Mapping[str, int]] = {"points": 3, "rotation": 3}

    def __post_init__(self) -> None:
        super().__post_init__()
        for field in ("gantry_deg", "collimator_deg", "couch_deg", "wedge_orientation_deg"):
            object.__setattr__(self, field, round(getattr(self, field), 6) % 360.0)
        self._check_points()

    def _check_points(self) -> None:
        where = say("beam {beam}", beam=self.name) if self.name else say("a beam")
        if self.rotation not in ROTATIONS:
            raise InputError(say("its gantry cannot turn {rotation!r}", rotation=self.rotation), where, "Use CW or CC.")
        if not self.points:
            if self.rotation:
                raise InputError("it is an arc without control points", where, "Give it two or more.")
            return
        if len(self.points) < 2:
            raise InputError("it has one control point, and two are the least", where)
        weights = [p.cumulative_weight for p in self.points]
        if weights[0] > _WEIGHT_SLACK or weights[-1] < 1 - _WEIGHT_SLACK:
            raise InputError(
                say("its weights run from {first:g} to {last:g}, not from 0 to 1", first=weights[0], last=weights[-1]),
                where,
            )
        fall = next((n for n, (a, b) in enumerate(pairwise(weights), 2) if b < a), 0)
        if fall:
            raise InputError(say("its weight falls at control point {n}", n=fall), where)
        if self.points[0].gantry_deg != self.gantry_deg or self.points[0].aperture != self.aperture:
            raise InputError("its gantry angle and aperture are not those of its first control point", where)
        if not self.rotation and any(p.gantry_deg != self.gantry_deg for p in self.points):
            raise InputError(
                "its gantry turns from control point to control point, but it does not say which way",
                where,
                "Use CW or CC.",
            )
        if any(p.aperture.leaf_edges_mm != self.aperture.leaf_edges_mm for p in self.points):
            raise InputError("the leaves of its control points are not the same pairs", where)

    @property
    def is_arc(self) -> bool:
        """Whether the gantry turns while it delivers."""
        return bool(self.rotation)

    @property
    def apertures(self) -> tuple[Aperture, ...]:
        """The apertures of all control points in order, each once; one for a still beam."""
        return tuple(dict.fromkeys(p.aperture for p in self.points)) or (self.aperture,)

    def at(self, gantry_deg: float) -> Beam:
        """Return a still beam as this one stands at a gantry angle, with the first aperture."""
        return self.but(gantry_deg=gantry_deg, points=(), rotation="")

    def turned_to(self, gantry_deg: float) -> Beam:
        """Return the beam with its gantry, and all its control points with it, turned so that it starts at an angle."""
        by = gantry_deg - self.gantry_deg
        points = tuple(p.but(gantry_deg=p.gantry_deg + by) for p in self.points)
        return self.but(gantry_deg=points[0].gantry_deg if points else gantry_deg, points=points)

    def nameless(self) -> Beam:
        """Return the beam without key, name and bolus (which is in the density): what its dose depends on."""
        return self.but(key="", name="", bolus=(), wedge_orientation_deg=self.wedge_orientation_deg if self.wedge else 0.0)
