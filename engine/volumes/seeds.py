"""First shapes found from the CT: a range of CT numbers, the lungs, bone. Each is a start for a hand, not an outline."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import GeometryError, InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value
from engine.base.words import say
from engine.image.ct import CtImage
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.distance import share_crossed

Mask = NDArray[np.bool_]
COARSE_MM = 2.0
AIRWAY_HU = -930.0
LEAST_LUNG_CM3 = 50.0


@dataclass(frozen=True, eq=False)
class FindInside(Value):
    """Ask for volumes that the CT shows by itself.

    Parameters
    ----------
    what : "lungs" or "bone"
    body : the patient's outline; nothing outside it counts
    number : "lungs": the CT number HU below which it is lung; "bone": that above which it is bone
    """

    what: str
    image: CtImage
    body: Coverage
    number: float


@dataclass(frozen=True, eq=False)
class Found(Value):
    """What was found: TG-263 names and their coverages, in step."""

    names: tuple[str, ...]
    coverages: tuple[Coverage, ...]


def find_inside(request: FindInside, report: Report = quiet) -> Found:
    """Find the lungs, left and right apart and without the airways, or bone.

    Raises
    ------
    InputError
        If nothing of the kind is seen, or there is no such kind.
    GeometryError
        If the body lies on another grid than the image.
    """
    if request.body.grid != request.image.grid:
        raise GeometryError("the body lies on another grid than the image", request.what)
    if request.body.is_empty:
        raise InputError("the body's outline is empty", request.what, "Find the body outline first.")
    if request.what == "lungs":
        left, right = _lungs(request, report)
        return Found(("Lung_L", "Lung_R"), (left, right))
    if request.what == "bone":
        return Found(("Bones",), (_bone(request, report),))
    raise InputError(say("there is nothing to find by {what!r}", what=request.what), "CT")


def in_range(image: CtImage, lo_hu: float, hi_hu: float, limit: Coverage | None = None, report: Report = quiet) -> Coverage:
    """Return where the CT numbers lie in `lo_hu`..`hi_hu`, its line between the pixels, inside `limit` if given.

    Raises
    ------
    GeometryError
        If the range is empty, or the limit lies on another grid.
    """
    if not lo_hu <= hi_hu:
        raise GeometryError(
            say("the range {lo_hu:g} to {hi_hu:g} HU holds nothing", lo_hu=lo_hu, hi_hu=hi_hu), "CT number range"
        )
    if limit is not None and limit.grid != image.grid:
        raise GeometryError("the volume lies on another grid than the image", "CT number range")
    planes, rows, columns = image.grid.shape
    out: list[Tile] = []
    for k in range(planes) if limit is None else limit.planes:
        tile = limit.tile(k) if limit is not None else None
        r0, c0 = (tile.row, tile.column) if tile is not None else (0, 0)
        h, w = tile.alpha.shape if tile is not None else (rows, columns)
        share = _share_in(image.hu[k, r0 : r0 + h, c0 : c0 + w], lo_hu, hi_hu)
        if tile is not None:
            share = np.minimum(share, tile.alpha)
        made = crop_tile(k, share)
        if made is not None:
            out.append(made.but(row=made.row + r0, column=made.column + c0))
        report((k + 1) / planes, "CT number range")
    return Coverage(image.grid, tuple(out))


def _share_in(hu: NDArray[np.integer], lo_hu: float, hi_hu: float) -> NDArray[np.uint8]:
    """Return the share of each pixel in a range; half a unit about it belongs to it, since CT numbers are whole."""
    values = hu.astype(np.float32)
    return share_crossed(np.maximum(np.float32(lo_hu - 0.5) - values, values - np.float32(hi_hu + 0.5)), 0.0)


def _bone(request: FindInside, report: Report) -> Coverage:
    """Return what is denser than the number, without grains under a tenth of a cm3."""
    from engine.volumes.tidy import remove_islands

    dense = in_range(request.image, request.number, 32767.0, request.body, part(report, 0.0, 0.6))
    if dense.is_empty:
        raise InputError(
            say("nothing inside the body is denser than {number:g} HU", number=request.number), "bone", "Lower the number."
        )
    return remove_islands(dense, 0.1, part(report, 0.6, 1.0))


def _lungs(request: FindInside, report: Report) -> tuple[Coverage, Coverage]:
    """Return the left and the right lung.

    On pixels of about 2 mm: what is lighter than the number inside the body; less the windpipe and its branches, which
    are air; less what touches nothing of its size. The two largest pieces of tissue with some gas are the lungs; where
    they touch they are parted by opening. On full pixels each takes its own light pixels, small vessels closed over.
    """
    from scipy import ndimage

    image = request.image
    dx, dy, dz = image.grid.spacing_mm
    step = max(1, round(COARSE_MM / max(dx, dy)))
    coarse = image.hu[:, ::step, ::step].astype(np.float32)
    within = request.body.dense()[:, ::step, ::step] > 127
    spacing = (dz, dy * step, dx * step)
    voxel_cm3 = float(np.prod(spacing)) / 1000
    light = (coarse < request.number) & within
    report(0.1, "lungs")
    light &= ~_airways(coarse, light, spacing, voxel_cm3)
    report(0.4, "lungs")
    labels = _two(light, coarse, spacing, voxel_cm3)
    if labels is None:
        raise InputError(
            say("no two lungs are seen below {number:g} HU", number=request.number),
            "lungs",
            "Change the number, or paint them by hand.",
        )
    report(0.6, "lungs")
    ball = ndimage.generate_binary_structure(3, 1)
    halves: tuple[list[Tile], list[Tile]] = ([], [])
    near = [ndimage.binary_dilation(labels == side, ball) & (labels != 3 - side) for side in (1, 2)]
    times = max(1, round(2.0 / max(dx, dy)))
    for k in range(image.grid.shape[0]):
        for side, tiles in zip((0, 1), halves):
            if not near[side][k].any():
                continue
            fine = near[side][k].repeat(step, axis=0).repeat(step, axis=1)[: image.grid.shape[1], : image.grid.shape[2]]
            share = np.where(fine, _share_in(image.hu[k], -32000.0, request.number), np.uint8(0))
            solid = share > 127
            closed = ndimage.binary_fill_holes(ndimage.binary_closing(np.pad(solid, times + 1), iterations=times))
            share[closed[times + 1 : -times - 1, times + 1 : -times - 1] & ~solid] = 255
            if side and halves[0] and halves[0][-1].plane == k:  # what the left one has is its own
                own = halves[0][-1]
                there = share[own.row : own.row + own.alpha.shape[0], own.column : own.column + own.alpha.shape[1]]
                np.minimum(there, np.uint8(255) - own.alpha, out=there)
            made = crop_tile(k, share)
            if made is not None:
                tiles.append(made)
        report(0.6 + 0.4 * (k + 1) / image.grid.shape[0], "lungs")
    return Coverage(image.grid, tuple(halves[0])), Coverage(image.grid, tuple(halves[1]))


def _airways(coarse: NDArray[np.float32], light: Mask, spacing: tuple[float, ...], voxel_cm3: float) -> Mask:
    """Return the windpipe with its branches, their walls' soft edge with them; nothing where none is seen.

    Air in a row of slices, round and narrow in each (under 12 cm2), and more than 1 cm3 in all.
    """
    from scipy import ndimage

    calm = ndimage.uniform_filter(coarse, (1, 3, 3))
    air = light & (calm < AIRWAY_HU)
    labels, count = ndimage.label(air)
    if count == 0:
        return air
    out = np.zeros_like(air)
    pixel_cm2 = spacing[1] * spacing[2] / 100
    for number, box in enumerate(ndimage.find_objects(labels), start=1):
        mine = labels[box] == number
        slices = mine.any(axis=(1, 2)).sum()
        if mine.sum() * voxel_cm3 >= 1.0 and mine.sum() / slices * pixel_cm2 < 12.0 and slices * spacing[0] >= 15.0:
            out[box] |= mine
    reach = max(1, round(4.0 / max(spacing[1:])))
    square = np.ones((1, 3, 3), bool)
    return np.asarray(ndimage.binary_dilation(out, square, iterations=reach, mask=light))


def _two(light: Mask, coarse: NDArray[np.float32], spacing: tuple[float, ...], voxel_cm3: float) -> NDArray[np.int8] | None:
    """Return 1 in the left lung, 2 in the right one; None if there are no two."""
    from scipy import ndimage

    for worn in range(6):
        core = ndimage.binary_erosion(light, np.ones((1, 3, 3), bool), iterations=worn) if worn else light
        labels, count = ndimage.label(core)
        if count < 2:
            continue
        size = np.bincount(labels.ravel(), minlength=count + 1) * voxel_cm3
        size[0] = 0
        # Gas of the bowel is as light as air itself; a lung is not.
        mean = np.bincount(labels.ravel(), coarse.ravel(), minlength=count + 1) * voxel_cm3 / np.maximum(size, 1e-9)
        size[mean < AIRWAY_HU] = 0
        first, second = np.argsort(size)[::-1][:2]
        if size[second] < LEAST_LUNG_CM3 or size[second] < 0.1 * size[first]:
            continue
        left, right = first, second
        if np.nonzero(labels == first)[2].mean() < np.nonzero(labels == second)[2].mean():
            left, right = second, first
        if not worn:
            return np.where(labels == left, 1, np.where(labels == right, 2, 0)).astype(np.int8)
        # What was worn off goes to the nearer core, no further than it was worn.
        way = [ndimage.distance_transform_edt(labels != n, spacing) for n in (left, right)]
        reach = (worn + 1) * max(spacing[1:]) * 1.5
        own = light & (np.minimum(*way) <= reach)
        return np.where(own, np.where(way[0] <= way[1], 1, 2), 0).astype(np.int8)
    return None
