"""Checks of the dose and of what it reaches."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from engine.base.words import say
from engine.case.requests import dose_grid
from engine.review.finding import Facts, Finding

SMALL_TARGET_CM3, SMALL_SPACING_MM, LARGE_SPACING_MM = 10.0, 2.5, 3.0
HOT_PERCENT = 110.0
EQUAL_SHARE = 0.005  # a place outside the target counts as hotter only beyond this


def standing_of_dose(facts: Facts) -> Iterator[Finding]:
    """Yield that there is no dose, only a quick one, or an old one."""
    rule = say("The dose is the fine dose of exactly this plan.")
    words = {
        "none": say("No dose has been computed."),
        "quick": say("Only the quick dose is there; it cannot be signed."),
        "out of date": say(
            "The dose was computed for something else: image, volumes, beams, machine or grid changed since."
        ),
    }.get(facts.standing.state)
    if words and facts.draft.beams:
        yield Finding(f"dose-{facts.standing.state.replace(' ', '-')}", "stop", rule, words, "dose")
    if facts.now is not None and facts.now.scale is None:
        yield Finding("no-monitor-units", "stop", "The prescription can be reached.", facts.now.reason, "dose")


def grid_covers(facts: Facts) -> Iterator[Finding]:
    """Yield volumes with a goal or prescription that the dose grid cuts, and a grid too coarse for the target."""
    rule = say("The dose grid covers every volume that is judged.")
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
            words = say("{volume} reaches {beyond:.0f} mm beyond the dose grid.", volume=volume.name, beyond=beyond)
            yield Finding("grid-cuts-volume", severity, rule, words, key, key, point_mm=volume.coverage.centroid_mm())
    if target is not None and not target.coverage.is_empty:
        small = target.coverage.volume_cm3 < SMALL_TARGET_CM3
        limit = SMALL_SPACING_MM if small else LARGE_SPACING_MM
        if facts.draft.dose_spacing_mm > limit:
            words = say(
                "{dose_spacing_mm:g} mm for a target of {volume_cm3:.1f} cm³.",
                dose_spacing_mm=facts.draft.dose_spacing_mm,
                volume_cm3=target.coverage.volume_cm3,
            )
            yield Finding(
                "grid-too-coarse",
                "warn",
                say("The dose grid is {limit:g} mm or finer for such a target.", limit=limit),
                words,
                "grid",
            )


def goals(facts: Facts) -> Iterator[Finding]:
    """Yield goals that are missed, reached only within their tolerance, or cannot be judged; and a plan without goals."""
    rule = say("Every goal is met, or its miss is answered.")
    if not facts.draft.goals:
        yield Finding(
            "no-goals",
            "warn",
            "A plan is judged against goals.",
            say("{draft} has no goals.", draft=facts.draft.name),
            "goals",
        )
    # Without monitor units no goal is judged; the finding of those says why.
    if facts.now is None or facts.now.scale is None or facts.standing.state not in ("current", "quick"):
        return
    for goal, value, state in facts.now.goals:
        volume = facts.case.volume(goal.volume_key)
        name = volume.name if volume else goal.waits_for or say("a volume that is gone")
        place = f"{goal.volume_key or goal.waits_for}:{goal.metric}{goal.comparator}{goal.limit:g}"
        demand = say(
            "{name} {metric}: demanded {sign} {limit:g}",
            name=name,
            metric=goal.metric,
            sign="≤" if goal.comparator == "<=" else "≥",
            limit=goal.limit,
        )
        if value is None:
            yield Finding(
                "goal-not-judged", "warn", rule, say("{demand}, cannot be judged.", demand=demand), place, goal.volume_key
            )
        elif state == "missed":
            severity = "warn" if goal.priority < 3 else "note"
            yield Finding(
                "goal-missed",
                severity,
                rule,
                say("{demand}, reached {value:.2f}.", demand=demand, value=value),
                place,
                goal.volume_key,
            )
        elif state == "within tolerance":
            words = say("{demand}, reached {value:.2f}: within the tolerance.", demand=demand, value=value)
            yield Finding("goal-tolerance", "note", rule, words, place, goal.volume_key)


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
        words = say("The highest dose is {gy:.2f} Gy ({percent:.1f} % of the prescription).", gy=gy, percent=percent)
        yield Finding(
            "hot-spot",
            "warn",
            say("No dose exceeds {limit:g} % of the prescription.", limit=HOT_PERCENT),
            words,
            "max",
            point_mm=point,
        )
    dvh = facts.now.dvhs.get(target.key)
    if dvh is None or gy > (1 + EQUAL_SHARE) * dvh.max_gy:
        x, y, z = point
        words = say(
            "The highest dose ({gy:.2f} Gy) lies outside {target}, at x {x:.0f}, y {y:.0f}, z {z:.0f} mm.",
            gy=gy,
            target=target.name,
            x=x,
            y=y,
            z=z,
        )
        yield Finding("hot-outside-target", "warn", "The highest dose lies in the target.", words, "max", point_mm=point)


def densities(facts: Facts) -> Iterator[Finding]:
    """Yield density overrides, and CT numbers beyond the density curve."""
    for volume in facts.case.volumes:
        if volume.density_g_cm3 is not None:
            words = say(
                "{volume} counts as {density_g_cm3:g} g/cm³ whatever the CT says.",
                volume=volume.name,
                density_g_cm3=volume.density_g_cm3,
            )
            yield Finding("density-override", "note", "Density overrides are meant.", words, volume.key, volume.key)
    top = int(facts.case.image.hu.max())
    if top > facts.case.curve.hu[-1]:
        words = say(
            "CT numbers reach {top} HU; the curve {curve!r} ends at {hu:g} HU.",
            top=top,
            curve=facts.case.curve.name,
            hu=facts.case.curve.hu[-1],
        )
        yield Finding("curve-too-short", "warn", "The density curve spans the CT numbers (metal?).", words, "curve")


def identity(facts: Facts) -> Iterator[Finding]:
    """Yield a patient without name or number, or who is a demonstration."""
    patient = facts.case.patient
    rule = say("The plan belongs to a patient who is named and numbered.")
    if not patient.name.strip() or not patient.patient_id.strip():
        yield Finding("no-identity", "stop", rule, "The patient's name or number is missing.", "patient")
    if patient.synthetic:
        yield Finding("synthetic", "note", rule, "This is a synthetic demonstration patient, nobody real.", "patient")
