"""CT number to mass density."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.values import FrozenArray, Value
from engine.base.words import say
from engine.space.grid import Grid


@dataclass(frozen=True, eq=False)
class DensityCurve(Value):
    """A piecewise-linear table CT number -> mass density, as measured for one scanner and protocol.

    Below the first and above the last point the end value holds (a metal voxel is never extrapolated).

    Parameters
    ----------
    hu : ascending CT numbers
    g_cm3 : densities, none negative, never falling
    name, source : what it is called and how its values are known
    """

    hu: tuple[float, ...]
    g_cm3: tuple[float, ...]
    name: str = "curve"
    source: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        where, do = say("CT-number-to-density curve {name!r}", name=self.name), say("Correct the table.")
        if len(self.hu) != len(self.g_cm3) or len(self.hu) < 2:
            raise InputError("it needs at least two points, each with a CT number and a density", where, do)
        if any(b <= a for a, b in zip(self.hu, self.hu[1:])):
            raise InputError("its CT numbers must ascend", where, do)
        if any(not 0 <= d <= 25 for d in self.g_cm3) or any(b < a for a, b in zip(self.g_cm3, self.g_cm3[1:])):
            raise InputError("its densities must lie in 0 to 25 g/cm³ and never fall", where, do)

    def density(self, hu: NDArray[np.generic]) -> NDArray[np.float32]:
        """Return g/cm3 for CT numbers of any shape, by a look-up table over the int16 range."""
        numbers = np.arange(-32768, 32768)
        table = np.interp(numbers, self.hu, self.g_cm3).astype(np.float32)
        if hu.dtype != np.int16 or hu.ndim < 2:
            return table[np.asarray(hu, dtype=np.int32) + 32768]
        # Negative numbers follow the others in bits without a sign; slice by slice, so that no wide copy is made.
        table, out = np.roll(table, -32768), np.empty(hu.shape, dtype=np.float32)
        for slice_hu, slice_out in zip(hu, out, strict=True):
            np.take(table, np.ascontiguousarray(slice_hu).view(np.uint16), out=slice_out, mode="wrap")
        return out


DEFAULT_CURVE = DensityCurve(
    hu=(-1000, -98, 0, 100, 1600, 3000),
    g_cm3=(0.00121, 0.93, 1.0, 1.1199, 1.9642, 2.793),
    name="typical 120 kV",
    source=(
        "after W. Schneider et al., Phys. Med. Biol. 45 (2000) 459 [memory], led through water at 0 HU by definition; "
        "replace by your scanner's own curve"
    ),
)


@dataclass(frozen=True, eq=False)
class Density(Value):
    """Mass densities on a grid, ready for transport. `patient_position` says how the grid lies on the couch."""

    g_cm3: FrozenArray
    grid: Grid
    patient_position: str = "HFS"

    def resolve(self) -> Density:
        """Return itself: a density that needs no further work (see ``case.requests.PatientDensity``)."""
        return self
