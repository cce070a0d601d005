"""Derived volumes of a case: which are current, what is to be made next, and putting what was made in its place.

A derived volume is current if and only if the coverages its parents have now are those it was made from, and its parents
are current themselves. Nobody sets that; everybody compares.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.base.errors import InputError
from engine.base.values import Fingerprint
from engine.base.words import say
from engine.case import edits
from engine.case.case import Case
from engine.volumes.coverage import Coverage
from engine.volumes.recipe import Recipe, words_of
from engine.volumes.volume import Volume

if TYPE_CHECKING:  # the operations load compiled code: only what makes a request needs them
    from engine.volumes.shape import Shaped, ShapeVolume


def parents_now(case: Case, recipe: Recipe) -> tuple[Volume, ...] | None:
    """Return the parents as they are now, or None when one is no longer in the case."""
    found = tuple(case.volume(key) for key in recipe.parents)
    return None if None in found else found  # type: ignore[return-value]


def fits(case: Case, volume: Volume) -> bool:
    """Whether a volume was made from its parents as they are now, whatever those stand on; True for a plain one."""
    if volume.recipe is None:
        return True
    parents = parents_now(case, volume.recipe)
    return parents is not None and volume.recipe.made_from == tuple(p.coverage.fingerprint for p in parents)


def out_of_date(case: Case) -> tuple[str, ...]:
    """Return the keys of the derived volumes that are not current, those that stand on nothing old first."""
    if all(v.recipe is None for v in case.volumes):
        return ()
    old: list[str] = []
    for volume in in_order(case):
        recipe = volume.recipe
        if recipe is not None and (not fits(case, volume) or any(p in old for p in recipe.parents)):
            old.append(volume.key)
    return tuple(old)


def in_order(case: Case) -> tuple[Volume, ...]:
    """Return the volumes so that parents come before what is derived from them; a cycle is left at the end."""
    placed: dict[str, Volume] = {}
    waiting = list(case.volumes)
    while waiting:
        here = {v.key for v in waiting}
        ready = [v for v in waiting if v.recipe is None or not here.intersection(v.recipe.parents)]
        if not ready:
            break
        placed |= {v.key: v for v in ready}
        waiting = [v for v in waiting if v.key not in placed]
    return (*placed.values(), *waiting)


def request_of(case: Case, volume: Volume) -> ShapeVolume | None:
    """Return what would make a derived volume from its parents as they are now; None if plain or a parent is gone."""
    from engine.volumes.shape import ShapeVolume

    if volume.recipe is None:
        return None
    parents = parents_now(case, volume.recipe)
    if parents is None:
        return None
    other = parents[1].coverage if len(parents) > 1 else None
    return ShapeVolume(volume.recipe.what, parents[0].coverage, other, numbers=volume.recipe.numbers)


def next_wanted(case: Case) -> tuple[str, ShapeVolume] | None:
    """Return the key of the first volume to make again, and its request; None when all are current."""
    for key in out_of_date(case):
        volume = case.volume(key)
        request = request_of(case, volume) if volume is not None else None
        if request is not None:
            return key, request
    return None


def with_made(case: Case, key: str, shaped: Shaped) -> Case:
    """Put what was made in its place, if it answers what the volume asks for now; else return the same case."""
    volume = case.volume(key)
    request = request_of(case, volume) if volume is not None else None
    if volume is None or volume.recipe is None or request is None or request.fingerprint != shaped.inputs:
        return case
    return edits.with_volume(case, made(case, volume, volume.recipe, shaped.coverage))


def made(case: Case, volume: Volume, recipe: Recipe, coverage: Coverage) -> Volume:
    """Return a volume that holds what its recipe makes of the parents as they are now."""
    prints: tuple[Fingerprint, ...] = tuple(
        p.coverage.fingerprint for p in map(case.volume, recipe.parents) if p is not None
    )
    return volume.with_coverage(coverage).but(recipe=recipe.but(made_from=prints))


def derive(case: Case, key: str, recipe: Recipe) -> Case:
    """Let a volume follow others; its shape stays until it has been made again.

    Raises
    ------
    InputError
        If a parent is not in the case, or would itself follow from the volume.
    """
    volume = case.volume(key)
    if volume is None or parents_now(case, recipe) is None:
        raise InputError("a volume it is to follow is no longer in the case", "recipe", "Choose another.")
    chain = [volume.name]
    for parent in recipe.parents:
        if _stands_on(case, parent, key):
            chain.append(case.volume(parent).name)  # type: ignore[union-attr]
    if len(chain) > 1:
        raise InputError(
            say("{parent} is itself derived from {volume}", parent=chain[1], volume=volume.name),
            volume.name,
            "Choose a volume that does not stand on this one, or make one of them plain.",
        )
    return edits.with_volume(case, volume.but(recipe=recipe))


def plain(case: Case, key: str) -> Case:
    """Let a volume keep its shape and follow nothing any more."""
    volume = case.volume(key)
    return case if volume is None or volume.recipe is None else edits.with_volume(case, volume.but(recipe=None))


def children(case: Case, key: str) -> tuple[Volume, ...]:
    """Return the volumes that are made from this one directly."""
    return tuple(v for v in case.volumes if v.recipe is not None and key in v.recipe.parents)


def in_words(case: Case, volume: Volume) -> str:
    """Return how a derived volume is made ("CTV with +5 mm"), "" for a plain one."""
    if volume.recipe is None:
        return ""
    found = [case.volume(key) for key in volume.recipe.parents]
    return words_of(volume.recipe, tuple(v.name if v is not None else "?" for v in found))


def _stands_on(case: Case, key: str, base: str, seen: frozenset[str] = frozenset()) -> bool:
    if key == base:
        return True
    volume = case.volume(key)
    if key in seen or volume is None or volume.recipe is None:
        return False
    return any(_stands_on(case, p, base, seen | {key}) for p in volume.recipe.parents)
