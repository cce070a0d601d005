from __future__ import annotations

from pathlib import Path

import pytest

from engine.base.errors import InputError
from engine.evaluation.library import load, shipped, suggestions_for
from engine.evaluation.metrics import parse


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
