"""A treatment machine of one photon beam quality: limits, leaves and beam model, checked when it is made.

All lengths are mm; positions and widths of jaws and leaves are at the isocentre plane. What each number means is said
key by key in ``machine_file``, which reads machines from TOML.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

import numpy as np

from engine.base.errors import InputError
from engine.base.values import Value
from engine.base.words import say
from engine.beams.wedge import Wedge

_SHARES = ("jaw_transmission", "leaf_transmission", "extra_focal_share", "contamination_share", "monitor_backscatter",
           "contamination_core_share")  # fmt: skip
_POSITIVE = ("extra_focal_fwhm_mm", "contamination_depth_mm", "contamination_spread_mm", "contamination_core_mm",
             "leaf_travel_mm")  # fmt: skip


@dataclass(frozen=True, eq=False)
class Machine(Value):
    """Limits, leaves and beam model of one machine at one photon energy; see ``machine_file`` for every part.

    Parameters
    ----------
    spectrum_mev, spectrum_fluence : bins (low, high) in MeV and photons per bin (any scale)
    leaf_edges_mm : boundaries of the leaf pairs along Y, ascending; () without leaves
    field_limit_mm : largest half width of a field
    focal_fwhm_mm : (X, Y); focal spot, 0 for a point
    upper_jaw_mm, lower_jaw_mm, leaf_distance_mm : distance from the focal spot to the edge that shapes the beam
    calibration_depth_mm : 0 for the depth of dose maximum
    flattened : whether a flattening filter is in the beam; says what it is called, the curves say what it does
    horn_mm, horn_fluence, softening_deg, softening_mu : tables against radius and angle; () = flat, one spectrum
    """

    name: str
    description: str
    nominal_mv: float
    sad_mm: float
    spectrum_mev: tuple[tuple[float, float], ...]
    spectrum_fluence: tuple[float, ...]
    leaf_edges_mm: tuple[float, ...]
    field_limit_mm: float = 200.0
    source: str = ""
    jaw_x_mm: tuple[float, float] = (-200.0, 200.0)
    jaw_y_mm: tuple[float, float] = (-200.0, 200.0)
    leaf_travel_mm: float = 200.0
    min_leaf_gap_mm: float = 0.0
    jaw_transmission: float = 0.0
    leaf_transmission: float = 0.0
    leaf_end_offset_mm: float = 0.0
    leaf_end_growth_mm: float = 0.0
    tongue_mm: float = 0.0
    leaf_span_mm: float = 0.0
    leaf_distance_mm: float = 500.0
    upper_jaws: str = "Y"
    upper_jaw_mm: float = 280.0
    lower_jaw_mm: float = 400.0
    monitor_backscatter: float = 0.0
    focal_fwhm_mm: tuple[float, float] = (0.0, 0.0)
    extra_focal_share: float = 0.0
    extra_focal_fwhm_mm: float = 40.0
    extra_focal_distance_mm: float = 125.0
    horn_mm: tuple[float, ...] = ()
    horn_fluence: tuple[float, ...] = ()
    softening_deg: tuple[float, ...] = ()
    softening_mu: tuple[float, ...] = ()
    contamination_share: float = 0.0
    contamination_depth_mm: float = 5.0
    contamination_spread_mm: float = 30.0
    contamination_range_mm: float = 30.0
    contamination_distance_mm: float = 0.0
    contamination_core_share: float = 0.0
    contamination_core_mm: float = 20.0
    calibration_depth_mm: float = 0.0
    calibration_ssd_mm: float = 1000.0
    calibration_field_mm: float = 100.0
    calibration_gy_per_mu: float = 0.01
    wedges: tuple[Wedge, ...] = ()
    flattened: bool = True
    head_distance_mm: float = 400.0
    head_radius_mm: float = 380.0
    couch_width_mm: float = 530.0
    couch_thickness_mm: float = 80.0

    LAYOUT: ClassVar[int] = 2
    LATER: ClassVar[Mapping[str, int]] = {
        "head_distance_mm": 3, "head_radius_mm": 3, "couch_width_mm": 3, "couch_thickness_mm": 3,
    }  # fmt: skip

    def __post_init__(self) -> None:
        super().__post_init__()
        self._refuse_unless(bool(self.name), "it has no name")
        self._refuse_unless(
            1 <= self.nominal_mv <= 50,
            say("{nominal_mv} MV is not a photon beam of 1 to 50 MV", nominal_mv=self.nominal_mv),
        )
        self._refuse_unless(
            500 <= self.sad_mm <= 2000, say("a source-axis distance of {sad_mm} mm is not credible", sad_mm=self.sad_mm)
        )
        bins = self.spectrum_mev
        self._refuse_unless(
            len(bins) > 0 and len(bins) == len(self.spectrum_fluence), "the spectrum needs one fluence per energy bin"
        )
        self._refuse_unless(
            all(0 <= lo < hi <= 50 for lo, hi in bins) and all(a[1] <= b[0] + 1e-9 for a, b in pairwise(bins)),
            "the energy bins of the spectrum must ascend without overlap, within 50 MeV",
        )
        fluence = np.array(self.spectrum_fluence)
        self._refuse_unless(
            bool(np.all(np.isfinite(fluence)) and np.all(fluence >= 0) and fluence.sum() > 0),
            "the spectrum's fluence must not be negative and not all zero",
        )
        edges = self.leaf_edges_mm
        self._refuse_unless(all(a < b for a, b in pairwise(edges)), "the leaf boundaries must ascend")
        self._refuse_unless(0 < self.field_limit_mm <= 500, "the field limit must lie in 0 to 500 mm")
        for axis, (lo, hi) in (("X", self.jaw_x_mm), ("Y", self.jaw_y_mm)):
            self._refuse_unless(
                lo < hi, say("the range of the {axis} jaws is empty: {lo} to {hi} mm", axis=axis, lo=lo, hi=hi)
            )
        for field in _SHARES:
            value = getattr(self, field)
            self._refuse_unless(
                0 <= value < 1, say("{field} must lie in 0 to 1, not {value}", field=field.replace("_", " "), value=value)
            )
        for field in _POSITIVE:
            self._refuse_unless(getattr(self, field) > 0, say("{field} must be positive", field=field.replace("_", " ")))
        self._refuse_unless(self.upper_jaws in ("X", "Y"), "the upper jaws must be X or Y")
        order = (self.extra_focal_distance_mm, self.upper_jaw_mm, self.lower_jaw_mm, self.leaf_distance_mm)
        self._refuse_unless(
            0 <= order[0] < order[1] <= min(order[2:]) and max(order[2:]) < 0.9 * self.sad_mm,
            "the order along the beam must be: focal spot, extra-focal plane, upper jaws, lower jaws and leaves, isocentre",
        )
        self._refuse_unless(
            0 <= self.contamination_distance_mm < 0.9 * self.sad_mm and 0 < self.contamination_range_mm <= 200,
            "contaminant electrons must start above the isocentre and end within 200 mm",
        )
        self._refuse_unless(
            all(0 <= w <= 20 for w in self.focal_fwhm_mm) and 0 <= self.min_leaf_gap_mm <= 50,
            "a focal spot of 0 to 20 mm and a leaf gap of 0 to 50 mm are credible",
        )
        widths = [b - a for a, b in pairwise(edges)]
        self._refuse_unless(
            0 <= self.tongue_mm < min(widths, default=1.0) / 2, "the tongue must be narrower than half a leaf"
        )
        self._refuse_unless(
            -5 <= self.leaf_end_offset_mm <= 5 and 0 <= self.leaf_end_growth_mm <= 5 and 0 <= self.leaf_span_mm <= 1000,
            "the leaf end offset must lie in −5 to 5 mm, its growth in 0 to 5 mm, the span in 0 to 1000 mm",
        )
        self._refuse_unless(
            0 <= self.calibration_depth_mm <= 300
            and 500 <= self.calibration_ssd_mm <= 2000
            and 20 <= self.calibration_field_mm <= 2 * self.field_limit_mm
            and 1e-4 <= self.calibration_gy_per_mu <= 0.1,
            "the calibration needs a depth of 0 to 300 mm, a distance of 500 to 2000 mm, a field the machine can open, "
            "and 0.0001 to 0.1 Gy per MU",
        )
        self._refuse_unless(
            100 <= self.head_distance_mm <= self.sad_mm
            and 50 <= self.head_radius_mm <= 1000
            and 100 <= self.couch_width_mm <= 1000
            and 1 <= self.couch_thickness_mm <= 500,
            "a head 100 mm or more from the isocentre with a radius of 50 to 1000 mm, and a couch 100 to 1000 mm wide "
            "and 1 to 500 mm thick are credible",
        )
        names = [w.name for w in self.wedges]
        self._refuse_unless(len(set(names)) == len(names), "two wedges have one name")
        self._check_curve(say("off-axis fluence"), self.horn_mm, self.horn_fluence)
        self._check_curve(say("off-axis attenuation"), self.softening_deg, self.softening_mu)

    def _refuse_unless(self, fine: bool, what: str) -> None:
        if not fine:
            raise InputError(what, say("machine {name}", name=self.name or say("(no name)")), "Correct the machine file.")

    def _check_curve(self, what: str, x: tuple[float, ...], y: tuple[float, ...]) -> None:
        fine = len(x) == len(y) and (not x or (len(x) >= 2 and x[0] == 0.0 and abs(y[0] - 1.0) < 1e-9))
        fine = fine and all(a < b for a, b in pairwise(x)) and all(0.05 < v < 5 for v in y)
        self._refuse_unless(
            fine, say("the {what} table must start at 0 with 1, ascend, and hold values of 0.05 to 5", what=what)
        )

    @property
    def leaf_pairs(self) -> int:
        """Number of leaf pairs."""
        return max(0, len(self.leaf_edges_mm) - 1)

    @property
    def energy(self) -> str:
        """What the beam quality is called: 6 MV, or 6 MV FFF without a flattening filter."""
        return f"{self.nominal_mv:g} MV" if self.flattened else f"{self.nominal_mv:g} MV FFF"

    @property
    def jaw_planes_mm(self) -> tuple[float, float]:
        """Distance of the X jaws and of the Y jaws from the focal spot."""
        upper, lower = self.upper_jaw_mm, self.lower_jaw_mm
        return (upper, lower) if self.upper_jaws == "X" else (lower, upper)

    def wedge(self, name: str) -> Wedge | None:
        """Return a wedge by name, or None."""
        return next((w for w in self.wedges if w.name == name), None)

    def mean_energy_mev(self) -> float:
        """Return the fluence-weighted mean photon energy on the axis."""
        mid = np.array(self.spectrum_mev).mean(axis=1)
        return float(np.average(mid, weights=self.spectrum_fluence))
