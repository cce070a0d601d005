"""Small analytic phantoms for anybody's test: their volumes, densities and orientations are known in closed form."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.volume import COLOURS, Volume

Triple = tuple[float, float, float]
AIR_HU, WATER_HU = -1000, 0


def grid_of(size_mm: Triple, spacing_mm: float | Triple = 5.0, centre_mm: Triple = (0.0, 0.0, 0.0)) -> Grid:
    """Return the grid whose outer faces enclose a box of `size_mm` (x, y, z) about `centre_mm`."""
    spacing = (float(spacing_mm),) * 3 if isinstance(spacing_mm, (int, float)) else tuple(map(float, spacing_mm))
    counts = [max(1, round(a / s)) for a, s in zip(size_mm, spacing)]
    origin = tuple(c - (n - 1) * s / 2 for c, n, s in zip(centre_mm, counts, spacing))
    return Grid(origin, spacing, (counts[2], counts[1], counts[0]))  # type: ignore[arg-type]


def image_of(grid: Grid, hu: NDArray[np.generic] | int, patient_position: str = "HFS") -> CtImage:
    """Return a CT image of given numbers (an array of `grid.shape` or one number for all)."""
    data = np.empty(grid.shape, dtype="<i2")
    data[...] = hu
    return CtImage(own_array(data), grid, patient_position, description="analytic phantom")


def volume_of(grid: Grid, data: NDArray[np.generic], name: str, role: str = "OAR", colour: int = 0) -> Volume:
    """Return a volume of a dense mask (bool or uint8 shares); its key is a hash of the name, so tests can repeat."""
    key = hashlib.sha256(name.encode()).hexdigest()[:8]
    return Volume(key, name, role, COLOURS[colour % len(COLOURS)], Coverage.from_dense(grid, data))


def water_box(
    size_mm: Triple = (200.0, 200.0, 200.0), spacing_mm: float | Triple = 5.0, margin_mm: float = 0.0, hu: int = WATER_HU
) -> CtImage:
    """Return a box of water about the origin, with `margin_mm` of air on every side (whole voxels of it)."""
    grid = grid_of(tuple(a + 2 * margin_mm for a in size_mm), spacing_mm)  # type: ignore[arg-type]
    return image_of(grid, np.where(box_mask(grid, size_mm), hu, AIR_HU))


def box_mask(grid: Grid, size_mm: Triple, centre_mm: Triple = (0.0, 0.0, 0.0)) -> NDArray[np.bool_]:
    """Return which voxel centres lie inside a box."""
    axes = (grid.z_mm, grid.y_mm, grid.x_mm)
    inside = [np.abs(a - c) <= s / 2 for a, c, s in zip(axes, centre_mm[::-1], size_mm[::-1])]
    return inside[0][:, None, None] & inside[1][None, :, None] & inside[2][None, None, :]


def slab_stack(
    layers: Sequence[tuple[float, int]],
    size_mm: tuple[float, float] = (200.0, 200.0),
    spacing_mm: float | Triple = 5.0,
) -> CtImage:
    """Return slabs stacked along +y (anterior first): `layers` of (thickness in mm, CT number), `size_mm` along x and z.

    The anterior face lies at y = 0, so the depth of a vertical beam from gantry 0 in HFS is y itself.
    """
    depth = sum(t for t, _ in layers)
    grid = grid_of((size_mm[0], depth, size_mm[1]), spacing_mm, (0.0, depth / 2, 0.0))
    faces = np.cumsum([t for t, _ in layers])
    index = np.minimum(np.searchsorted(faces, grid.y_mm, side="right"), len(layers) - 1)
    return image_of(grid, np.array([h for _, h in layers])[index][None, :, None])


def cylinder(
    radius_mm: float = 100.0,
    length_mm: float = 200.0,
    spacing_mm: float | Triple = 5.0,
    hu: int = WATER_HU,
    margin_mm: float = 10.0,
) -> tuple[CtImage, Volume]:
    """Return a cylinder along z about the origin in air, and its true volume (body) of exact area but for sampling."""
    size = 2 * (radius_mm + margin_mm)
    grid = grid_of((size, size, length_mm), spacing_mm)
    share = disc_share(grid, radius_mm)
    alpha = np.broadcast_to(np.round(share * 255).astype(np.uint8), grid.shape)
    image = image_of(grid, np.round(AIR_HU + share * (hu - AIR_HU))[None])
    return image, volume_of(grid, np.array(alpha), "Body", "EXTERNAL")


def disc_share(grid: Grid, radius_mm: float, centre_mm: tuple[float, float] = (0.0, 0.0), samples: int = 8) -> NDArray:
    """Return the share of each pixel of a plane inside a disc (x, y centre), from samples x samples sub-pixels."""
    sub = (np.arange(samples) + 0.5) / samples - 0.5
    x = (grid.x_mm[:, None] + sub * grid.spacing_mm[0]).ravel() - centre_mm[0]
    y = (grid.y_mm[:, None] + sub * grid.spacing_mm[1]).ravel() - centre_mm[1]
    inside = (x[None, :] ** 2 + y[:, None] ** 2) <= radius_mm**2
    return inside.reshape(grid.shape[1], samples, grid.shape[2], samples).mean(axis=(1, 3))


def ball(grid: Grid, radius_mm: float, centre_mm: Triple = (0.0, 0.0, 0.0), name: str = "PTV", role: str = "PTV") -> Volume:
    """Return a ball sampled at the planes: exact disc areas (sub-pixel) of the ball's section at each plane centre."""
    data = np.zeros(grid.shape, dtype=np.uint8)
    for k, z in enumerate(grid.z_mm):
        square = radius_mm**2 - (z - centre_mm[2]) ** 2
        if square > 0:
            data[k] = np.round(255 * disc_share(grid, float(np.sqrt(square)), centre_mm[:2]))
    return volume_of(grid, data, name, role)


LETTER = ("#####", "#....", "####.", "#....", "#....", "#....")


def lopsided_letter(spacing_mm: Triple = (4.0, 5.0, 6.0), hu: int = 500, patient_position: str = "HFS") -> CtImage:
    """Return an image no rotation or mirror of which is itself: a letter F with a mark on its left and one at the head.

    In every plane of the lower half a bright F stands upright in rows and columns (its stem on the patient's right,
    its top anterior). A block of 1000 lies at the patient's left posterior edge in the lowest plane, one of 1500 at the
    right anterior edge in the highest. Shape (planes 8, rows 20, columns 24); the origin is off zero on purpose.
    """
    data = np.full((8, 20, 24), WATER_HU, dtype="<i2")
    for r, line in enumerate(LETTER):
        for c, mark in enumerate(line):
            if mark == "#":
                data[:4, 4 + 2 * r : 6 + 2 * r, 6 + 2 * c : 8 + 2 * c] = hu
    data[0, 18:20, 21:24] = 1000
    data[7, 0:2, 0:3] = 1500
    grid = Grid((-31.0, -47.5, 112.0), spacing_mm, data.shape)  # type: ignore[arg-type]
    return CtImage(own_array(data), grid, patient_position, description="lop-sided letter")
