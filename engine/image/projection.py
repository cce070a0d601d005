"""Digitally reconstructed radiographs: the CT seen from the radiation source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, FrozenArray, Value, own_array
from engine.base.words import say
from engine.image.ct import CtImage
from engine.space.frames import beam_from_patient, source_mm
from engine.space.grid import Point

# Linear attenuation of water at about 60 keV, where a set-up radiograph lives (common practice; the look depends on it).
WATER_PER_MM = 0.02
_CHUNK_ROWS = 32
# Half a step of the usual slice distance: finer ones take time and show no more.
_SHORTEST_STEP_MM = 2.0


@dataclass(frozen=True, eq=False)
class View(Value):
    """Where a beam looks from: isocentre and IEC 61217 angles, no aperture, so that moving a leaf asks for nothing new."""

    isocentre_mm: Point
    gantry_deg: float
    collimator_deg: float
    couch_deg: float


@dataclass(frozen=True, eq=False)
class Radiograph(Value):
    """Ask for the radiograph of a beam on the isocentre plane.

    Parameters
    ----------
    image : the CT
    beam : a Beam (or View); only its isocentre and angles are kept
    sad_mm : source to isocentre
    size_mm : side of the square, at the isocentre plane, centred on the beam axis
    pixel_mm : pixel at the isocentre plane
    bone : how much denser matter than soft tissue counts beyond its attenuation, 0 (as it is) to 5; higher shows bones
    """

    image: CtImage
    beam: Value
    sad_mm: float = 1000.0
    size_mm: float = 400.0
    pixel_mm: float = 1.25
    bone: float = 1.0

    def __post_init__(self) -> None:
        super().__post_init__()
        if not isinstance(self.beam, View):
            b: Any = self.beam
            view = View(b.isocentre_mm, b.gantry_deg, b.collimator_deg, b.couch_deg)
            object.__setattr__(self, "beam", view)
        pixels = self.size_mm / self.pixel_mm if self.pixel_mm > 0 else np.inf
        if not (1 <= pixels <= 2048 and 200 <= self.sad_mm <= 5000 and 0 <= self.bone <= 5):
            raise InputError(
                say(
                    "a radiograph of {size_mm} mm with pixels of {pixel_mm} mm at {sad_mm} mm is not possible",
                    size_mm=self.size_mm,
                    pixel_mm=self.pixel_mm,
                    sad_mm=self.sad_mm,
                ),
                do="Ask for 1 to 2048 pixels a side, 200 to 5000 mm from the source, bone weight 0 to 5.",
            )


@dataclass(frozen=True, eq=False)
class RadiographResult(Value):
    """A radiograph.

    Parameters
    ----------
    image : float32 (rows, columns), 0 (least matter on the ray) to 1 (most, as bone is bright); row 0 is the lowest y
    extent_mm : outer edges (x0, x1, y0, y1) at the isocentre plane, device axes (collimator included)
    inputs : fingerprint of the request
    """

    image: FrozenArray
    extent_mm: tuple[float, float, float, float]
    inputs: Fingerprint


def radiograph(request: Radiograph, report: Report = quiet) -> RadiographResult:
    """Project the CT through diverging rays onto the isocentre plane; runs on the compute thread."""
    view: Any = request.beam
    n = max(1, round(request.size_mm / request.pixel_mm))
    half = n * request.pixel_mm / 2
    at = (np.arange(n, dtype=np.float64) + 0.5) * request.pixel_mm - half
    paths = ray_paths(request.image, view, request.sad_mm, at, at, request.bone, report)
    report(1.0, "radiograph")
    return RadiographResult(own_array(shown_grey(paths)), (-half, half, -half, half), request.fingerprint)


def ray_paths(
    image: CtImage,
    view: View,
    sad_mm: float,
    x_mm: NDArray[np.float64],
    y_mm: NDArray[np.float64],
    bone: float = 0.0,
    report: Report = quiet,
) -> NDArray[np.float32]:
    """Return the attenuation along each ray, float32 (len(y_mm), len(x_mm)), no unit (mu times length, summed).

    Rays run from the source through (x, y) of the isocentre plane, device axes, to the far side of the image; outside the
    image there is nothing. With `bone` 0, water of 1 mm counts WATER_PER_MM.
    """
    from engine.image.ray_kernels import march

    to_beam = beam_from_patient(image.patient_position, view.gantry_deg, view.collimator_deg, view.couch_deg)
    source = source_mm(view.isocentre_mm, image.patient_position, view.gantry_deg, view.couch_deg, sad_mm)
    # Patient -> fractional (column, row, plane), so that kernels see a box of voxels 0..n-1.
    spacing, origin = np.array(image.grid.spacing_mm), np.array(image.grid.origin_mm)
    start = (source - origin) / spacing
    table = attenuation_table(bone)
    out = np.empty((len(y_mm), len(x_mm)), dtype=np.float32)
    step_mm = max(_SHORTEST_STEP_MM, float(spacing.min()))
    for r in range(0, len(y_mm), _CHUNK_ROWS):
        report(r / len(y_mm), "radiograph")
        part = slice(r, r + _CHUNK_ROWS)
        on_plane = np.stack(np.broadcast_arrays(x_mm[None, :], y_mm[part, None]), axis=-1) @ to_beam[:2]
        ends = (on_plane + np.array(view.isocentre_mm) - origin) / spacing
        march(image.hu, start, np.ascontiguousarray(ends), spacing, step_mm, table, out[part])
    return out


def attenuation_table(bone: float) -> NDArray[np.float32]:
    """Return attenuation per mm for CT numbers -1024..4095 (index 0 = -1024), not negative.

    Beyond soft tissue (100 HU, common practice) the excess counts (1 + bone) times.
    """
    hu = np.arange(-1024, 4096, dtype=np.float64)
    mu = np.maximum(0.0, 1 + hu / 1000.0) + bone * np.maximum(0.0, hu - 100.0) / 1000.0
    return (WATER_PER_MM * mu).astype(np.float32)


def shown_grey(paths: NDArray[np.float32], every: int = 1) -> NDArray[np.float32]:
    """Return path sums as grey 0..1: film-like, stretched between the darkest and brightest percentiles.

    `every` takes the percentiles from every so many rows and columns.
    """
    sample = paths[::every, ::every]
    matter = sample[sample > 0]
    if matter.size == 0:
        return np.zeros_like(paths)
    low, high = np.percentile(matter, (2.0, 99.7))
    span = max(float(high - low), 1e-6)
    return np.clip((paths - np.float32(low)) * np.float32(1 / span), np.float32(0), np.float32(1))
