"""What the dose of one beam depends on, gathered in one value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.space.grid import Grid

if TYPE_CHECKING:
    from engine.image.density import Density

# Raised whenever the algorithm or its shipped data change a number; every older dose then shows as out of date.
PHYSICS_VERSION = 9

QUALITIES = ("quick", "fine")
METHODS = ("collapsed-cone",)


@dataclass(frozen=True, eq=False)
class DoseRequest(Value):
    """The dose of one beam, in Gy per MU on `grid`.

    Parameters
    ----------
    density : a value with ``resolve() -> Density``; what it is made from, not the array, so that asking is cheap
    beam : without key and name (``Beam.nameless``)
    machine : the whole machine, so that an edited machine file makes old doses old
    grid : dose grid, patient axes
    quality : quick or fine
    report_to : "medium" (mass coefficients of each voxel's own material) or "water"
    method : one of METHODS
    tables : fingerprint of the kernel and attenuation tables
    physics_version : see PHYSICS_VERSION
    """

    density: Density
    beam: Beam
    machine: Machine
    grid: Grid
    quality: str = "fine"
    report_to: str = "medium"
    method: str = "collapsed-cone"
    tables: str = ""
    physics_version: int = PHYSICS_VERSION

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.quality not in QUALITIES or self.method not in METHODS or self.report_to not in ("medium", "water"):
            raise InputError(
                say(
                    "unknown quality, method or quantity: {quality}, {method}, {report_to}",
                    quality=self.quality,
                    method=self.method,
                    report_to=self.report_to,
                )
            )
