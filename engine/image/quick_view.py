"""Radiographs fast enough to follow the hand: a coarse box of attenuation, summed plane by plane.

The picture while something turns; ``projection`` makes the one that stays.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.base.values import Fingerprint, FrozenArray, Value, own_array
from engine.image.ct import CtImage
from engine.image.projection import Radiograph, RadiographResult, View, attenuation_table, shown_grey
from engine.space.frames import beam_from_patient, source_mm
from engine.space.grid import Point

CELL_MM = 3.0
# Attenuation of a byte of 255: four times that of water; denser is as dense.
FULL_PER_MM = 0.08
_AIR_BYTE = 2


@dataclass(frozen=True, eq=False)
class CoarseRequest(Value):
    """Ask for the coarse box of an image.

    Parameters
    ----------
    bone : as in ``Radiograph``
    """

    image: CtImage
    bone: float = 1.0


@dataclass(frozen=True, eq=False)
class CoarseBox(Value):
    """Attenuation in bytes (255 = FULL_PER_MM) on cells of about CELL_MM, cut to what is denser than air, its rim zero.

    Parameters
    ----------
    boxes : the same cells with the plane, row and column axis first: (z, y, x), (y, z, x), (x, z, y)
    origin_mm, spacing_mm : centre of the first cell and distances, (x, y, z) in patient axes
    patient_position : of the image
    inputs : fingerprint of the request
    """

    boxes: tuple[FrozenArray, FrozenArray, FrozenArray]
    origin_mm: Point
    spacing_mm: Point
    patient_position: str
    inputs: Fingerprint


def coarse_box(request: CoarseRequest, report: Report = quiet) -> CoarseBox:
    """Average the attenuation of an image over cells of about CELL_MM; runs on the compute thread."""
    grid = request.image.grid
    factors = [max(1, round(CELL_MM / s)) for s in grid.spacing_mm]
    fx, fy, fz = factors
    planes, rows, columns = (n // f for n, f in zip(grid.shape, (fz, fy, fx), strict=True))
    planes, rows, columns = max(planes, 1), max(rows, 1), max(columns, 1)
    fz, fy, fx = min(fz, grid.shape[0]), min(fy, grid.shape[1]), min(fx, grid.shape[2])
    table = attenuation_table(request.bone)
    cells = np.empty((planes, rows, columns), dtype=np.uint8)
    for p in range(planes):
        report(p / planes, "radiograph")
        slab = request.image.hu[p * fz : (p + 1) * fz, : rows * fy, : columns * fx]
        mu = table[np.clip(slab.astype(np.int32) + 1024, 0, len(table) - 1)]
        mean = mu.reshape(fz, rows, fy, columns, fx).mean(axis=(0, 2, 4))
        cells[p] = np.minimum(255, np.rint(mean * (255.0 / FULL_PER_MM)))
    held = np.argwhere(cells > _AIR_BYTE)
    low, high = (held.min(axis=0), held.max(axis=0) + 1) if len(held) else (np.zeros(3, int), np.ones(3, int))
    cells = np.pad(cells[low[0] : high[0], low[1] : high[1], low[2] : high[2]], 1)
    steps = np.array(grid.spacing_mm) * (fx, fy, fz)
    centre = np.array(grid.origin_mm) + (steps - grid.spacing_mm) / 2
    origin = centre + (low[::-1] - 1) * steps
    a, b, c = (own_array(np.ascontiguousarray(cells.transpose(order))) for order in _ORDERS)
    return CoarseBox((a, b, c), _point(origin), _point(steps), request.image.patient_position, request.fingerprint)


_ORDERS = ((0, 1, 2), (1, 0, 2), (2, 0, 1))
# Starts its thread when first asked.
_BESIDE = ThreadPoolExecutor(max_workers=1, thread_name_prefix="halfshade-rays")
# Which patient axes (x, y, z) the axes of each box are.
_AXES = ((2, 1, 0), (1, 2, 0), (0, 2, 1))


def quick_paths(box: CoarseBox, view: View, sad_mm: float, size_mm: float, pixels: int) -> NDArray[np.float32]:
    """Return the attenuation along rays through a square of the isocentre plane, float32 (pixels, pixels), row 0 lowest y.

    As ``projection.ray_paths``, on the coarse box.
    """
    from engine.image.quick_kernels import sum_rays

    to_beam = beam_from_patient(box.patient_position, view.gantry_deg, view.collimator_deg, view.couch_deg)
    source = source_mm(view.isocentre_mm, box.patient_position, view.gantry_deg, view.couch_deg, sad_mm)
    spacing, origin = np.array(box.spacing_mm), np.array(box.origin_mm)
    pixel = size_mm / pixels
    first = (pixel - size_mm) / 2
    corner = np.array(view.isocentre_mm) + first * (to_beam[0] + to_beam[1])
    # The planes that the axis of the beam crosses most often.
    which = {2: 0, 1: 1, 0: 2}[int(np.argmax(np.abs(to_beam[2]) / spacing))]
    axes = list(_AXES[which])
    ray = [((v - o) / spacing)[axes] for v, o in ((source, origin), (corner, origin))]
    steps = [(pixel * to_beam[i] / spacing)[axes] for i in (0, 1)]
    out = np.empty((pixels, pixels), dtype=np.float32)
    lines = box.boxes[which], ray[0], ray[1], steps[0], steps[1], spacing[axes]
    # Two threads, each its half of the rows: the kernel releases the interpreter.
    beside = _BESIDE.submit(sum_rays, *lines, (pixels // 2, pixels), out)
    sum_rays(*lines, (0, pixels // 2), out)
    beside.result()
    out *= np.float32(FULL_PER_MM / 255.0)
    return out


def quick_view(box: CoarseBox, request: Radiograph, pixels: int = 256) -> RadiographResult:
    """Return the coarse answer to a request for a radiograph; some milliseconds, for the screen thread."""
    view = request.beam
    assert isinstance(view, View)
    paths = quick_paths(box, view, request.sad_mm, request.size_mm, pixels)
    half = request.size_mm / 2
    return RadiographResult(own_array(shown_grey(paths, 4)), (-half, half, -half, half), request.fingerprint)


def warm_up() -> None:
    """Compile (or load from the cache) the kernel the screen thread will call."""
    from engine.image.quick_kernels import sum_rays

    box = own_array(np.zeros((3, 3, 3), dtype=np.uint8))
    at = np.zeros(3)
    sum_rays(box, at, at, at, at, at, (0, 1), np.empty((1, 1), dtype=np.float32))


def _point(v: NDArray[np.float64]) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
