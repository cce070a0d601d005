"""Checks of what beams ask of their machine, and of the boluses they name."""

from __future__ import annotations

from collections.abc import Iterator

from engine.base.words import say
from engine.beams.clearance import NEAR_MM, clearance
from engine.beams.limits import misfits
from engine.review.finding import Facts, Finding

# A plan that came from elsewhere may be computed on a machine with other leaves, but that must be known and answered.
_MAY_BE_ANSWERED = ("leaf-layout",)


def deliverable(facts: Facts) -> Iterator[Finding]:
    """Yield what a beam asks that its machine cannot do."""
    for beam in facts.draft.beams:
        for misfit in misfits(beam, facts.case.machine(beam.machine)):
            yield Finding(
                misfit.code,
                "warn" if misfit.code in _MAY_BE_ANSWERED else "stop",
                say("Beams keep to what their machine can do."),
                say("{beam}: {misfit}.", beam=beam.name, misfit=misfit.words),
                beam.key,
                beam_key=beam.key,
            )


def boluses(facts: Facts) -> Iterator[Finding]:
    """Yield boluses that a beam names and that are not there, and boluses that no beam names."""
    rule = say("A bolus that a beam names is painted and is a bolus; a bolus that is painted belongs to a beam.")
    for beam in facts.draft.beams:
        for key in beam.bolus:
            volume = facts.case.volume(key)
            if volume is None:
                words = say("{beam} names a bolus that is no longer in the case.", beam=beam.name)
            elif volume.role != "BOLUS":
                words = say("{beam} names {volume} as bolus, but its role is {role}.", beam=beam.name, volume=volume.name,
                            role=volume.role)  # fmt: skip
            elif volume.coverage.is_empty:
                words = say("{beam} names the bolus {volume}, which is empty.", beam=beam.name, volume=volume.name)
            else:
                continue
            yield Finding("bolus-missing", "stop", rule, words, f"{beam.key}/{key}", key, beam.key)
    named = {key for beam in facts.draft.beams for key in beam.bolus}
    for volume in facts.painted():
        if volume.role == "BOLUS" and volume.key not in named and facts.draft.beams:
            words = say("No beam names the bolus {volume}; it counts for none.", volume=volume.name)
            yield Finding("bolus-unused", "warn", rule, words, volume.key, volume.key)


def room_to_turn(facts: Facts) -> Iterator[Finding]:
    """Yield beams whose head would come near to body or couch, by the sizes of their machine file."""
    rule = say(
        "The head of the machine keeps {near:.0f} mm from body and couch; their sizes are not verified.", near=NEAR_MM
    )
    body = facts.case.body
    if body is None:
        return
    for beam in facts.draft.beams:
        machine, position = facts.case.machine(beam.machine), facts.case.image.patient_position
        found = clearance(beam, body.coverage, machine, position)
        if found is None or found.distance_mm >= NEAR_MM:
            continue
        words = say(
            "{beam}: at gantry {gantry:g}° the head comes within {distance:.0f} mm of the {what}. Try it at the machine.",
            beam=beam.name,
            gantry=found.gantry_deg,
            distance=found.distance_mm,
            what=say("body") if found.what == "body" else say("couch"),
        )
        yield Finding("no-room", "warn", rule, words, beam.key, beam_key=beam.key)
