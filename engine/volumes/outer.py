"""The body's outline, and the couch under it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.values import Value, own_array
from engine.base.words import say
from engine.image.ct import CtImage
from engine.volumes.coverage import Coverage, Tile, crop_tile
from engine.volumes.labels import filled, spread
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
        whole[k] = filled(_tissue(request, k, top))
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
    for k in range(planes):
        hu = image.hu[k][::-1] if image.patient_position.endswith("P") else image.hu[k]
        _count_faces(hu, request.threshold_hu, thickest, gap, faces[k], alone[k])
        report((k + 1) / planes, "couch")
    wide, free = ((v[:, :-1] + v[:, 1:]) * dx for v in (faces, alone))
    often = ((wide >= 80.0) & (free >= 30.0)).mean(axis=0)
    if often.max() < 0.6:
        return None
    top = int(np.flatnonzero(often >= 0.6)[0])
    if faces[:, top + 1].sum() > faces[:, top].sum():
        top += 1
    return rows - 1 - top if image.patient_position.endswith("P") else top


@njit(cache=True, nogil=True)
def _count_faces(hu, threshold, thickest, gap, faces, alone):  # type: ignore[no-untyped-def]
    """Add the upper faces of each row, seen in the lowest `thickest` rows of a column; rows above the image are empty."""
    rows, columns = hu.shape
    for c in range(columns):
        bottom = rows - 1
        while bottom >= 0 and hu[bottom, c] <= threshold:
            bottom -= 1
        if bottom < 0:
            continue
        top = 0
        while hu[top, c] <= threshold:
            top += 1
        for r in range(max(0, bottom - thickest + 1), bottom + 1):
            clear = hu[r, c] > threshold
            for above in range(max(0, r - gap), r):
                clear = clear and hu[above, c] <= threshold
            if clear:
                faces[r] += 1.0
                if top > bottom - thickest:
                    alone[r] += 1.0


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
        mask = filled((image.hu[k] > threshold_hu) & below[:, None])
        tile = crop_tile(k, np.minimum(mask.astype(np.uint8) * np.uint8(255), np.uint8(255) - body.slice(k)))
        if tile is not None:
            tiles.append(tile)
        report(0.5 + 0.5 * (k + 1) / image.grid.shape[0], "couch")
    return Coverage(image.grid, tuple(tiles))


def _below(image: CtImage, top: int) -> Mask:
    rows = np.arange(image.grid.shape[1])
    return rows <= top if image.patient_position.endswith("P") else rows >= top


def _tissue(request: FindBody, plane: int, top: int | None) -> Mask:
    mask = np.asarray(request.image.hu[plane] > request.threshold_hu)
    if top is not None:
        mask[_below(request.image, top)] = False
    return mask


def _opened(whole: Mask, request: FindBody) -> Mask:
    """Open a filled slice: a lung is closed by the chest wall, whatever opening does to its inside."""
    dx, dy = request.image.grid.spacing_mm[:2]
    times = max(1, round(request.opening_mm / max(dx, dy)))
    # What lies beyond the image's rim is unknown: a body cut by it must not be eaten from there.
    return spread(~spread(~whole, times), times, whole)


def _edged(request: FindBody, plane: int, body: Mask, allowed: Mask, top: int | None) -> NDArray[np.uint8]:
    """Return the body's shares: thin parts near it taken back, cavities filled, the rim from CT numbers."""
    dx, dy = request.image.grid.spacing_mm[:2]
    times = max(1, round(2 * request.opening_mm / max(dx, dy)))
    body = filled(spread(body, times, allowed))
    barred = np.zeros(len(body), np.bool_) if top is None else _below(request.image, top)
    shares: NDArray[np.uint8] = _rim_shares(request.image.hu[plane], body, barred, np.float32(request.threshold_hu))
    return shares


@njit(cache=True, nogil=True)
def _rim_shares(hu, body, barred, threshold):  # type: ignore[no-untyped-def]
    """Return 255 inside, 0 outside, and where both meet within sides and corners the CT number's place between the two.

    Rows that are `barred` get no rim. Noise in air leaves shares of a few levels beside the rim: they are no tissue.
    """
    rows, columns = body.shape
    out = np.zeros((rows, columns), np.uint8)
    some, every = np.zeros(columns + 2, np.bool_), np.zeros(columns + 2, np.bool_)
    for r in range(rows):
        for c in range(columns):
            here, above, below = body[r, c], body[max(r - 1, 0), c], body[min(r + 1, rows - 1), c]
            some[c + 1], every[c + 1] = here | above | below, here & above & below
            out[r, c] = 255 if here else 0
        some[0], every[0], some[-1], every[-1] = some[1], every[1], some[-2], every[-2]
        for c in range(columns):
            met = (some[c] | some[c + 1] | some[c + 2]) & ~(every[c] & every[c + 1] & every[c + 2])
            if not met or barred[r]:
                continue
            highest = lowest = hu[r, c]
            for y in range(max(0, r - 1), min(rows, r + 2)):
                for x in range(max(0, c - 1), min(columns, c + 2)):
                    highest, lowest = max(highest, hu[y, x]), min(lowest, hu[y, x])
            high = min(max(np.float32(highest), threshold + np.float32(100)), np.float32(150))
            low = max(min(np.float32(lowest), threshold - np.float32(300)), np.float32(-1000))
            share = min(max((np.float32(hu[r, c]) - low) / (high - low), np.float32(0)), np.float32(1))
            found = np.uint8(np.rint(np.float32(255) * share))
            out[r, c] = found if found >= 26 else 0
    return out
