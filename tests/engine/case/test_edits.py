"""Edits leave the case before untouched and share what they do not change."""

import pytest

from engine.base.errors import InputError
from engine.case import edits
from engine.case.case import Draft
from engine.space.point import NamedPoint
from engine.volumes.volume import COLOURS
from tests.engine.case.test_case import beam
from tests.support.cases import small_case


def test_replacing_a_volume_keeps_its_place_and_the_others():
    case = small_case()
    after = edits.with_volume(case, case.volumes[1].but(name="PTV_High"))
    assert [v.name for v in after.volumes] == ["Body", "PTV_High", "SpinalCord"]
    assert after.volumes[0] is case.volumes[0]
    assert after.image is case.image
    assert case.volumes[1].name == "PTV"


def test_a_removed_volume_takes_its_goals_and_prescription_along():
    case = small_case()
    after = edits.without_volume(case, "ptv")
    assert after.drafts[0].prescription is None
    assert [g.volume_key for g in after.drafts[0].goals] == ["cord"]
    assert edits.without_volume(case, "body").drafts[0] is case.drafts[0]


def test_colours_are_given_in_order_of_creation_and_used_ones_last():
    case = small_case()
    assert [v.colour for v in case.volumes] == list(COLOURS[:3])
    assert len(set(COLOURS)) == 24
    assert edits.next_colour(edits.without_volume(case, "body")) == COLOURS[0]


def test_beams_and_weights_stay_together():
    draft = Draft("d", "D")
    draft = edits.with_beam(edits.with_beam(draft, beam("a")), beam("b"), 2.5)
    assert draft.weights == (1.0, 2.5)
    assert edits.with_beam(draft, beam("b").but(gantry_deg=90)).weights == (1.0, 2.5)
    assert edits.with_weight(draft, "a", -3).weights == (0.0, 2.5)
    assert [b.key for b in edits.without_beam(draft, "a").beams] == ["b"]
    assert edits.without_beam(draft, "a").weights == (2.5,)


def test_a_new_draft_has_a_free_name():
    case = small_case()
    assert edits.new_draft(case).name == "Draft 2"
    assert edits.new_draft(case, "Draft 1").name == "Draft 2"
    with pytest.raises(InputError, match="no longer"):
        edits.in_draft(case, "gone", lambda d: d)


def test_points_are_added_once_and_keep_names_of_their_own():
    case = small_case()
    a, other = NamedPoint("BB", (1, 2, 3), "MARKER"), NamedPoint("bb", (4, 5, 6))
    after = edits.with_points(case, (a, a, other))
    assert [(p.name, p.place_mm) for p in after.points] == [("BB", (1, 2, 3)), ("bb_2", (4, 5, 6))]
    assert edits.with_points(after, (a,)) is after
    long = NamedPoint("n" * 64, (0, 0, 0))
    assert edits.with_points(case, (long, long.but(place_mm=(1, 0, 0)))).points[1].name == "n" * 62 + "_2"


def test_a_point_is_renamed_in_its_place_and_removed_alone():
    points = tuple(NamedPoint(n, (float(i), 0, 0), "MARKER") for i, n in enumerate(("BB1", "BB2", "BB3")))
    case = edits.with_points(small_case(), points)
    after = edits.with_point_named(case, 1, " Tattoo ")
    assert [(p.name, p.place_mm[0], p.kind) for p in after.points] == [
        ("BB1", 0, "MARKER"), ("Tattoo", 1, "MARKER"), ("BB3", 2, "MARKER"),
    ]  # fmt: skip
    assert edits.with_point_named(case, 1, "bb2").points[1].name == "bb2"  # its own name in other letters
    assert [p.name for p in edits.without_point(case, 0).points] == ["BB2", "BB3"]
    for name in ("bb3", "", "x" * 65):
        with pytest.raises(InputError):
            edits.with_point_named(case, 1, name)
