"""Drafts as courses: only what is current and complete can be added."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.case import edits
from engine.case.courses import course_of, goals_of
from engine.evaluation.goals import Goal
from tests.support.cases import flat_results, planned_case


def test_a_current_draft_is_a_course():
    case = planned_case()
    draft = case.drafts[0]
    course = course_of(case, draft, flat_results(case))
    assert (course.name, course.prescription, course.weights) == (draft.name, draft.prescription, draft.weights)
    assert len(course.doses) == 2
    assert course.frame == case.image.fingerprint, "an image that was never DICOM is its own frame"
    framed = case.but(image=case.image.but(frame_of_reference_uid="1.2.3"))
    assert course_of(framed, framed.drafts[0], flat_results(framed)).frame == "1.2.3"


def test_what_is_not_current_is_refused_in_words():
    case = planned_case()
    draft, known = case.drafts[0], flat_results(case)
    turned = draft.but(beams=(draft.beams[0].but(gantry_deg=20), draft.beams[1]))
    for odd, results, words in (
        (turned, known, "its dose is out of date"),
        (draft, {}, "it has no dose yet"),
        (draft, flat_results(case, "quick"), "only a quick one"),
        (draft.but(prescription=None), known, "no prescription"),
        (draft.but(beams=(), weights=()), known, "no beams"),
    ):
        with pytest.raises(InputError) as refused:
            course_of(edits.with_draft(case, odd), odd, results)
        assert words in str(refused.value)
        assert draft.name in str(refused.value)


def test_demands_of_several_drafts_are_listed_once():
    draft = planned_case().drafts[0].but(name="A")
    other = draft.but(key="b", name="B", goals=(draft.goals[1], Goal("ptv", "D95%[Gy]", ">=", 15)))
    assert [(g.metric, names) for g, names in goals_of([draft, other])] == [
        ("D95%[%]", ("A",)), ("Max[Gy]", ("A", "B")), ("D95%[Gy]", ("B",)),
    ]  # fmt: skip
