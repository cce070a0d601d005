"""Wedges of a machine: what they are made of, which way they may stand, how far they reach.

A wedge's profile runs from its toe (thin end, or the edge that stays open longest) to its heel: `position_mm` at the
isocentre plane is negative on the side of the toe. How a wedge stands is an angle: 0 has the toe towards +Y of the
beam limiting device, and it turns towards -X (90), -Y (180), +X (270), as the wedge filter system of IEC 61217 turns
about Z of the device [memory].
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say

KINDS = ("physical", "virtual")
ORIENTATIONS_DEG = (0.0, 90.0, 180.0, 270.0)
# The jaw the toe points to, by orientation.
TOE_JAWS = {0.0: "Y2", 90.0: "X1", 180.0: "Y1", 270.0: "X2"}
_DO = say("Correct the wedge in the machine file.")

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Wedge(Value):
    """A wedge a machine has.

    Parameters
    ----------
    name : what beams call it by
    kind : "physical" (material in the beam, hardens it) or "virtual" (a jaw that moves while it delivers)
    angle_deg : what it is called by: the tilt of the isodose lines it is made for
    orientations_deg : which of 0, 90, 180, 270 it may stand at
    material : "iron", "aluminium" or "tungsten"; "" for a virtual wedge
    density_g_cm3 : of the material
    position_mm, thickness_mm : profile of a physical wedge, thickness along the axis; straight between the points
    transmission : in place of the thickness: profile of a virtual wedge, 0..1; its logarithm is straight between points
    field_mm : largest half width of a field along the wedge and across it
    """

    name: str
    kind: str
    angle_deg: float
    position_mm: tuple[float, ...]
    orientations_deg: tuple[float, ...] = ORIENTATIONS_DEG
    material: str = ""
    density_g_cm3: float = 0.0
    thickness_mm: tuple[float, ...] = ()
    transmission: tuple[float, ...] = ()
    field_mm: tuple[float, float] = (200.0, 200.0)

    def __post_init__(self) -> None:
        super().__post_init__()
        self._refuse_unless(bool(self.name.strip()) and len(self.name) <= 16, "its name needs 1 to 16 characters")
        self._refuse_unless(self.kind in KINDS, say("its kind {kind!r} is neither physical nor virtual", kind=self.kind))
        self._refuse_unless(0 < self.angle_deg < 90, say("an angle of {angle:g} is not a wedge's", angle=self.angle_deg))
        turns = self.orientations_deg
        self._refuse_unless(
            len(turns) > 0 and set(turns) <= set(ORIENTATIONS_DEG), "its orientations must be out of 0, 90, 180 and 270"
        )
        profile = self.thickness_mm if self.kind == "physical" else self.transmission
        other = self.transmission if self.kind == "physical" else self.thickness_mm
        self._refuse_unless(
            not other and len(profile) == len(self.position_mm) >= 2,
            "it needs two positions or more, with a thickness each (physical) or a transmission each (virtual)",
        )
        self._refuse_unless(all(a < b for a, b in pairwise(self.position_mm)), "its positions must ascend from toe to heel")
        if self.kind == "physical":
            self._refuse_unless(all(0 <= t <= 200 for t in profile), "its thicknesses must lie in 0 to 200 mm")
            self._refuse_unless(
                self.material in ("iron", "aluminium", "tungsten") and 1 <= self.density_g_cm3 <= 25,
                say("no physics tables fit {material!r} of {density:g} g/cm³; known are iron, aluminium and tungsten",
                    material=self.material, density=self.density_g_cm3),
            )  # fmt: skip
            rises = all(a <= b for a, b in pairwise(profile)) and profile[0] < profile[-1]
            self._refuse_unless(rises, "it must grow thicker from toe to heel")
        else:
            self._refuse_unless(all(0.001 <= t <= 10 for t in profile), "its transmission must lie in 0.001 to 10")
            falls = all(a >= b for a, b in pairwise(profile)) and profile[0] > profile[-1]
            self._refuse_unless(falls, "it must let less through from toe to heel")
        self._refuse_unless(all(0 < f <= 500 for f in self.field_mm), "its field limits must lie in 0 to 500 mm")

    def _refuse_unless(self, fine: bool, what: str) -> None:
        if not fine:
            raise InputError(what, say("wedge {name}", name=self.name or say("(no name)")), _DO)

    def along_mm(self, x_mm: Floats, y_mm: Floats, orientation_deg: float) -> Floats:
        """Return the position from toe to heel of points of the isocentre plane (device axes, broadcast together)."""
        toe_x, toe_y = toe_direction(orientation_deg)
        return -(toe_x * x_mm + toe_y * y_mm)

    def profile_at(self, along_mm: Floats) -> Floats:
        """Return the thickness in mm (physical) or the transmission (virtual) by position; end values hold beyond."""
        if self.kind == "physical":
            return np.interp(along_mm, self.position_mm, self.thickness_mm)
        return np.exp(np.interp(along_mm, self.position_mm, np.log(self.transmission)))


def toe_direction(orientation_deg: float) -> tuple[float, float]:
    """Return (x, y) of the way to the toe in device axes; exact for the four quarter turns."""
    quarter = {0.0: (0.0, 1.0), 90.0: (-1.0, 0.0), 180.0: (0.0, -1.0), 270.0: (1.0, 0.0)}
    return quarter[orientation_deg % 360.0]
