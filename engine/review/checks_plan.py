"""Checks of prescription, beams and machine."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from engine.base.errors import UserError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.conform import project_volume
from engine.beams.machine_file import load_machine
from engine.review.finding import Facts, Finding
from engine.volumes.volume import Volume

FEW_MU, MANY_MU = 5.0, 1000.0
LARGE_FRACTION_GY = 8.0
EDGE_TOLERANCE_MM = 0.5


def prescription(facts: Facts) -> Iterator[Finding]:
    """Yield that nothing is prescribed, to what is not there, or in unusual fractions."""
    rule = say("A plan has a prescription: dose, fractions and the target it refers to.")
    wanted = facts.draft.prescription
    if wanted is None:
        yield Finding(
            "unprescribed", "stop", rule, say("{draft} has no prescription.", draft=facts.draft.name), "prescription"
        )
        return
    target = facts.target
    if target is None or target.coverage.is_empty:
        yield Finding("prescribed-to-nothing", "stop", rule, "The prescribed volume is missing or empty.", "prescription")
    elif not target.is_target:
        words = say("The prescription refers to {target}, whose role is {role}.", target=target.name, role=target.role)
        yield Finding("prescribed-to-organ", "warn", rule, words, "prescription", target.key)
    per_fraction = wanted.dose_gy / wanted.fractions
    if per_fraction > LARGE_FRACTION_GY or per_fraction < 1.0:
        words = say(
            "{dose_gy:g} Gy in {fractions} fractions are {per_fraction:.2f} Gy each.",
            dose_gy=wanted.dose_gy,
            fractions=wanted.fractions,
            per_fraction=per_fraction,
        )
        yield Finding(
            "unusual-fraction",
            "warn",
            "A dose per fraction outside 1 to 8 Gy is meant and understood.",
            words,
            "prescription",
        )


def normalisation(facts: Facts) -> Iterator[Finding]:
    """Yield that the dose is not tied to the prescription, or to a point outside the target."""
    if facts.draft.normalisation == "None" and facts.draft.prescription:
        words = say("Normalisation is None: monitor units come from the weights alone, not from the prescription.")
        yield Finding("not-normalised", "warn", "Monitor units follow from the prescription.", words, "normalisation")
    point = facts.draft.prescription.point if facts.draft.prescription else None
    target = facts.target
    if facts.draft.normalisation == "Point" and point and target and not _inside(target, point.place_mm):
        words = say("The dose is normalised at {point}, outside {target}.", point=point.words, target=target.name)
        rule = say("A point the dose is normalised at lies inside the target.")
        yield Finding("normalised-outside", "warn", rule, words, "normalisation", target.key, point_mm=point.place_mm)


def beams(facts: Facts) -> Iterator[Finding]:
    """Yield beams that are missing, without weight, or with monitor units out of reason."""
    if not facts.draft.beams:
        yield Finding("no-beams", "stop", "A plan has beams.", say("{draft} has no beam.", draft=facts.draft.name), "beams")
        return
    idle = [b for b, w in zip(facts.draft.beams, facts.draft.weights, strict=True) if w == 0]
    for beam in idle:
        words = say("{beam} has weight 0.", beam=beam.name)
        yield Finding("zero-weight", "warn", "A beam has a weight or is removed.", words, beam.key, beam_key=beam.key)
    for beam, mu in zip(facts.draft.beams, facts.now.mu if facts.now else (), strict=False):
        if 0 < mu < FEW_MU or mu > MANY_MU:
            words = say(
                "{beam} has {mu:.1f} MU a fraction; {few_mu:g} to {many_mu:g} is usual for an open field.",
                beam=beam.name,
                mu=mu,
                few_mu=FEW_MU,
                many_mu=MANY_MU,
            )
            yield Finding("unusual-mu", "warn", "Monitor units are in the range a machine delivers well.", words, beam.key,
                          beam_key=beam.key)  # fmt: skip
    names = [b.name for b in facts.draft.beams]
    for name in sorted({n for n in names if names.count(n) > 1}):
        words = say("{count} beams are called {name}.", count=names.count(name), name=name)
        yield Finding("beam-names", "warn", "Beams have names of their own.", words, name)


def isocentre(facts: Facts) -> Iterator[Finding]:
    """Yield isocentres outside the body or the image, and beams that do not share one."""
    body = facts.case.body
    places = {b.isocentre_mm for b in facts.draft.beams}
    for beam in facts.draft.beams:
        point = beam.isocentre_mm
        rule = say("The isocentre lies inside the body.")
        if not facts.case.image.grid.contains(point):
            words = say("The isocentre of {beam} lies outside the image.", beam=beam.name)
        elif body is not None and not body.coverage.is_empty and not _inside(body, point):
            words = say("The isocentre of {beam} lies outside {body}.", beam=beam.name, body=body.name)
        else:
            continue
        yield Finding("isocentre-outside", "stop", rule, words, beam.key, beam_key=beam.key, point_mm=point)
    if len(places) > 1:
        words = say("The beams of {draft} have {count} isocentres.", draft=facts.draft.name, count=len(places))
        yield Finding(
            "several-isocentres", "warn", "Several isocentres in one plan are meant and labelled.", words, "isocentre"
        )


def apertures(facts: Facts) -> Iterator[Finding]:
    """Yield beams whose aperture does not show the whole target."""
    target = facts.target
    for beam in facts.draft.beams:
        machine = facts.case.machine(beam.machine)
        if target is None or target.coverage.is_empty:
            continue
        outlines = project_volume(target.coverage, beam, machine.sad_mm, facts.case.image.patient_position)
        hidden = _hidden_share(beam, outlines)
        if hidden > 0.01:
            words = say(
                "{hidden:.0f} % of the edge of {target} lies outside the aperture of {beam}.",
                hidden=100 * hidden,
                target=target.name,
                beam=beam.name,
            )
            rule = say("Every beam of an open-field plan shows the whole target.")
            yield Finding("target-outside-aperture", "warn", rule, words, beam.key, target.key, beam.key)


def machine_files(facts: Facts) -> Iterator[Finding]:
    """Yield machines that differ from the shipped file of the same name."""
    for name in sorted({b.machine for b in facts.draft.beams}):
        rule = say("The beam model is the one in use now.")
        try:
            same = load_machine(name) == facts.case.machine(name)
        except UserError:
            yield Finding(
                "machine-unknown",
                "note",
                rule,
                say("{name} is not a shipped machine; its model is in the case.", name=name),
                name,
            )
            continue
        if not same:
            words = say(
                "{name} has changed since it was chosen for this plan; the case keeps the earlier model.", name=name
            )
            yield Finding("machine-changed", "warn", rule, words, name)


def _inside(volume: Volume, point: tuple[float, float, float]) -> bool:
    grid = volume.coverage.grid
    k, r, c = np.rint(grid.index(point)).astype(int)
    planes, rows, columns = grid.shape
    if not (0 <= k < planes and 0 <= r < rows and 0 <= c < columns):
        return False
    return bool(volume.coverage.slice(int(k))[r, c] > 127)


def _hidden_share(beam: Beam, outlines: list[np.ndarray]) -> float:
    """Return the share of outline points that no opening of a beam shows; of an arc, that which it starts with."""
    points = np.concatenate([np.asarray(o)[:, :2] for o in outlines]) if outlines else np.empty((0, 2))
    if len(points) == 0:
        return 0.0
    openings = beam.apertures[:1] if beam.is_arc else beam.apertures
    return float(1.0 - np.logical_or.reduce([_open_at(a, points) for a in openings]).mean())


def _open_at(a: Aperture, points: np.ndarray) -> np.ndarray:
    slack = EDGE_TOLERANCE_MM
    x, y = points[:, 0], points[:, 1]
    seen = (x >= a.x_mm[0] - slack) & (x <= a.x_mm[1] + slack) & (y >= a.y_mm[0] - slack) & (y <= a.y_mm[1] + slack)
    if a.leaves_mm:
        pair = np.clip(np.searchsorted(a.leaf_edges_mm, y, side="right") - 1, 0, len(a.leaves_mm) - 1)
        leaves = np.asarray(a.leaves_mm)
        seen &= (x >= leaves[pair, 0] - slack) & (x <= leaves[pair, 1] + slack)
    return np.asarray(seen)
