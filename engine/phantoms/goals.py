"""Starts for planning the demonstration patients: prescriptions, beams and goals with their sources."""

from __future__ import annotations

from engine.phantoms.phantom import GoalHint, PlanHint

NOTE = (
    "Synthetic patient, computed from mathematical shapes; no person was imaged. For research and education only; "
    "not a medical device. Prescription, beams and goals are an exercise: qualified staff and local rules decide."
)
_TABLE = "Marks et al., Int J Radiat Oncol Biol Phys 76(3 Suppl) (2010) S10-S19, summary table"
QUANTEC = f"QUANTEC, {_TABLE} [read in a secondary tabulation]"
QUANTEC_RECTUM = f"QUANTEC, {_TABLE} [read in a planning study of 2021 that uses it]"
QUANTEC_RECALLED = f"QUANTEC, {_TABLE} [memory]"
CORD = "QUANTEC spinal cord, Kirkpatrick et al. (2010) [read: abstract as reproduced in teaching slides]"
CONVENTION = "planning convention [common practice]"
REPORTING = "dose coverage and near-maximum after ICRU Report 83 (2010) [common practice: limits are the planner's]"


def _target(name: str, dose_gy: float) -> tuple[GoalHint, ...]:
    return (
        GoalHint(name, "D95%[%]", ">=", 100.0, 1.0, 1, REPORTING),
        GoalHint(name, "D98%[%]", ">=", 95.0, 2.0, 1, REPORTING),
        GoalHint(name, "D2%[%]", "<=", 107.0, 3.0, 2, REPORTING),
    )


def _plan(
    target: str,
    dose_gy: float,
    fractions: int,
    gantry_deg: tuple[float, ...],
    collimator_deg: tuple[float, ...],
    weights: tuple[float, ...],
    machine: str,
    goals: tuple[GoalHint, ...],
) -> PlanHint:
    couch = (0.0,) * len(gantry_deg)
    every = (*_target(target, dose_gy), *goals)
    return PlanHint(target, dose_gy, fractions, gantry_deg, collimator_deg, couch, weights, machine, every)


def thorax_plan() -> PlanHint:
    """Return the start for the chest: 60 Gy in 30 fractions, beams that enter on the tumour's side."""
    goals = (
        GoalHint("SpinalCord", "Max[Gy]", "<=", 50.0, 0.0, 1, QUANTEC),
        GoalHint("SpinalCord", "D0.1cc[Gy]", "<=", 48.0, 2.0, 1, CONVENTION),
        GoalHint("Lungs-GTV", "V20Gy[%]", "<=", 30.0, 5.0, 1, QUANTEC),
        GoalHint("Lungs-GTV", "Mean[Gy]", "<=", 20.0, 0.0, 2, QUANTEC_RECALLED),
        GoalHint("Heart", "V25Gy[%]", "<=", 10.0, 5.0, 2, QUANTEC),
        GoalHint("Heart", "Mean[Gy]", "<=", 20.0, 6.0, 3, CONVENTION),
        GoalHint("Esophagus", "Mean[Gy]", "<=", 34.0, 0.0, 2, QUANTEC),
        GoalHint("Esophagus", "V50Gy[%]", "<=", 40.0, 5.0, 3, QUANTEC),
    )
    return _plan("PTV", 60.0, 30, (180.0, 215.0, 250.0, 320.0), (0.0,) * 4, (1.0, 1.0, 0.9, 0.8), "generic-6", goals)


def head_plan() -> PlanHint:
    """Return the start for the head: 54 Gy in 30 fractions."""
    goals = (
        GoalHint("Brainstem", "Max[Gy]", "<=", 54.0, 1.0, 1, QUANTEC),
        GoalHint("Brainstem", "D1cc[Gy]", "<=", 59.0, 0.0, 1, QUANTEC),
        GoalHint("OpticChiasm", "Max[Gy]", "<=", 55.0, 0.0, 1, QUANTEC),
        GoalHint("OpticNrv_L", "Max[Gy]", "<=", 55.0, 0.0, 1, QUANTEC),
        GoalHint("OpticNrv_R", "Max[Gy]", "<=", 55.0, 0.0, 1, QUANTEC),
        GoalHint("SpinalCord", "Max[Gy]", "<=", 50.0, 0.0, 1, QUANTEC),
        GoalHint("Lens_L", "Max[Gy]", "<=", 7.0, 3.0, 2, CONVENTION),
        GoalHint("Lens_R", "Max[Gy]", "<=", 7.0, 3.0, 2, CONVENTION),
        GoalHint("Parotid_L", "Mean[Gy]", "<=", 20.0, 5.0, 3, QUANTEC),
        GoalHint("Parotid_R", "Mean[Gy]", "<=", 20.0, 5.0, 3, QUANTEC),
        GoalHint("Brain", "Max[Gy]", "<=", 60.0, 0.0, 2, QUANTEC),
    )
    return _plan("PTV", 54.0, 30, (90.0, 45.0, 140.0, 300.0), (0.0,) * 4, (1.0, 0.9, 0.9, 0.6), "generic-6", goals)


def pelvis_plan() -> PlanHint:
    """Return the start for the pelvis: 78 Gy in 39 fractions, four fields and two obliques."""
    goals = (
        GoalHint("Rectum", "V50Gy[%]", "<=", 50.0, 5.0, 1, QUANTEC_RECTUM),
        GoalHint("Rectum", "V60Gy[%]", "<=", 35.0, 5.0, 1, QUANTEC_RECTUM),
        GoalHint("Rectum", "V65Gy[%]", "<=", 25.0, 5.0, 2, QUANTEC_RECTUM),
        GoalHint("Rectum", "V70Gy[%]", "<=", 20.0, 5.0, 1, QUANTEC_RECTUM),
        GoalHint("Rectum", "V75Gy[%]", "<=", 15.0, 3.0, 1, QUANTEC_RECTUM),
        GoalHint("Bladder", "V65Gy[%]", "<=", 50.0, 5.0, 2, QUANTEC),
        GoalHint("Bladder", "V70Gy[%]", "<=", 35.0, 5.0, 1, QUANTEC),
        GoalHint("Bladder", "V75Gy[%]", "<=", 25.0, 5.0, 2, QUANTEC),
        GoalHint("Femur_Head_L", "Max[Gy]", "<=", 50.0, 2.0, 2, CONVENTION),
        GoalHint("Femur_Head_R", "Max[Gy]", "<=", 50.0, 2.0, 2, CONVENTION),
        GoalHint("PenileBulb", "D90%[Gy]", "<=", 50.0, 0.0, 3, QUANTEC_RECALLED),
    )
    gantry = (0.0, 60.0, 110.0, 180.0, 250.0, 300.0)
    return _plan("PTV", 78.0, 39, gantry, (0.0,) * 6, (0.7, 1.0, 1.0, 0.6, 1.0, 1.0), "generic-10", goals)
