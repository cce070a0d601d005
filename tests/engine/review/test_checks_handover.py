"""Findings about derived volumes and the hand-over."""

from __future__ import annotations

from engine.case import edits
from engine.case.case import Case
from engine.case.derived import derive, next_wanted, with_made
from engine.case.release import released
from engine.case.requests import Standing
from engine.review.checks import check
from engine.review.checks_handover import derived_volumes, release
from engine.review.finding import Facts
from engine.volumes.recipe import Recipe
from engine.volumes.shape import shape_volume
from tests.support.cases import GRID, ball, small_case

AT = "2026-03-04T10:00:00+00:00"


def facts(case: Case) -> Facts:
    return Facts(case, case.drafts[0], Standing("none"), None)


def test_a_derived_volume_is_found_until_it_is_made_again():
    case = derive(small_case(), "ptv", Recipe("margin", ("cord",), (3.0,) * 6))
    (finding,) = derived_volumes(facts(case))
    assert (finding.code, finding.severity, finding.volume_key) == ("derived-out-of-date", "stop", "ptv")
    assert "SpinalCord with +3 mm" in finding.evidence
    key, request = next_wanted(case)
    made = with_made(case, key, shape_volume(request))
    assert list(derived_volumes(facts(made))) == []
    assert list(derived_volumes(facts(small_case()))) == []


def test_volumes_in_work_are_noted_and_a_lapsed_release_names_what_changed():
    case = small_case()
    (note,) = release(facts(case))
    assert (note.code, note.severity) == ("volumes-in-work", "note")
    handed = released(case, "Dr. Example", AT)
    assert list(release(facts(handed))) == []
    moved = edits.with_volume(handed, handed.volume("ptv").with_coverage(ball(GRID, (3, 0, 0), 20)))
    (lapsed,) = release(facts(moved))
    assert (lapsed.code, lapsed.severity, lapsed.volume_key) == ("release-lapsed", "warn", "ptv")
    assert "Dr. Example" in lapsed.evidence
    assert "PTV" in lapsed.evidence


def test_both_stand_in_the_table_of_checks():
    case = derive(small_case(), "ptv", Recipe("margin", ("cord",), (3.0,) * 6))
    codes = {f.code for f in check(case, case.drafts[0], Standing("none"), None)}
    assert {"derived-out-of-date", "volumes-in-work"} <= codes
