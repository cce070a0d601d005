"""Whether a step moved only beams, so that what shows none of them may stay as it is."""

import pytest

from app.core.workspace import Workspace, only_beams
from engine.case import edits
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


@pytest.fixture
def case():
    return planned_case()


def test_a_turned_gantry_and_a_weight_move_only_beams(case):
    draft = case.drafts[0]
    turned = draft.but(beams=(draft.beams[0].turned_to(33.0), *draft.beams[1:]))
    assert only_beams(case, edits.with_draft(case, turned))
    assert only_beams(case, edits.with_draft(case, edits.with_weight(draft, draft.beams[0].key, 0.5)))


def test_anything_else_is_more_than_beams(case):
    draft = case.drafts[0]
    others = [
        draft.but(name="other"), draft.but(normalisation="None"), draft.but(dose_spacing_mm=4.0),
        draft.but(levels_percent=(50.0,)), draft.but(prescription=None),
    ]  # fmt: skip
    assert not any(only_beams(case, edits.with_draft(case, other)) for other in others)
    assert not only_beams(case, edits.with_draft(case, draft.but(key="b", name="B")))
    assert not only_beams(case, case.but(volumes=case.volumes[:-1]))
    assert not only_beams(None, case)
    assert not only_beams(case, None)


def test_a_refused_step_is_looked_at_again_so_that_what_was_typed_is_taken_back(case):
    workspace, told = Workspace(), []
    workspace.open(case, read_only=True)
    workspace.case_changed.connect(lambda *cases: told.append(only_beams(*cases)))
    draft = case.drafts[0]
    workspace.edit_draft("turn", draft.but(beams=(draft.beams[0].turned_to(33.0), *draft.beams[1:])))
    assert told == [False]
