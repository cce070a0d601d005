"""The demonstration patients: what they are called and the case that is made of one."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QCoreApplication

from engine.base.errors import InputError
from engine.case import edits
from engine.case.case import Case, Patient, Prescription
from engine.evaluation.goals import Goal


def demonstrations() -> tuple[tuple[str, str], ...]:
    """Return (name, words) of each demonstration patient."""
    return (
        ("thorax", QCoreApplication.translate("Demonstration", "Chest with a tumour in the lung")),
        ("head", QCoreApplication.translate("Demonstration", "Head and neck")),
        ("pelvis", QCoreApplication.translate("Demonstration", "Pelvis with a prostate")),
    )


def case_of(phantom: Any) -> Case:
    """Return the case of a phantom (engine.phantoms.phantom.Phantom): its true volumes, a prescription and goals."""
    patient = Patient(phantom.patient_name, phantom.patient_id, sex=phantom.sex, synthetic=True)
    case = Case(patient, phantom.image, phantom.volumes)
    plan = phantom.plan
    target = case.named(plan.target)
    if target is None:
        raise InputError(f"it has no volume named {plan.target!r}", f"demonstration {phantom.name}")
    goals = []
    for hint in plan.goals:
        volume = case.named(hint.volume)
        if volume is not None:
            goals.append(
                Goal(volume.key, hint.metric, hint.comparator, hint.limit, hint.tolerance, hint.priority, hint.source)
            )
    draft = edits.new_draft(case).but(
        prescription=Prescription(plan.prescription_gy, plan.fractions, target.key), goals=tuple(goals)
    )
    return edits.with_draft(case, draft)
