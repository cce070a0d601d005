"""The contact sheet is made from the plan."""

from engine.case import edits
from engine.case.requests import standing
from engine.review.ask import ReviewDraft, review
from tests.support.cases import GRID, flat_results, planned_case


def sheet():
    case = planned_case()
    stands = standing(case, case.drafts[-1], flat_results(case))
    return case, review(ReviewDraft(case, "draft", stands.state, stands.doses)).items


def test_planes_hot_places_every_beam_the_dvh_and_the_ledger_are_there():
    _, items = sheet()
    kinds = [i.kind for i in items]
    assert [i.axis for i in items[:3]] == ["z", "y", "x"]
    assert kinds.count("beam") == 2
    assert kinds[-2:] == ["dvh", "goals"]
    titles = " | ".join(i.title for i in items)
    for words in ("covers PTV least", "Highest dose", "Highest dose in SpinalCord", "AP", "PA"):
        assert words in titles
    assert len({i.title for i in items}) == len(items)


def test_every_place_lies_in_the_image():
    case, items = sheet()
    for item in items:
        if item.point_mm is not None:
            assert GRID.contains(item.point_mm)
            assert item.axis in item.place
    assert case.image.grid == GRID


def test_without_dose_there_are_no_pictures():
    case = planned_case()
    assert review(ReviewDraft(case, "draft", "none")).items == ()
    assert review(ReviewDraft(case, "gone", "none")).findings == ()


def test_without_a_prescription_no_place_of_a_dose_is_offered():
    case = planned_case()
    bare = edits.with_draft(case, case.drafts[-1].but(prescription=None))
    stands = standing(bare, bare.drafts[-1], flat_results(bare))
    items = review(ReviewDraft(bare, "draft", stands.state, stands.doses)).items
    assert not [i.title for i in items if "Gy" in i.title]
    assert [i.kind for i in items] == ["plane"] * 3 + ["beam"] * 2 + ["dvh", "goals"]
