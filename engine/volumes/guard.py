"""A guard: what may be painted only inside, or only outside, another volume."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.volumes.coverage import Coverage


def held(before: NDArray[np.uint8], after: NDArray[np.uint8], allowed: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return a change kept to where it is allowed.

    A pixel of which the share `allowed` (uint8, 255 = all) may change rises at most to that share and falls at most to
    the rest; what lay beyond before stays as it was. All arrays are uint8 of one shape.
    """
    return np.clip(after, np.minimum(before, 255 - allowed), np.maximum(before, allowed))


def allowed_by(share: NDArray[np.uint8], inside: bool) -> NDArray[np.uint8]:
    """Return the share of each pixel that may change, from the share that the guarding volume covers."""
    return share if inside else 255 - share


def held_coverage(before: Coverage, after: Coverage, guard: Coverage, inside: bool) -> Coverage:
    """Return `after` with its change against `before` kept inside, or outside, the volume `guard`."""
    old = {t.plane: t for t in before.tiles}
    new = {t.plane: t for t in after.tiles}
    changed = [k for k in sorted({*old, *new}) if old.get(k) is not new.get(k)]
    return after.with_slices(
        (k, held(before.slice(k), after.slice(k), allowed_by(guard.slice(k), inside))) for k in changed
    )
