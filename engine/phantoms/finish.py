"""What the scanner adds: the couch top, blur, noise, rounding; and what turns regions into volumes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.ndimage import gaussian_filter1d

from engine.base.progress import Report, quiet
from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.phantom import key_of
from engine.phantoms.solids import Field
from engine.volumes.coverage import Coverage
from engine.volumes.volume import COLOURS, Volume

SHELL_HU, FOAM_HU = 420.0, -935.0


def paint_couch(canvas: Canvas, top_mm: float, half_width_mm: float = 215.0, thickness_mm: float = 46.0) -> Region:
    """Paint a flat couch top: a carbon fibre skin of some millimetres around a foam core; return all of it."""
    radius, middle = 14.0, top_mm + thickness_mm / 2

    def function(x: Field, y: Field, z: Field) -> Field:
        qx = np.abs(x) - np.float32(half_width_mm - radius)
        qy = np.abs(y - np.float32(middle)) - np.float32(thickness_mm / 2 - radius)
        outside = np.hypot(np.maximum(qx, 0), np.maximum(qy, 0)) + np.minimum(np.maximum(qx, qy), 0)
        return np.asarray(outside - radius + 0 * z, dtype=np.float32)

    lo, hi = canvas.grid.bounds_mm
    couch = canvas.solid(function, (-half_width_mm, top_mm, lo[2]), (half_width_mm, top_mm + thickness_mm, hi[2]))
    canvas.paint(couch, SHELL_HU)
    canvas.paint(couch.moved(-2.6), FOAM_HU + 6 * canvas.texture(couch.box, 6.0, 77))
    return couch


def scan(canvas: Canvas, body: Region, noise_hu: float, seed: int, description: str, report: Report = quiet) -> CtImage:
    """Blur slightly, add grainy noise that grows with the depth in the body, and round to an image.

    Parameters
    ----------
    noise_hu : standard deviation in the middle of the body; about half of it near the skin and in air
    """
    hu = canvas.hu
    depth = canvas.on(body, canvas.whole)
    rng = np.random.default_rng(seed)
    out = np.empty(canvas.grid.shape, dtype="<i2")
    planes = canvas.grid.shape[0]
    deepest = np.float32(90.0)
    for k in range(planes):
        plane = gaussian_filter1d(gaussian_filter1d(hu[k], 0.45, axis=0), 0.45, axis=1)
        white = rng.standard_normal(plane.shape, dtype=np.float32)
        soft = gaussian_filter1d(gaussian_filter1d(white, 0.8, axis=0), 0.8, axis=1)
        softer = gaussian_filter1d(gaussian_filter1d(soft, 1.6, axis=0), 1.6, axis=1)
        grain = soft - 0.75 * softer
        grain *= noise_hu / max(float(grain.std()), 1e-6)
        grain *= 0.5 + 0.5 * np.sqrt(np.clip(-depth[k] / deepest, 0, 1))
        out[k] = np.clip(np.round(plane + grain), -1024, 3071)
        if k % 8 == 0:
            report(k / planes, "scanning")
    return CtImage(own_array(out), canvas.grid, "HFS", description=description)


def make_volumes(phantom: str, canvas: Canvas, parts: Sequence[tuple[str, str, Region | Coverage]]) -> tuple[Volume, ...]:
    """Return volumes of (name, role, region) with keys that depend on the names alone."""
    out = []
    for i, (name, role, region) in enumerate(parts):
        coverage = region if isinstance(region, Coverage) else canvas.coverage(region)
        colour = COLOURS[i % len(COLOURS)]
        out.append(Volume(key_of(phantom, name), name, role, colour, coverage, note="true volume of a synthetic patient"))
    return tuple(out)
