"""Which doses go to disk with a case: those its drafts ask for, whatever was tried on the way."""

from __future__ import annotations

import pytest

import engine.store.case_file as store
from engine.case import edits
from engine.case.requests import needed_doses
from engine.store.case_file import CaseFile
from tests.support.cases import flat_results, planned_case

pytestmark = pytest.mark.gui
KEPT = 3


@pytest.fixture
def kept(window, qtbot, tmp_path, monkeypatch):
    """A planned case in a file, without a dose."""
    monkeypatch.setattr(store, "KEPT_RESULTS", KEPT)
    window.keeper.create(planned_case(), tmp_path / "plan.halfshade")
    qtbot.waitUntil(lambda: window.keeper.path is not None and window.context.workspace.draft is not None)
    yield window
    window.close_case()


def computed(window, qtbot, case):
    """Make `case` the present one, let its doses come, and save."""
    workspace = window.context.workspace
    workspace.edit("Change", case)
    for dose in flat_results(case).values():
        workspace.file_result(dose)
    with qtbot.waitSignal(window.keeper.saved, timeout=60000):
        window.keeper.save()
    return needed_doses(case)


def turned(case, gantry_deg):
    draft = case.drafts[-1]
    return edits.with_draft(case, edits.with_beam(draft, draft.beams[0].but(gantry_deg=gantry_deg)))


def on_disk(path):
    with CaseFile.open(path, read_only=True) as file:
        return file.kept()


def test_every_arrangement_leaves_the_present_doses_and_a_few_before(kept, qtbot):
    case, first = kept.context.workspace.case, None
    for i in range(KEPT + 3):
        case = turned(case, 10.0 + i)
        needed = computed(kept, qtbot, case)
        first = first or needed
        assert needed <= on_disk(kept.keeper.path)
    assert len(on_disk(kept.keeper.path)) <= KEPT + len(needed)
    assert not first <= on_disk(kept.keeper.path)


def test_a_second_draft_keeps_its_doses_while_the_first_is_worked_on(kept, qtbot):
    case = kept.context.workspace.case
    draft = case.drafts[-1]
    other = draft.but(key="other", name="Other", beams=tuple(b.but(gantry_deg=b.gantry_deg + 77) for b in draft.beams))
    case = edits.with_draft(edits.with_draft(case, other), draft)
    computed(kept, qtbot, case)
    others = needed_doses(case.but(drafts=tuple(d for d in case.drafts if d.key == "other")))
    for i in range(KEPT + 3):
        drafts = tuple(
            edits.with_beam(d, d.beams[0].but(gantry_deg=20.0 + i)) if d.key != "other" else d for d in case.drafts
        )
        case = case.but(drafts=drafts)
        computed(kept, qtbot, case)
    assert others
    assert others <= on_disk(kept.keeper.path)


def test_what_was_only_tried_between_two_saves_is_not_written(kept, qtbot):
    workspace = kept.context.workspace
    tried, wanted = turned(workspace.case, 33.0), turned(workspace.case, 44.0)
    for dose in flat_results(tried).values():
        workspace.file_result(dose)
    computed(kept, qtbot, wanted)
    assert needed_doses(tried) - needed_doses(wanted)
    assert not (needed_doses(tried) - needed_doses(wanted)) & on_disk(kept.keeper.path)


def test_undone_after_it_was_forgotten_a_dose_is_written_again(kept, qtbot):
    workspace = kept.context.workspace
    start = workspace.case
    first = computed(kept, qtbot, turned(start, 11.0))
    for i in range(KEPT + 3):
        computed(kept, qtbot, turned(start, 100.0 + i))
    assert not first <= on_disk(kept.keeper.path)
    computed(kept, qtbot, turned(start, 11.0))
    assert first <= on_disk(kept.keeper.path)
