"""Checks of the painted volumes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from engine.base.words import as_words, listed, say
from engine.review.finding import Facts, Finding
from engine.volumes import quality as q
from engine.volumes.coverage import Coverage
from engine.volumes.evidence import DEFAULT_LIMITS, EMPTY, OUTSIDE, RULES, Evidence, severity_of
from engine.volumes.volume import Volume

EDGE_MM = 2.0
_STOPS = {EMPTY, OUTSIDE}


def quality_of_volumes(facts: Facts) -> Iterator[Finding]:
    """Yield what the quality evidence of every volume says."""
    body = facts.case.body
    outer = body if body and not body.coverage.is_empty else None
    limits = replace(DEFAULT_LIMITS, skin_mm=facts.skin_mm)
    concerned = {g.volume_key for g in facts.draft.goals}
    if facts.draft.prescription:
        concerned.add(facts.draft.prescription.volume_key)
    for volume in facts.case.volumes:
        for proof in q.quality(volume, outer, limits):
            severity = severity_of(proof.code, volume.is_target)
            if proof.code in _STOPS and (volume.is_target or volume.key in concerned):
                severity = "stop"
            yield _finding(proof, severity, volume.name, volume.key)


def volumes_in_pairs(facts: Facts) -> Iterator[Finding]:
    """Yield volumes that share a place or a name though their roles exclude it."""
    names = {v.key: v.name for v in facts.case.volumes}
    for proof in q.overlaps(facts.painted()):
        place = "+".join(sorted((proof.volume_key, proof.other_key)))
        yield _finding(proof, severity_of(proof.code, False), names[proof.volume_key], place)


def _finding(proof: Evidence, severity: str, name: str, place: str) -> Finding:
    words = say("{volume}: {words}", volume=name, words=as_words(proof.words))
    return Finding(proof.code, severity, RULES[proof.code], words, place, proof.volume_key, point_mm=proof.point_mm)


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
        inners = [v for v in painted if v.role == inner_role]
        outers = [v for v in painted if v.role == outer_role]
        for inner in inners:
            outer = _around(inner, outers, alone=len(inners) == 1)
            outside_cm3 = _outside_cm3(inner.coverage, outer.coverage) if outer is not None else 0.0
            if outer is not None and outside_cm3 > max(0.02, 0.005 * inner.coverage.volume_cm3):
                words = say(
                    "{outside_cm3:.2f} cm³ of {inner} lie outside {outer}.",
                    outside_cm3=outside_cm3,
                    inner=inner.name,
                    outer=outer.name,
                )
                yield Finding("target-nesting", "warn", rule, words, inner.key, inner.key, point_mm=_centre(inner))


def _around(inner: Volume, outers: list[Volume], alone: bool) -> Volume | None:
    """Return the volume of the outer role that belongs to an inner one, or None if there is none.

    The one whose name goes on alike (GTV_1, CTV_1) if there is just one, else the one that shares most space. An only
    pair belongs together wherever it lies.
    """
    same = [v for v in outers if _tail(v.name) == _tail(inner.name)]
    if _tail(inner.name) and len(same) == 1:
        return same[0]
    if alone and len(outers) == 1:
        return outers[0]
    whole = inner.coverage.volume_cm3
    shared = [(whole - _outside_cm3(inner.coverage, v.coverage), -i) for i, v in enumerate(outers)]
    most, which = max(shared, default=(0.0, 0))
    return outers[-which] if most > 1e-6 else None


def _tail(name: str) -> str:
    """Return what stands behind the type in a target's name, small and without separators; "" for none."""
    found = re.match(r"(?:I?GTV|I?CTV|ITV|PTV)(.*)", name.strip(), re.IGNORECASE)
    return re.sub(r"[^a-z0-9]", "", found.group(1).lower()) if found else ""


def _outside_cm3(inner: Coverage, outer: Coverage) -> float:
    total = 0
    for tile in inner.tiles:
        r, c = tile.alpha.shape
        cover = outer.slice(tile.plane)[tile.row : tile.row + r, tile.column : tile.column + c]
        total += int(np.maximum(tile.alpha.astype(np.int32) - cover, 0).sum())
    return total / 255.0 * inner.grid.voxel_cm3


def _centre(volume: Volume) -> tuple[float, float, float] | None:
    return volume.coverage.centroid_mm()
