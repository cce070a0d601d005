"""A beam as it is planned, in IEC 61217 angles."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import isfinite
from typing import ClassVar

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say


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
class Beam(Value):
    """One static photon beam.

    Parameters
    ----------
    key : identity
    name : shown name
    machine : name of the machine file it is planned on
    isocentre_mm : patient (x, y, z)
    gantry_deg, collimator_deg, couch_deg : IEC 61217, 0 <= a < 360
    aperture : jaws and leaves
    wedge : name of a wedge of the machine; "" without
    wedge_orientation_deg : which way it stands: 0 has its toe towards +Y of the device, see ``wedge``
    bolus : keys of the volumes of role BOLUS that lie on the patient for this beam
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

    LAYOUT: ClassVar[int] = 2

    def __post_init__(self) -> None:
        super().__post_init__()
        for field in ("gantry_deg", "collimator_deg", "couch_deg", "wedge_orientation_deg"):
            object.__setattr__(self, field, round(getattr(self, field), 6) % 360.0)

    def nameless(self) -> Beam:
        """Return the beam without key, name and bolus (which is in the density): what its dose depends on."""
        return self.but(key="", name="", bolus=(), wedge_orientation_deg=self.wedge_orientation_deg if self.wedge else 0.0)
