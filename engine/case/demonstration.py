"""A demonstration patient as a case with a plan: volumes, prescription, beams around the target, goals."""

from __future__ import annotations

from typing import Any

from engine.base.errors import InputError
from engine.base.progress import Report, part, quiet
from engine.base.words import say
from engine.beams.arrange import isocentre_of, new_beam
from engine.beams.conform import conform
from engine.beams.machine_file import load_machine
from engine.case import edits
from engine.case.case import Case, Draft, Patient, Prescription
from engine.evaluation.goals import Goal
from engine.image.ct import CtImage
from engine.volumes.recipe import Recipe
from engine.volumes.volume import COLOURS, Volume

MARGIN_MM = 6.0
PRV_MM = 5.0


def planned(phantom: Any, patient: Patient, image: CtImage, report: Report = quiet) -> Case:
    """Return a case of `image` with the true volumes of `phantom`, one draft of its suggested beams, and its goals.

    Keys are made from names and numbers, not at random, so that making it twice gives the same values.

    Parameters
    ----------
    phantom : engine.phantoms.phantom.Phantom
    image : its image, or the same image written to DICOM and read back (positions there are decimal text)

    Raises
    ------
    InputError
        If it has no volume of the name it prescribes to.
    """
    volumes = tuple(v.but(coverage=v.coverage.but(grid=image.grid)) for v in phantom.volumes)
    hint = phantom.plan
    target = next((v for v in volumes if v.name == hint.target), None)
    if target is None:
        raise InputError(
            say("it has no volume named {target!r}", target=hint.target),
            say("demonstration patient {phantom}", phantom=phantom.name),
        )
    volumes = _with_prv(volumes, report)
    machine = load_machine(hint.wanted_machine)
    case = edits.with_machine(Case(patient, image, volumes), machine)
    centre = isocentre_of(target.coverage)
    beams = []
    angles = tuple(zip(hint.gantry_deg, hint.collimator_deg, hint.couch_deg, strict=True))
    for i, (gantry, collimator, couch) in enumerate(angles, 1):
        report(i / (len(angles) + 1), say("Placing beam {i}", i=i))
        beam = new_beam(f"Beam {i}", machine.name, centre, gantry, collimator_deg=collimator, couch_deg=couch)
        aperture = conform(beam, target.coverage, machine, MARGIN_MM, image.patient_position)
        beams.append(beam.but(key=f"demo{i:04d}", aperture=aperture))
    keys = {v.name: v.key for v in volumes}
    goals = tuple(
        Goal(keys[g.volume], g.metric, g.comparator, g.limit, g.tolerance, g.priority, g.source)
        for g in hint.goals
        if g.volume in keys
    )
    wanted = Prescription(hint.prescription_gy, hint.fractions, target.key)
    return edits.with_draft(case, Draft("demo0000", "Draft 1", wanted, tuple(beams), hint.weights, goals))


def _with_prv(volumes: tuple[Volume, ...], report: Report) -> tuple[Volume, ...]:
    """Add the planning risk volume of the cord, derived from it, where there is a cord and no such volume yet."""
    from engine.volumes.margins import grow

    cord = next((v for v in volumes if v.name == "SpinalCord"), None)
    name = f"SpinalCord_PRV{PRV_MM:02.0f}"
    if cord is None or any(v.name == name for v in volumes):
        return volumes
    recipe = Recipe("margin", (cord.key,), (PRV_MM,) * 6, (cord.coverage.fingerprint,))
    shape = grow(cord.coverage, recipe.numbers, part(report, 0.0, 0.1))  # type: ignore[arg-type]
    return (*volumes, Volume("demoprv0", name, "PRV", COLOURS[len(volumes) % len(COLOURS)], shape, recipe=recipe))
