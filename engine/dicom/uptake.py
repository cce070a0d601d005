"""PET numbers as standardised uptake values by body weight.

SUV = activity concentration (Bq/ml) x body weight (g) / activity in the body at the moment the images are corrected to
(Bq), taking 1 ml for 1 g. Images corrected for decay to the start of the scan (Decay Correction START) are held against
the injected activity decayed to that time, 2 ^ (-(start of scan - injection) / half-life); images corrected to the
injection (ADMIN) against the injected activity itself. Attributes: DICOM PS3.3 C.8.9.1 and C.8.9.2 (PET series and
isotope). Formula: the consensus on vendor-neutral SUV of the Quantitative Imaging Biomarkers Alliance [memory].
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from pydicom.dataset import Dataset

from engine.base.words import say
from engine.dicom.common import float_of, text_of


def suv_factor(datasets: Sequence[Dataset]) -> tuple[float, str]:
    """Return (SUV per Bq/ml, "") of the files of one PET series, or (0, why it cannot be had)."""
    first = datasets[0]
    units = text_of(first, "Units").upper()
    if units != "BQML":
        return 0.0, say("its units are {units}, not Bq/ml", units=units or say("missing"))
    correction = text_of(first, "DecayCorrection").upper()
    if correction not in ("START", "ADMIN"):
        return 0.0, say("its decay correction is {correction}", correction=correction or say("missing"))
    weight_kg = float_of(first, "PatientWeight")
    if not weight_kg or not 0.2 <= weight_kg <= 500:
        return 0.0, say("the body weight is missing")
    tracers = first.get("RadiopharmaceuticalInformationSequence") or []
    if len(tracers) != 1:
        return 0.0, say("the injected activity is missing")
    activity_bq = float_of(tracers[0], "RadionuclideTotalDose")
    if not activity_bq or activity_bq < 1e4:
        return 0.0, say("the injected activity is missing")
    if correction == "START":
        half_life_s = float_of(tracers[0], "RadionuclideHalfLife")
        if not half_life_s or half_life_s <= 0:
            return 0.0, say("the half-life is missing")
        waited_s = _waited_s(datasets, tracers[0])
        if waited_s is None:
            return 0.0, say("the times of injection and scan are missing")
        if not 0 <= waited_s <= 10 * half_life_s:
            return 0.0, say("the scan starts {hours:.1f} h after the injection, which cannot be", hours=waited_s / 3600)
        activity_bq *= 2.0 ** (-waited_s / half_life_s)
    return weight_kg * 1000.0 / activity_bq, ""


def _waited_s(datasets: Sequence[Dataset], tracer: Dataset) -> float | None:
    """Return seconds from injection to the start of the scan: the series' time, or the first slice's if that is earlier."""
    first = datasets[0]
    series = _moment(text_of(first, "SeriesDate"), text_of(first, "SeriesTime"))
    slices = [_moment(text_of(d, "AcquisitionDate"), text_of(d, "AcquisitionTime")) for d in datasets]
    known = [m for m in (series, *slices) if m is not None]
    if not known:
        return None
    start = min(known)
    both = text_of(tracer, "RadiopharmaceuticalStartDateTime")
    injected = _moment(both[:8], both[8:]) if both else None
    if injected is None:
        injected = _moment(start.strftime("%Y%m%d"), text_of(tracer, "RadiopharmaceuticalStartTime"))
    return None if injected is None else (start - injected).total_seconds()


def _moment(date: str, time: str) -> datetime | None:
    clock = time.split("+")[0].split("-")[0].split(".")[0].ljust(6, "0")
    try:
        return datetime.strptime(date + clock[:6], "%Y%m%d%H%M%S") if time else None
    except ValueError:
        return None
