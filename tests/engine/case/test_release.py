"""A hand-over holds for exactly what was handed over."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.case import edits
from engine.case.derived import derive
from engine.case.release import Release, changed_since, digest_of, last_release, released, standing_release, withdrawn
from engine.store import codec
from engine.volumes.coverage import Coverage
from engine.volumes.recipe import Recipe
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball, small_case

AT = "2026-03-04T10:00:00+00:00"


@pytest.fixture
def handed():
    return released(small_case(), " Dr. Example ", AT, "boost to follow")


def test_it_names_who_and_when_and_holds(handed):
    release = standing_release(handed)
    assert (release.who, release.at, release.note) == ("Dr. Example", AT, "boost to follow")
    assert release.names == ("Body", "PTV", "SpinalCord")
    assert len(release.digest) == 8
    assert standing_release(small_case()) is None


@pytest.mark.parametrize(
    "change",
    [
        lambda v: v.with_coverage(ball(GRID, (3, 0, 0), 20)),
        lambda v: v.but(name="PTV_60"),
        lambda v: v.but(role="CTV"),
        lambda v: v.but(density_g_cm3=1.2),
    ],
)
def test_shape_name_role_and_density_of_a_volume_end_it_and_undo_brings_it_back(handed, change):
    after = edits.with_volume(handed, change(handed.volume("ptv")))
    assert standing_release(after) is None
    assert last_release(after) is last_release(handed)
    assert changed_since(after, last_release(after)) == (after.volume("ptv").name,)
    back = edits.with_volume(after, handed.volume("ptv"))
    assert standing_release(back) is not None


def test_looks_notes_and_empty_volumes_do_not_end_it(handed):
    ptv = handed.volume("ptv")
    assert digest_of(ptv.but(colour=(1, 2, 3), note="n")) == digest_of(ptv)
    more = edits.with_volume(handed, Volume("new", "CTV", "CTV", (1, 2, 3), Coverage(GRID)))
    assert standing_release(more) is not None


def test_volumes_that_come_or_go_are_named(handed):
    more = edits.with_volume(handed, Volume("new", "CTV", "CTV", (1, 2, 3), ball(GRID, (0, 0, 0), 9)))
    assert changed_since(more, last_release(more)) == ("CTV",)
    less = edits.without_volume(handed, "cord")
    assert changed_since(less, last_release(less)) == ("SpinalCord",)


def test_what_cannot_be_handed_over(handed):
    with pytest.raises(InputError, match="name"):
        released(small_case(), " ", AT)
    with pytest.raises(InputError, match="ISO 8601"):
        Release("A", "yesterday", (), ())
    with pytest.raises(InputError, match="no painted volume"):
        released(handed.but(volumes=()), "A", AT)
    with pytest.raises(InputError, match="derived from yet"):
        released(derive(handed, "ptv", Recipe("smooth", ("cord",), (2,))), "A", AT)


def test_a_case_in_work_keeps_the_fingerprint_it_had_and_a_handed_one_survives_the_store(handed):
    assert small_case().content()[0] == 1
    assert "releases" not in withdrawn(handed).content()[1]
    rows = {h: (k, n, b) for h, k, n, b in codec.rows(handed, lambda _: False)}
    back = codec.Reader(rows.__getitem__).value(handed.fingerprint)
    assert back == handed
    assert standing_release(back) == last_release(handed)
