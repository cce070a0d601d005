"""Sets of volumes: what is shipped, one's own files, and files that are none."""

from __future__ import annotations

import tomllib

import pytest

import assets
from engine.base.errors import InputError
from engine.case import edits
from engine.evaluation.goals import Goal
from engine.volumes.naming import known, role_of
from engine.volumes.recipe import Recipe
from engine.volumes.sets import VolumeSet, Wanted, load_set, set_of, set_text, sets_in, shipped_sets
from tests.support.cases import small_case


def test_every_shipped_set_can_be_read_and_says_where_it_is_from():
    found = shipped_sets()
    assert len(found) == len(list(assets.path("sets").glob("*.toml"))) >= 6
    assert all("TG-263" in s.source for s in found)


@pytest.mark.parametrize("wanted", shipped_sets(), ids=lambda s: s.title)
def test_names_are_of_tg_263_with_the_roles_they_imply(wanted):
    for volume in wanted.volumes:
        assert known(volume.name), volume.name
        assert volume.role in (role_of(volume.name), "OTHER")
        assert volume.colour is None
    assert any(v.role == "EXTERNAL" for v in wanted.volumes)
    assert any(v.role == "PTV" for v in wanted.volumes)


def test_a_set_adds_what_is_missing_and_leaves_the_rest_alone():
    case = small_case()
    wanted = VolumeSet("T", (Wanted("ptv", "PTV"), Wanted("Heart", "OAR"), Wanted("Lung_L", "OAR", (1, 2, 3))))
    after = edits.with_set(case, wanted)
    assert after.volumes[:3] == case.volumes
    assert [(v.name, v.role, v.coverage.is_empty) for v in after.volumes[3:]] == [
        ("Heart", "OAR", True),
        ("Lung_L", "OAR", True),
    ]
    assert after.volumes[3].colour not in {v.colour for v in case.volumes}
    assert after.volumes[4].colour == (1, 2, 3)
    assert edits.with_set(after, wanted) is after


def test_ones_own_set_comes_back_as_it_was(tmp_path):
    wanted = set_of(small_case().volumes, 'My "site" \\ ä')
    path = tmp_path / "own.toml"
    path.write_text(set_text(wanted), encoding="utf-8")
    assert load_set(path) == wanted
    assert tomllib.loads(path.read_text())["title"] == wanted.title


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("title = ", "no TOML"),
        ("volumes = [{name='A'}]", "needs a title"),
        ("title = 'T'", "1 to 200"),
        ("title = 'T'\nvolumes = [{name=''}]", "no name"),
        ("title = 'T'\nvolumes = ['A']", "no name"),
        ("title = 'T'\nvolumes = [{name='A', role='X'}]", "role"),
        ("title = 'T'\nvolumes = [{name='A', colour=[1, 2, 300]}]", "colour"),
        ("title = 'T'\nvolumes = [{name='A'}, {name='a'}]", "one name"),
    ],
)
def test_bad_files_are_refused_in_words_and_do_not_hide_good_ones(tmp_path, text, said):
    (tmp_path / "bad.toml").write_text(text)
    with pytest.raises(InputError, match=said):
        load_set(tmp_path / "bad.toml")
    (tmp_path / "good.toml").write_text("title = 'T'\nvolumes = [{name='Heart'}]")
    found, bad = sets_in(tmp_path)
    assert [(s.title, s.volumes[0].role) for s in found] == [("T", "OAR")]
    assert len(bad) == 1


def test_a_file_or_folder_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        load_set(tmp_path / "none.toml")
    assert sets_in(tmp_path / "none") == ((), ())


def test_empty_volumes_go_but_for_those_that_something_names():
    case = small_case()
    wanted = VolumeSet("T", (Wanted("Heart", "OAR"), Wanted("Lung_L", "OAR"), Wanted("CTV", "CTV")))
    full = edits.with_set(case, wanted)
    ctv = full.named("CTV")
    full = edits.with_volume(full, full.volume("ptv").but(recipe=Recipe("smooth", (ctv.key,), (2.0,))))
    draft = full.drafts[0]
    full = edits.with_draft(full, draft.but(goals=(*draft.goals, Goal(full.named("Heart").key, "Mean[Gy]", "<=", 20))))
    left = edits.without_empty(full)
    assert [v.name for v in left.volumes] == ["Body", "PTV", "SpinalCord", "Heart", "CTV"]
    assert edits.without_empty(case) is case
