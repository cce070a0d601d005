from __future__ import annotations

from pathlib import Path

import pytest

from engine.base.errors import InputError
from engine.evaluation.goal_file import goals_text, read_goals
from engine.evaluation.goals import Goal
from engine.evaluation.library import load, shipped, site_goals, strictest, suggestions_for
from engine.evaluation.metrics import parse
from engine.volumes.sets import VolumeSet, shipped_sets


def test_every_shipped_limit_can_be_judged_and_says_where_it_is_from() -> None:
    assert len(shipped()) > 200
    for s in shipped():
        assert str(parse(s.metric)) == s.metric
        assert s.source
        assert s.tag.startswith(("[read]", "[memory]", "[common practice]"))
        assert s.goal("key").volume_key == "key"
        assert s.unit in ("Gy", "%", "cm3")


def test_recalled_limits_are_marked() -> None:
    recalled = [s for s in shipped() if s.tag.startswith(("[memory]", "[common practice]"))]
    assert recalled
    for s in recalled:
        assert not s.verified
        assert s.goal("k").source.startswith("unverified: ")
    lens = suggestions_for("Lens_L", 30)
    assert lens[0].limit == 7.0
    assert lens[0].printed == "7-10"


def test_names_and_fractions_choose() -> None:
    conventional = suggestions_for("SpinalCord", 30)
    assert {s.fractions for s in conventional} == {""}
    assert 50.0 in {s.limit for s in conventional if s.metric == "Max[Gy]"}
    assert {s.fractions for s in suggestions_for("spinalcord", 3)} == {"3"}
    assert suggestions_for("SpinalCord_PRV05", 30) == conventional
    assert suggestions_for("Lungs", 33)[0].structure == "Lungs-GTV"
    assert suggestions_for("Kidney_L", 30) == ()
    read_first = [s.verified for s in suggestions_for("Lungs", 33)]
    assert read_first == sorted(read_first, reverse=True)


def test_table_without_source_or_columns_is_refused(tmp_path: Path) -> None:
    bare = tmp_path / "a.csv"
    bare.write_text("structure,metric\nx,Mean[Gy]\n")
    with pytest.raises(InputError, match="title"):
        load(bare)
    bare.write_text("# title: t\n# known: own\nstructure,metric\nx,Mean[Gy]\n")
    with pytest.raises(InputError, match="no column"):
        load(bare)


@pytest.mark.parametrize("site", shipped_sets(), ids=lambda s: s.title)
def test_every_site_has_goals_with_sources_that_stand_in_the_table(site: VolumeSet) -> None:
    for fractions in (3, 30):
        found = site_goals(site, fractions)
        rows = {(s.metric, s.comparator, s.limit) for s in shipped()}
        assert len(found.demands) >= 2
        assert {(d.metric, d.comparator, d.limit) for d in found.demands} <= rows
        assert all(d.source for d in found.demands)
        assert {d.volume for d in found.demands} <= {v.name for v in site.volumes if v.role in ("OAR", "PRV")}
        assert read_goals(goals_text(found), "site") == found


def test_the_strictest_of_several_limits_is_kept() -> None:
    goals = [Goal("a", "Mean[Gy]", "<=", 20), Goal("a", "Mean[Gy]", "<=", 13), Goal("a", "D95%[Gy]", ">=", 50)]
    more = [Goal("a", "D95%[Gy]", ">=", 57), Goal("b", "Mean[Gy]", "<=", 99)]
    assert [(g.volume_key, g.limit) for g in strictest(goals + more)] == [("a", 13), ("a", 57), ("b", 99)]
