"""A measured (or computed) beam-data curve, and its text form.

One curve is one CSV file: header lines ``# key: value`` (``# key = value`` is read as well), then the line
``position_mm,value``, then one point a line. Keys:

``kind`` *
    ``depth-dose`` (position = depth in water on the axis), ``profile`` (position = place along the axis named), or
    ``output`` (position = side of a square field; value = dose at the depth named, relative to any one field).
``field_mm`` (* not for output)
    Sides at the isocentre plane, ``100`` or ``100 x 50`` (X x Y), as set.
``ssd_mm`` *
    From the focal spot to the water.
``depth_mm`` (* for profile and output)
    Depth in water.
``axis`` (* for profile)
    ``x`` or ``y`` of the collimator.
``energy_mv``
    What the beam is called by; curves of different beams are not mixed.
``edges``
    ``jaws`` (as without the key) or ``leaves``: what forms the X edges.
``detector``, ``detector_mm``
    A note, and the width of the detector along the scan (0 without the key), which the model is blurred by.
``source``, ``date``, ``note``
    Kept as they are.

Values are doses, or readings proportional to dose, on any scale: percent, Gy, charge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.base.values import FrozenArray, Value, frozen_array
from engine.commission.tank import Setup

KINDS = ("depth-dose", "profile", "output")
COLUMNS = "position_mm,value"


@dataclass(frozen=True, eq=False)
class Curve(Value):
    """One curve of beam data.

    Parameters
    ----------
    kind : one of KINDS
    position_mm, value : (n,), positions ascending
    field_mm : (X, Y) at the isocentre plane; (0, 0) for output
    depth_mm : 0 for a depth dose
    axis : "x" or "y" for a profile, else empty
    energy_mv : 0 where not said
    name : what it is called in messages: the file's name
    """

    kind: str
    position_mm: FrozenArray
    value: FrozenArray
    field_mm: tuple[float, float]
    ssd_mm: float
    depth_mm: float = 0.0
    axis: str = ""
    energy_mv: float = 0.0
    edges: str = "jaws"
    detector: str = ""
    detector_mm: float = 0.0
    name: str = ""

    @property
    def setup(self) -> Setup:
        """The field on the tank."""
        return Setup(self.field_mm, self.ssd_mm, self.edges)

    @property
    def title(self) -> str:
        """A short name from what was measured."""
        field = f"{self.field_mm[0]:g}x{self.field_mm[1]:g}"
        if self.kind == "output":
            return f"output-d{self.depth_mm:g}-ssd{self.ssd_mm:g}"
        if self.kind == "profile":
            return f"profile-{self.axis}-{field}-d{self.depth_mm:g}"
        return f"depth-dose-{field}"

    def edge_mm(self, sad_mm: float) -> float:
        """Return where the nominal field edge lies at the profile's depth."""
        side = self.field_mm[0 if self.axis == "x" else 1]
        return side / 2 * (self.ssd_mm + self.depth_mm) / sad_mm

    def with_values(self, value: FrozenArray) -> Curve:
        """Return the same curve with other values."""
        return self.but(value=frozen_array(np.asarray(value, dtype=np.float64)))


def text_of(curve: Curve, note: str = "") -> str:
    """Return a curve as the text of a file that ``measured.read_curve`` reads back."""
    lines = [f"# kind: {curve.kind}"]
    if curve.kind != "output":
        lines.append(f"# field_mm: {curve.field_mm[0]:g} x {curve.field_mm[1]:g}")
    lines.append(f"# ssd_mm: {curve.ssd_mm:g}")
    if curve.kind != "depth-dose":
        lines.append(f"# depth_mm: {curve.depth_mm:g}")
    if curve.kind == "profile":
        lines.append(f"# axis: {curve.axis}")
    if curve.energy_mv:
        lines.append(f"# energy_mv: {curve.energy_mv:g}")
    lines.append(f"# edges: {curve.edges}")
    if curve.detector:
        lines.append(f"# detector: {curve.detector}")
    if curve.detector_mm:
        lines.append(f"# detector_mm: {curve.detector_mm:g}")
    if note:
        lines.append(f"# note: {note}")
    points = (f"{p:.10g},{v:.7g}" for p, v in zip(curve.position_mm, curve.value, strict=True))
    return "\n".join([*lines, COLUMNS, *points]) + "\n"
