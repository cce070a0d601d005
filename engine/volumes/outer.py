"""The body's outline, and the couch under it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value, own_array
from engine.base.words import say
from engine.image.ct import CtImage
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.pieces import joined

Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class FindBody(Value):
    """What the body's outline is found from.

    Parameters
    ----------
    threshold_hu : above it is tissue; half-way between air and fat with room for noise
    opening_mm : things thinner than twice this (sheets, couch shells, tubes) do not count as body
    least_share : separate pieces (arms, legs) of at least this share of the largest are kept
    couch_mm : thickest couch top that is looked for
    """

    image: CtImage
    threshold_hu: float = -300.0
    opening_mm: float = 3.0
    least_share: float = 0.05
    couch_mm: float = 80.0


def find_body(request: FindBody, report: Report = quiet) -> Coverage:
    """Return the body: the largest connected tissue without the couch, lungs and other cavities filled.

    The couch is known by its flat top, the same in most slices, where it reaches out beside the patient; everything
    from there on down is cut off, whether it touches or not. Thin things are opened away, separate pieces that are
    small are dropped, cavities closed within their slice are filled. The share of a rim pixel is its CT number's place
    between the air and the tissue beside it.

    Limits: a couch that is nowhere wider than the patient, or not flat, is told apart only where a gap or a thin shell
    separates it; cavities open to the outside in a slice (mouth, ear) stay outside.

    Raises
    ------
    InputError
        If nothing lies above the threshold.
    """
    image = request.image
    top = couch_row(request, part(report, 0.0, 0.2))
    planes = range(image.grid.shape[0])
    solid: dict[int, Mask] = {}
    whole: dict[int, Mask] = {}
    for k in planes:
        whole[k] = _filled(_tissue(request, k, top))
        solid[k] = _opened(whole[k], request)
        report(0.2 + 0.3 * (k + 1) / len(planes), "body")
    found = joined(planes, lambda k: solid[k], report=part(report, 0.5, 0.7))
    if found.count == 0:
        raise InputError(
            say(
                "no tissue above {threshold_hu:g} HU is thicker than {opening_mm:g} mm",
                threshold_hu=request.threshold_hu,
                opening_mm=2 * request.opening_mm,
            ),
            image.description or "CT image",
            "Lower the threshold or check the CT numbers.",
        )
    keep = found.weight >= request.least_share * found.weight.max()
    keep[0] = False
    tiles = []
    for k in planes:
        body = found.mask(k, keep)
        if body.any():
            tile = crop_tile(k, _edged(request, k, body, whole[k], top))
            if tile is not None:
                tiles.append(tile)
        report(0.7 + 0.3 * (k + 1) / len(planes), "body")
    return Coverage(image.grid, tuple(tiles))


def matter_box(image: CtImage, threshold_hu: float = -950.0) -> Coverage:
    """Return the box around everything denser than air: what counts when nobody has drawn an outline.

    Within it the CT is taken as it is (phantoms of lung or foam open to the side, couch, clothes, the air between), so
    nothing is lost that a search for tissue would not recognise.

    Raises
    ------
    InputError
        If nothing lies above the threshold.
    """
    solid = image.hu > threshold_hu
    spans = []
    for axis in range(3):
        some = np.flatnonzero(solid.any(axis=tuple(a for a in range(3) if a != axis)))
        if some.size == 0:
            raise InputError(
                say("nothing in it is denser than {threshold_hu:g} HU", threshold_hu=threshold_hu),
                image.description or "CT image",
                "Check the CT numbers.",
            )
        spans.append((int(some[0]), int(some[-1]) + 1))
    (first, end), (top, bottom), (left, right) = spans
    full = own_array(np.full((bottom - top, right - left), 255, dtype=np.uint8))
    return Coverage(image.grid, tuple(Tile(k, top, left, full) for k in range(first, end)))


def couch_row(request: FindBody, report: Report = quiet) -> int | None:
    """Return the first row (from the patient's side) of a flat couch top, or None if none is seen.

    Looked for from the side the patient lies on, in the lowest `couch_mm` of each column: every upper face with 3 mm of
    nothing above votes for its row. A couch top is a row (with the next one) that has votes over at least 80 mm of
    width, 30 mm of them in columns that hold nothing else, in at least six tenths of the slices. Arms, flanks and chest
    walls are round and change from slice to slice; a couch does not.
    """
    image = request.image
    planes, rows, _ = image.grid.shape
    dx, dy = image.grid.spacing_mm[:2]
    thickest, gap = max(2, int(request.couch_mm / dy)), max(2, round(3.0 / dy))
    faces = np.zeros((planes, rows + 1))
    alone = np.zeros((planes, rows + 1))
    row = np.arange(rows)[:, None]
    for k in range(planes):
        mask = image.hu[k] > request.threshold_hu
        if image.patient_position.endswith("P"):
            mask = mask[::-1]
        bottom = np.where(mask.any(axis=0), rows - 1 - np.argmax(mask[::-1], axis=0), -1)
        # Tissue with `gap` empty rows above it; rows above the image count as empty.
        upper = mask & (row > bottom - thickest)
        for step in range(1, gap + 1):
            upper[step:] &= ~mask[:-step]
        lone = mask.argmax(axis=0) > bottom - thickest
        faces[k, :rows] = upper.sum(axis=1)
        alone[k, :rows] = (upper & lone).sum(axis=1)
        report((k + 1) / planes, "couch")
    wide, free = ((v[:, :-1] + v[:, 1:]) * dx for v in (faces, alone))
    often = ((wide >= 80.0) & (free >= 30.0)).mean(axis=0)
    if often.max() < 0.6:
        return None
    top = int(np.flatnonzero(often >= 0.6)[0])
    if faces[:, top + 1].sum() > faces[:, top].sum():
        top += 1
    return rows - 1 - top if image.patient_position.endswith("P") else top


def find_support(image: CtImage, body: Coverage, threshold_hu: float = -800.0, report: Report = quiet) -> Coverage:
    """Return what lies from the couch top down and is not body, its hollow filled slice by slice; empty if no couch.

    A couch's foam is light, hence the low threshold.
    """

    request = FindBody(image)
    top = couch_row(request, part(report, 0.0, 0.5))
    if top is None:
        return Coverage(image.grid)
    tiles = []
    for k in range(image.grid.shape[0]):
        below = _below(image, top)
        mask = _filled((image.hu[k] > threshold_hu) & below[:, None])
        tile = crop_tile(k, np.minimum(mask.astype(np.uint8) * np.uint8(255), np.uint8(255) - body.slice(k)))
        if tile is not None:
            tiles.append(tile)
        report(0.5 + 0.5 * (k + 1) / image.grid.shape[0], "couch")
    return Coverage(image.grid, tuple(tiles))


def _filled(mask: Mask) -> Mask:
    """Return a slice with everything filled that no way along the sides of empty pixels joins to the image's rim."""
    from scipy import ndimage

    empty, count = ndimage.label(~mask)
    open_to_rim = np.zeros(count + 1, dtype=np.bool_)
    for rim in (empty[0], empty[-1], empty[:, 0], empty[:, -1]):
        open_to_rim[rim] = True
    open_to_rim[0] = False
    return np.asarray(~open_to_rim[empty])


def _below(image: CtImage, top: int) -> Mask:
    rows = np.arange(image.grid.shape[1])
    return rows <= top if image.patient_position.endswith("P") else rows >= top


def _tissue(request: FindBody, plane: int, top: int | None) -> Mask:
    mask = np.asarray(request.image.hu[plane] > request.threshold_hu)
    if top is not None:
        mask[_below(request.image, top)] = False
    return mask


def _opened(filled: Mask, request: FindBody) -> Mask:
    """Open a filled slice: a lung is closed by the chest wall, whatever opening does to its inside."""
    dx, dy = request.image.grid.spacing_mm[:2]
    times = max(1, round(request.opening_mm / max(dx, dy)))
    # What lies beyond the image's rim is unknown: a body cut by it must not be eaten from there.
    return _spread(~_spread(~filled, times), times, filled)


def _spread(mask: Mask, times: int, within: Mask | None = None) -> Mask:
    """Return a slice spread over the sides of pixels, `times` over, all of it `within`; nothing comes over the rim.

    Whole rows at a time: several times as fast as a general dilation.
    """
    out = mask.copy()
    for _ in range(times):
        before = out.copy()
        out[1:] |= before[:-1]
        out[:-1] |= before[1:]
        out[:, 1:] |= before[:, :-1]
        out[:, :-1] |= before[:, 1:]
        if within is not None:
            out &= within
    return out


def _widened(mask: Mask) -> Mask:
    """Return a slice spread once over sides and corners."""
    out = mask.copy()
    out[1:] |= mask[:-1]
    out[:-1] |= mask[1:]
    rows = out.copy()
    out[:, 1:] |= rows[:, :-1]
    out[:, :-1] |= rows[:, 1:]
    return out


def _edged(request: FindBody, plane: int, body: Mask, allowed: Mask, top: int | None) -> NDArray[np.uint8]:
    """Return the body's shares: thin parts near it taken back, cavities filled, the rim from CT numbers."""
    from scipy import ndimage

    dx, dy = request.image.grid.spacing_mm[:2]
    times = max(1, round(2 * request.opening_mm / max(dx, dy)))
    body = _filled(_spread(body, times, allowed))
    rim = _widened(body) & _widened(~body)
    if top is not None:
        rim[_below(request.image, top)] = False
    out = body.astype(np.uint8) * np.uint8(255)
    if rim.any():
        seen_r, seen_c = np.flatnonzero(rim.any(axis=1)), np.flatnonzero(rim.any(axis=0))
        box = slice(max(0, seen_r[0] - 1), seen_r[-1] + 2), slice(max(0, seen_c[0] - 1), seen_c[-1] + 2)
        near = request.image.hu[plane][box]
        edge = rim[box]
        high = np.clip(ndimage.maximum_filter(near, 3)[edge].astype(np.float32), request.threshold_hu + 100, 150)
        low = np.minimum(ndimage.minimum_filter(near, 3)[edge].astype(np.float32), request.threshold_hu - 300)
        low = np.maximum(low, -1000)
        share = np.clip((near[edge] - low) / (high - low), 0, 1)
        out[box][edge] = np.rint(255 * share).astype(np.uint8)
    # Noise in air leaves shares of a few levels beside the rim; they are no tissue.
    out[out < 26] = 0
    return out
