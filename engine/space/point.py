"""A point of the patient that has a name."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import Words, say

FARTHEST_MM = 10000.0


@dataclass(frozen=True, eq=False)
class NamedPoint(Value):
    """A place in the patient that somebody named.

    Parameters
    ----------
    name : 1 to 64 characters
    place_mm : (x, y, z) in patient axes
    kind : what it was made for, as DICOM says it ("MARKER", "ISOCENTER", ...), "" if nobody says
    """

    name: str
    place_mm: tuple[float, float, float]
    kind: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if not 1 <= len(self.name.strip()) <= 64:
            raise InputError("a point has a name of 1 to 64 characters", "point", "Give it one.")
        if len(self.place_mm) != 3 or not all(isfinite(v) and abs(v) <= FARTHEST_MM for v in self.place_mm):
            raise InputError("its place is not three numbers within 10 m", say("point {name}", name=self.name))

    @property
    def words(self) -> Words:
        """Name and place, as people read them."""
        x, y, z = self.place_mm
        return say("{name} (x {x:.1f}, y {y:.1f}, z {z:.1f} mm)", name=self.name, x=x, y=y, z=z)
