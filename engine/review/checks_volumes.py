"""Checks of the painted volumes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from engine.base.words import as_words, listed, say
from engine.review.finding import Facts, Finding
from engine.volumes import quality as q
from engine.volumes.coverage import Coverage
from engine.volumes.volume import Volume

EDGE_MM = 2.0
_STOPS = {q.EMPTY, q.OUTSIDE}
_NOTES = {q.NAME, q.HOLE}
_RULES = {
    q.EMPTY: say("A volume in the list holds something or is removed."),
    q.GAP: say("A volume has no missing slice between its first and its last."),
    q.SINGLE: say("A volume reaches over more than one slice."),
    q.ISLAND: say("A volume has no stray piece apart from its main body."),
    q.HOLE: say("A volume has no hole that was not meant."),
    q.OUTSIDE: say("A target or organ lies inside the body outline."),
    q.NEAR_SKIN: say("A target keeps its distance from the skin, or the build-up there is dealt with."),
    q.JUMP: say("The area of a volume changes smoothly from slice to slice."),
    q.NAME: say("Names have the form AAPM TG-263 asks for."),
}


def quality_of_volumes(facts: Facts) -> Iterator[Finding]:
    """Yield what the quality evidence of every volume says."""
    body = facts.case.body
    outer = body if body and not body.coverage.is_empty else None
    concerned = {g.volume_key for g in facts.draft.goals}
    if facts.draft.prescription:
        concerned.add(facts.draft.prescription.volume_key)
    for volume in facts.case.volumes:
        for proof in q.quality(volume, outer):
            severity = "note" if proof.code in _NOTES else "warn"
            if proof.code in _STOPS and (volume.is_target or volume.key in concerned):
                severity = "stop"
            rule = _RULES.get(proof.code, say("Volumes are free of faults."))
            yield Finding(
                proof.code,
                severity,
                rule,
                say("{volume}: {words}", volume=volume.name, words=as_words(proof.words)),
                volume.key,
                volume.key,
                point_mm=proof.point_mm,
            )


def body_outline(facts: Facts) -> Iterator[Finding]:
    """Yield that the body is missing, doubled, or cut off by the edge of the image."""
    rule = say("There is one body outline and the image holds all of it.")
    bodies = [v for v in facts.case.volumes if v.role == "EXTERNAL" and not v.coverage.is_empty]
    if not bodies:
        yield Finding("no-body", "stop", rule, "No volume has the role EXTERNAL; the air counts as matter.", "body")
        return
    if len(bodies) > 1:
        names = ", ".join(v.name for v in bodies)
        yield Finding(
            "two-bodies",
            "warn",
            rule,
            say("Several volumes have the role EXTERNAL: {names}.", names=names),
            "body",
            bodies[1].key,
        )
    box, image = bodies[0].coverage.bounds_mm(), facts.case.image.grid.bounds_mm
    if box:
        sides = ((say("right"), 0, 0), (say("left"), 1, 0), (say("front"), 0, 1), (say("back"), 1, 1))
        cut = [word for word, end, axis in sides if abs(box[end][axis] - image[end][axis]) < EDGE_MM]
        if cut:
            words = say("The body touches the {cut} edge of the image: anatomy may be cut off.", cut=listed(cut))
            yield Finding("image-too-small", "warn", rule, words, "body", bodies[0].key)


def targets_and_organs(facts: Facts) -> Iterator[Finding]:
    """Yield overlaps of a target with an organ that has a goal in this draft."""
    rule = say("Where a target overlaps an organ with a goal, the physician knows which demand gives way.")
    organs = {g.volume_key for g in facts.draft.goals}

    def wanted(a: Volume, b: Volume) -> bool:
        organ = b if a.is_target else a
        return a.is_target != b.is_target and organ.key in organs

    names = {v.key: v.name for v in facts.case.volumes}
    for proof in q.overlaps(facts.painted(), wanted=wanted):
        place = "+".join(sorted((proof.volume_key, proof.other_key)))
        words = say("{volume}: {words}", volume=names[proof.volume_key], words=as_words(proof.words))
        yield Finding("target-organ-overlap", "note", rule, words, place, proof.volume_key, point_mm=proof.point_mm)


def inside_each_other(facts: Facts) -> Iterator[Finding]:
    """Yield a GTV that leaves its CTV, or a CTV that leaves its PTV."""
    rule = say("A GTV lies inside its CTV, and a CTV inside its PTV (ICRU 83).")
    painted = facts.painted()
    for inner_role, outer_role in (("GTV", "CTV"), ("CTV", "PTV"), ("ITV", "PTV")):
        outer = [v for v in painted if v.role == outer_role]
        if len(outer) != 1:
            continue
        for inner in (v for v in painted if v.role == inner_role):
            outside_cm3 = _outside_cm3(inner.coverage, outer[0].coverage)
            if outside_cm3 > max(0.02, 0.005 * inner.coverage.volume_cm3):
                words = say(
                    "{outside_cm3:.2f} cm³ of {inner} lie outside {outer}.",
                    outside_cm3=outside_cm3,
                    inner=inner.name,
                    outer=outer[0].name,
                )
                yield Finding("target-nesting", "warn", rule, words, inner.key, inner.key, point_mm=_centre(inner))


def _outside_cm3(inner: Coverage, outer: Coverage) -> float:
    total = 0
    for tile in inner.tiles:
        r, c = tile.alpha.shape
        cover = outer.slice(tile.plane)[tile.row : tile.row + r, tile.column : tile.column + c]
        total += int(np.maximum(tile.alpha.astype(np.int32) - cover, 0).sum())
    return total / 255.0 * inner.grid.voxel_cm3


def _centre(volume: Volume) -> tuple[float, float, float] | None:
    return volume.coverage.centroid_mm()
