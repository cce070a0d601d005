"""Checks of the dose and of what it reaches."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from engine.case.requests import dose_grid
from engine.review.finding import Facts, Finding

SMALL_TARGET_CM3, SMALL_SPACING_MM, LARGE_SPACING_MM = 10.0, 2.5, 3.0
HOT_PERCENT = 110.0
EQUAL_SHARE = 0.005  # a place outside the target counts as hotter only beyond this


def standing_of_dose(facts: Facts) -> Iterator[Finding]:
    """Yield that there is no dose, only a quick one, or an old one."""
    rule = "The dose is the fine dose of exactly this plan."
    words = {
        "none": "No dose has been computed.",
        "quick": "Only the quick dose is there; it cannot be signed.",
        "out of date": "The dose was computed for something else: image, volumes, beams, machine or grid changed since.",
    }.get(facts.standing.state)
    if words and facts.draft.beams:
        yield Finding(f"dose-{facts.standing.state.replace(' ', '-')}", "stop", rule, words, "dose")
    if facts.now is not None and facts.now.scale is None:
        yield Finding("no-monitor-units", "stop", "The prescription can be reached.", facts.now.reason, "dose")


def grid_covers(facts: Facts) -> Iterator[Finding]:
    """Yield volumes with a goal or prescription that the dose grid cuts, and a grid too coarse for the target."""
    rule = "The dose grid covers every volume that is judged."
    keys = {g.volume_key for g in facts.draft.goals}
    target = facts.target
    if target is not None:
        keys.add(target.key)
    grid = dose_grid(facts.case, facts.draft.dose_spacing_mm)
    lo, hi = np.array(grid.bounds_mm[0]), np.array(grid.bounds_mm[1])
    for key in sorted(keys):
        volume = facts.case.volume(key)
        box = volume.coverage.bounds_mm() if volume else None
        if volume is None or box is None:
            continue
        beyond = max(float((lo - box[0]).max()), float((np.array(box[1]) - hi).max()))
        if beyond > 0.1:
            severity = "stop" if volume is target else "warn"
            words = f"{volume.name} reaches {beyond:.0f} mm beyond the dose grid."
            yield Finding("grid-cuts-volume", severity, rule, words, key, key, point_mm=volume.coverage.centroid_mm())
    if target is not None and not target.coverage.is_empty:
        small = target.coverage.volume_cm3 < SMALL_TARGET_CM3
        limit = SMALL_SPACING_MM if small else LARGE_SPACING_MM
        if facts.draft.dose_spacing_mm > limit:
            words = f"{facts.draft.dose_spacing_mm:g} mm for a target of {target.coverage.volume_cm3:.1f} cm3."
            yield Finding(
                "grid-too-coarse", "warn", f"The dose grid is {limit:g} mm or finer for such a target.", words, "grid"
            )


def goals(facts: Facts) -> Iterator[Finding]:
    """Yield goals that are missed, reached only within their tolerance, or cannot be judged; and a plan without goals."""
    rule = "Every goal is met, or its miss is answered."
    if not facts.draft.goals:
        yield Finding("no-goals", "warn", "A plan is judged against goals.", f"{facts.draft.name} has no goals.", "goals")
    if facts.now is None or facts.standing.state not in ("current", "quick"):
        return
    for goal, value, state in facts.now.goals:
        volume = facts.case.volume(goal.volume_key)
        name = volume.name if volume else "a volume that is gone"
        place = f"{goal.volume_key}:{goal.metric}{goal.comparator}{goal.limit:g}"
        demand = f"{name} {goal.metric}: demanded {goal.comparator} {goal.limit:g}"
        if value is None:
            yield Finding("goal-not-judged", "warn", rule, f"{demand}, cannot be judged.", place, goal.volume_key)
        elif state == "missed":
            severity = "warn" if goal.priority < 3 else "note"
            yield Finding("goal-missed", severity, rule, f"{demand}, reached {value:.2f}.", place, goal.volume_key)
        elif state == "within tolerance":
            yield Finding("goal-tolerance", "note", rule, f"{demand}, reached {value:.2f}: within the tolerance.", place,
                          goal.volume_key)  # fmt: skip


def hottest_place(facts: Facts) -> Iterator[Finding]:
    """Yield a highest dose that is too high, or lies outside the target."""
    if facts.now is None or facts.draft.prescription is None or facts.now.scale is None:
        return
    found = facts.now.hottest()
    target = facts.target
    if found is None or target is None or target.coverage.is_empty:
        return
    point, gy = found
    percent = 100.0 * gy / facts.draft.prescription.dose_gy
    if percent > HOT_PERCENT:
        words = f"The highest dose is {gy:.2f} Gy ({percent:.1f} % of the prescription)."
        yield Finding(
            "hot-spot", "warn", f"No dose exceeds {HOT_PERCENT:g} % of the prescription.", words, "max", point_mm=point
        )
    dvh = facts.now.dvhs.get(target.key)
    if dvh is None or gy > (1 + EQUAL_SHARE) * dvh.max_gy:
        x, y, z = point
        words = f"The highest dose ({gy:.2f} Gy) lies outside {target.name}, at x {x:.0f}, y {y:.0f}, z {z:.0f} mm."
        yield Finding("hot-outside-target", "warn", "The highest dose lies in the target.", words, "max", point_mm=point)


def densities(facts: Facts) -> Iterator[Finding]:
    """Yield density overrides, and CT numbers beyond the density curve."""
    for volume in facts.case.volumes:
        if volume.density_g_cm3 is not None:
            words = f"{volume.name} counts as {volume.density_g_cm3:g} g/cm3 whatever the CT says."
            yield Finding("density-override", "note", "Density overrides are meant.", words, volume.key, volume.key)
    top = int(facts.case.image.hu.max())
    if top > facts.case.curve.hu[-1]:
        words = f"CT numbers reach {top} HU; the curve {facts.case.curve.name!r} ends at {facts.case.curve.hu[-1]:g} HU."
        yield Finding("curve-too-short", "warn", "The density curve spans the CT numbers (metal?).", words, "curve")


def identity(facts: Facts) -> Iterator[Finding]:
    """Yield a patient without name or number, or who is a demonstration."""
    patient = facts.case.patient
    rule = "The plan belongs to a patient who is named and numbered."
    if not patient.name.strip() or not patient.patient_id.strip():
        yield Finding("no-identity", "stop", rule, "The patient's name or number is missing.", "patient")
    if patient.synthetic:
        yield Finding("synthetic", "note", rule, "This is a synthetic demonstration patient, nobody real.", "patient")
