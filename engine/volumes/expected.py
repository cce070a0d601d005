"""What a name lets expect of a volume: a side of the body, a size, a place in the list of names."""

from __future__ import annotations

from functools import cache

import numpy as np

import assets
from engine.base.sources import read_table
from engine.base.words import say
from engine.volumes.evidence import NAME, SIDE, SIZE, UNLISTED, Evidence, Limits
from engine.volumes.naming import built_from_list, nearest, side_of
from engine.volumes.volume import Volume, tg263_form


def of_name(volume: Volume) -> list[Evidence]:
    """Tell a name of another form than TG-263 wants, or of its form but not of its list, with the nearest that is."""
    better = nearest(volume.name)
    if not tg263_form(volume.name):
        words = say("the name is not in TG-263 form: at most 16 letters, digits and _ - + ! ~ ^ .")
        if better:
            words = say("{words} The nearest of its names is {name}.", words=words, name=better)
        return [Evidence(NAME, volume.key, (), None, float(len(volume.name)), words)]
    if volume.role == "OTHER" or built_from_list(volume.name):
        return []
    words = (
        say("the name is not among the standard names kept here; the nearest is {name}", name=better)
        if better
        else say("the name is not among the standard names kept here, and none is like it")
    )
    return [Evidence(UNLISTED, volume.key, (), None, 0.0, words)]


def of_side(volume: Volume, body: Volume, limits: Limits) -> list[Evidence]:
    """Tell a volume whose centre lies on the other side of the body's middle than its name says (+x is the left)."""
    side, at, middle = side_of(volume.name), volume.coverage.centroid_mm(), _middle_mm(volume, body)
    if not side or at is None or middle is None:
        return []
    beyond = (middle - at[0]) if side == "left" else (at[0] - middle)
    if beyond <= limits.side_mm:
        return []
    words = (
        say("the name says left, and its centre lies {mm:.0f} mm right of the middle of the body", mm=beyond)
        if side == "left"
        else say("the name says right, and its centre lies {mm:.0f} mm left of the middle of the body", mm=beyond)
    )
    return [Evidence(SIDE, volume.key, volume.coverage.planes, at, beyond, words)]


def _middle_mm(volume: Volume, body: Volume) -> float | None:
    """Return x of the body's middle over the slices of the volume, or over all its slices if it has none there."""
    weights, moment = 0.0, 0.0
    wanted = set(volume.coverage.planes) & set(body.coverage.planes)
    for tile in body.coverage.tiles:
        if wanted and tile.plane not in wanted:
            continue
        columns = tile.alpha.sum(axis=0, dtype=np.float64)
        weights += float(columns.sum())
        moment += float((columns * (np.arange(len(columns)) + tile.column)).sum())
    grid = body.coverage.grid
    return grid.origin_mm[0] + grid.spacing_mm[0] * moment / weights if weights else None


def of_size(volume: Volume, cut_off: bool) -> list[Evidence]:
    """Tell an organ much smaller or larger than adults' organs of its name.

    Parameters
    ----------
    cut_off : whether it reaches the end of the scan, so that it may be smaller than the organ is
    """
    found = sizes_cm3().get(_without_side(volume.name)) if volume.role == "OAR" else None
    if found is None:
        return []
    (low, high), cm3 = found, volume.coverage.volume_cm3
    if (cm3 >= low or cut_off) and cm3 <= high:
        return []
    words = say(
        "{cm3:.4g} cm³, where {low:g} to {high:g} cm³ would be expected (a range from memory, not read in a source)",
        cm3=cm3,
        low=low,
        high=high,
    )
    return [Evidence(SIZE, volume.key, volume.coverage.planes, volume.coverage.centroid_mm(), cm3, words)]


@cache
def sizes_cm3() -> dict[str, tuple[float, float]]:
    """Return the expected range by name in lower letters, without its side."""
    table = read_table(assets.path("goals/volume_sizes.csv"))
    pairs = zip(table["low_cm3"].tolist(), table["high_cm3"].tolist(), strict=True)
    return {name.lower(): pair for name, pair in zip(table.text("name"), pairs, strict=True)}


def _without_side(name: str) -> str:
    low = name.strip().lower()
    return low[:-2] if low.endswith(("_l", "_r")) else low
