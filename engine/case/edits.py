"""Edits: pure functions from case to case. What does not change stays the same object."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Beam
from engine.beams.machine import Machine
from engine.case.case import Case, Draft
from engine.space.point import NamedPoint
from engine.volumes.coverage import Coverage
from engine.volumes.sets import VolumeSet
from engine.volumes.volume import COLOURS, Volume, new_key


def next_colour(case: Case) -> tuple[int, int, int]:
    """Return the colour for the next volume: the first of the set used least, in order of creation."""
    counts = [sum(v.colour == c for v in case.volumes) for c in COLOURS]
    return COLOURS[counts.index(min(counts))]


def with_volume(case: Case, volume: Volume) -> Case:
    """Add a volume, or replace the one of the same key in its place."""
    if case.volume(volume.key) is None:
        return case.but(volumes=(*case.volumes, volume))
    return case.but(volumes=tuple(volume if v.key == volume.key else v for v in case.volumes))


def without_volume(case: Case, key: str) -> Case:
    """Remove a volume; goals and prescriptions that name it go with it, what is derived from it becomes plain."""
    drafts = tuple(
        d.but(
            goals=tuple(g for g in d.goals if g.volume_key != key),
            prescription=None if d.prescription and d.prescription.volume_key == key else d.prescription,
        )
        if any(g.volume_key == key for g in d.goals) or (d.prescription and d.prescription.volume_key == key)
        else d
        for d in case.drafts
    )
    volumes = tuple(v.but(recipe=None) if v.recipe and key in v.recipe.parents else v for v in case.volumes if v.key != key)
    return case.but(volumes=volumes, drafts=drafts)


def with_set(case: Case, wanted: VolumeSet) -> Case:
    """Add the volumes of a set that no volume of the case is named like, empty; the others stay as they are."""
    for w in wanted.volumes:
        if case.named(w.name) is None:
            volume = Volume(new_key(), w.name, w.role, w.colour or next_colour(case), Coverage(case.image.grid))
            case = with_volume(case, volume)
    return case


def with_points(case: Case, points: Iterable[NamedPoint]) -> Case:
    """Add named points; one that is there already is not added again, another of the same name gets a number."""
    for point in points:
        if any(p.place_mm == point.place_mm and p.name == point.name for p in case.points):
            continue
        name, n, taken = point.name, 2, {p.name.lower() for p in case.points}
        while name.lower() in taken:
            end = f"_{n}"
            name, n = point.name[: 64 - len(end)] + end, n + 1
        case = case.but(points=(*case.points, point.but(name=name)))
    return case


def with_point_named(case: Case, index: int, name: str) -> Case:
    """Give one of the named points another name, free among the points of the case.

    Raises
    ------
    InputError
        If the name is empty, too long or another point's.
    """
    others = {p.name.lower() for i, p in enumerate(case.points) if i != index}
    if name.strip().lower() in others:
        raise InputError(say("another point is named {name}", name=name.strip()), "point", "Type another name.")
    named = case.points[index].but(name=name.strip())
    return case.but(points=(*case.points[:index], named, *case.points[index + 1 :]))


def without_point(case: Case, index: int) -> Case:
    """Remove one of the named points. What was put at it (isocentre, set-up point, normalisation) stays where it is."""
    return case.but(points=(*case.points[:index], *case.points[index + 1 :]))


def without_empty(case: Case) -> Case:
    """Remove the volumes that hold nothing, but for those that a goal, a prescription or a recipe names."""
    named = {g.volume_key for d in case.drafts for g in d.goals}
    named |= {d.prescription.volume_key for d in case.drafts if d.prescription}
    named |= {key for v in case.volumes if v.recipe for key in v.recipe.parents}
    for v in case.volumes:
        if v.coverage.is_empty and v.recipe is None and v.key not in named:
            case = without_volume(case, v.key)
    return case


def with_draft(case: Case, draft: Draft) -> Case:
    """Add a draft, or replace the one of the same key in its place."""
    if case.draft(draft.key) is None:
        return case.but(drafts=(*case.drafts, draft))
    return case.but(drafts=tuple(draft if d.key == draft.key else d for d in case.drafts))


def without_draft(case: Case, key: str) -> Case:
    """Remove a draft."""
    return case.but(drafts=tuple(d for d in case.drafts if d.key != key))


def with_machine(case: Case, machine: Machine) -> Case:
    """Add a machine or replace the one of the same name."""
    others = tuple(m for m in case.machines if m.name != machine.name)
    return case if machine in case.machines else case.but(machines=(*others, machine))


def in_draft(case: Case, key: str, change: Callable[[Draft], Draft]) -> Case:
    """Return the case with `change` applied to one draft."""
    draft = case.draft(key)
    if draft is None:
        raise InputError("this draft is no longer in the case")
    return with_draft(case, change(draft))


def with_beam(draft: Draft, beam: Beam, weight: float | None = None) -> Draft:
    """Add a beam (weight 1 unless given), or replace the one of the same key and keep its weight unless given."""
    keys = [b.key for b in draft.beams]
    if beam.key not in keys:
        return draft.but(beams=(*draft.beams, beam), weights=(*draft.weights, 1.0 if weight is None else weight))
    i = keys.index(beam.key)
    beams = (*draft.beams[:i], beam, *draft.beams[i + 1 :])
    return draft.but(beams=beams) if weight is None else with_weight(draft.but(beams=beams), beam.key, weight)


def without_beam(draft: Draft, key: str) -> Draft:
    """Remove a beam and its weight."""
    kept = [(b, w) for b, w in zip(draft.beams, draft.weights, strict=True) if b.key != key]
    return draft.but(beams=tuple(b for b, _ in kept), weights=tuple(w for _, w in kept))


def with_weight(draft: Draft, key: str, weight: float) -> Draft:
    """Set one beam's weight; below zero becomes zero."""
    weight = max(0.0, float(weight))
    return draft.but(weights=tuple(weight if b.key == key else w for b, w in zip(draft.beams, draft.weights, strict=True)))


def with_bolus(case: Case, draft_key: str, beam_key: str, volume_key: str, on: bool = True) -> Case:
    """Lay a volume of role BOLUS on the patient for one beam, or take it off.

    Raises
    ------
    InputError
        If the volume to be laid on is not in the case, is no bolus, or holds nothing.
    """
    volume = case.volume(volume_key)
    if on and (volume is None or volume.role != "BOLUS" or volume.coverage.is_empty):
        name = volume.name if volume else volume_key
        raise InputError(say("it is no painted volume of role BOLUS"), name, "Paint it and give it the role BOLUS.")

    def change(draft: Draft) -> Draft:
        beam = draft.beam(beam_key)
        others = tuple(k for k in beam.bolus if k != volume_key)
        return with_beam(draft, beam.but(bolus=(*others, volume_key) if on else others))

    return in_draft(case, draft_key, change)


def new_draft(case: Case, name: str = "") -> Draft:
    """Return an empty draft with a name that is free in the case."""
    names = {d.name for d in case.drafts}
    n = 1
    while (name or f"Draft {n}") in names:
        n, name = n + 1, ""
    return Draft(new_key(), name or f"Draft {n}")
