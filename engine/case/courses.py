"""Drafts of a case as courses that can be added up (``engine.evaluation.course_sum``)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from engine.base.errors import InputError
from engine.base.values import Fingerprint, Value
from engine.base.words import say
from engine.case.case import Case, Draft
from engine.case.requests import standing
from engine.evaluation.course_sum import Course
from engine.evaluation.goals import Goal


def course_of(case: Case, draft: Draft, results: Mapping[Fingerprint, Value]) -> Course:
    """Return a draft with its present doses as a course.

    Raises
    ------
    InputError
        If it has no beams, no prescription or no current dose; quick ones are refused too.
    """
    what = ""
    if not draft.beams:
        what = say("the draft has no beams")
    elif draft.prescription is None:
        what = say("the draft has no prescription, so its fractions are not known")
    if what or draft.prescription is None:
        raise InputError(what, draft.name, "Only drafts with beams, prescription and dose can be added.")
    found = standing(case, draft, results)
    if found.state != "current":
        words = {
            "quick": say("its dose is only a quick one"),
            "out of date": say("its dose is out of date"),
            "none": say("it has no dose yet"),
        }
        raise InputError(words[found.state], draft.name, "Make it the active draft and wait for its fine dose.")
    return Course(
        draft.name,
        found.doses,
        draft.weights,
        draft.normalisation,
        draft.prescription,
        draft.beams[0].isocentre_mm,
        case.image.frame_of_reference_uid or case.image.fingerprint,
    )


def goals_of(drafts: Sequence[Draft]) -> tuple[tuple[Goal, tuple[str, ...]], ...]:
    """Return the demands of all drafts, each once, with the names of the drafts that make it."""
    found: dict[tuple[str, str, str, float], tuple[Goal, list[str]]] = {}
    for draft in drafts:
        for goal in draft.goals:
            key = (goal.volume_key, goal.metric, goal.comparator, goal.limit)
            found.setdefault(key, (goal, []))[1].append(draft.name)
    return tuple((goal, tuple(names)) for goal, names in found.values())
