"""Sets of goals as files: what is written comes back, and whatever is wrong is refused with file, line and what."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import InputError
from engine.evaluation.goal_file import (
    Demand,
    GoalSet,
    goals_for,
    goals_in,
    goals_text,
    load_goals,
    read_goals,
    set_of_goals,
)
from engine.evaluation.goals import Goal
from tests.support.cases import small_case

EXAMPLE = """\
name = "Chest"
source = "our own"

[[goals]]
volume = "PTV"
metric = "D95%[Gy]"
limit = ">= 57 Gy"
tolerance = "1.5 Gy"

[[goals]]
volume = "Lungs-GTV"
metric = "V20Gy[%]"
limit = "≤ 30 %"
priority = 2
source = "a paper"

[[goals]]
volume = "Bowel"
metric = "V45Gy[cc]"
limit = "<= 195 cm³"
"""


def test_the_documented_form_is_read() -> None:
    assert read_goals(EXAMPLE, "a.toml") == GoalSet(
        "Chest",
        (
            Demand("PTV", "D95%[Gy]", ">=", 57.0, 1.5, 1, "our own"),
            Demand("Lungs-GTV", "V20Gy[%]", "<=", 30.0, 0.0, 2, "a paper"),
            Demand("Bowel", "V45Gy[cc]", "<=", 195.0, 0.0, 1, "our own"),
        ),
        "our own",
    )


TEXTS = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=20).filter(str.strip)
METRICS = st.sampled_from(["D95%[Gy]", "d2%[%]", "D0.1cc[cGy]", "V20Gy[cc]", "Mean[Gy]", "DC700cc[Gy]", " CV15Gy [ % ]"])
AMOUNTS = st.floats(0, 1e6) | st.sampled_from([0.1, 57.0, 1 / 3, 1e-9])
DEMANDS = st.builds(
    Demand, TEXTS, METRICS, st.sampled_from(["<=", ">="]), AMOUNTS, AMOUNTS, st.sampled_from([1, 2, 3]), st.just("") | TEXTS
)


@given(
    TEXTS, st.lists(DEMANDS, min_size=1, max_size=6, unique_by=lambda d: (d.volume.lower(), d.metric)), st.just("") | TEXTS
)
def test_every_set_comes_back_as_it_was(name: str, demands: list[Demand], source: str) -> None:
    wanted = GoalSet(name, tuple(demands), source)
    assert read_goals(goals_text(wanted), "x") == wanted


@pytest.mark.parametrize(
    ("before", "after", "where", "what"),
    [
        ('name = "Chest"', 'name = "Chest', "", "no TOML"),
        ('name = "Chest"', "name = 3", "line 1", "name is no text"),
        ('name = "Chest"\n', "", "", "name is missing"),
        ('source = "our own"', 'sauce = "our own"', "line 2", "the key sauce is not known"),
        ("priority = 2", "prio = 2", "line 14", "the key prio is not known"),
        ("priority = 2", "priority = 4", "line 14", "a priority is 1 (must), 2 or 3 (wish)"),
        ("priority = 2", "priority = true", "line 14", "a priority is 1 (must)"),
        ("priority = 2", 'priority = "2"', "line 14", "a priority is 1 (must)"),
        ('volume = "Bowel"', "volume = 7", "line 18", "volume is no text"),
        ('volume = "Bowel"', 'volume = "  "', "line 18", "volume is no text"),
        ('volume = "Bowel"\n', "", "line 17", "volume is missing"),
        ('metric = "V45Gy[cc]"', 'metric = "V45Gx[cc]"', "line 19", "V45Gx[cc]: at character 4 a unit (Gy, cGy or %)"),
        ('"<= 195 cm³"', '"<= 195"', "line 20", "'<= 195' is no limit"),
        ('"<= 195 cm³"', '"195 cc"', "line 20", "'195 cc' is no limit"),
        ('"<= 195 cm³"', '"= 195 cc"', "line 20", "is no limit"),
        ('"<= 195 cm³"', '"<= -1 cc"', "line 20", "is no limit"),
        ('"<= 195 cm³"', '"<= 1e999 cc"', "line 20", "is no limit"),
        ('"<= 195 cm³"', "195", "line 20", "limit is no text"),
        ('limit = "<= 195 cm³"', "", "line 17", "limit is missing"),
        ('"<= 195 cm³"', '"<= 195 Gy"', "line 20", "'<= 195 Gy' is not in cc, as V45Gy[cc] is"),
        ('"1.5 Gy"', '"1.5 %"', "line 8", "'1.5 %' is not in Gy, as D95%[Gy] is"),
        ('"1.5 Gy"', '">= 1.5 Gy"', "line 8", "'>= 1.5 Gy' is no tolerance"),
        ('"1.5 Gy"', '"-1 Gy"', "line 8", "'-1 Gy' is no tolerance"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_file_and_line(before: str, after: str, where: str, what: str) -> None:
    assert before in EXAMPLE
    with pytest.raises(InputError) as refused:
        read_goals(EXAMPLE.replace(before, after, 1), "/tmp/chest.toml")
    assert refused.value.where == f"/tmp/chest.toml, {where}".removesuffix(", ")
    assert what in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_goal_that_is_there_twice_is_refused_with_both_lines() -> None:
    again = '\n[[goals]]\nvolume = "ptv"\nmetric = "d95 %"\nlimit = ">= 57.0 Gy"\n'
    with pytest.raises(InputError, match=r"line 25: ptv d95 % is there already, in line 7"):
        read_goals(EXAMPLE + again, "chest.toml")


def test_lines_are_found_in_lists_and_behind_texts_of_several_lines() -> None:
    head = 'name = "A"\ngoals = [\n'
    row = '  {{ volume = "{0}", metric = "Mean[Gy]", limit = "{1}" }},\n'
    with pytest.raises(InputError, match=r"chest, line 4: '<= 9 %' is not in Gy"):
        read_goals(head + row.format("A", "<= 9 Gy") + row.format("B", "<= 9 %") + "]\n", "chest")
    long = 'name = """A\n[[goals]]\n\nB"""\r\n[[goals]]\r\nvolume = "X"\r\nmetric = "Mean"\r\nlimit = "<= 1 cc"\r\n'
    with pytest.raises(InputError, match="line 8"):
        read_goals(long, "chest")


@pytest.mark.parametrize(
    "text", ["", 'name = "A"', 'name = "A"\ngoals = []', 'name = "A"\ngoals = 3', 'name = "A"\ngoals = [1]']
)
def test_a_set_without_goals_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_goals(text, "x")


@given(st.binary(max_size=60) | st.text(max_size=60).map(lambda t: t.encode("utf-8", "surrogatepass")), st.integers(0, 400))
def test_damaged_files_are_refused_in_words(tmp_path_factory: pytest.TempPathFactory, junk: bytes, at: int) -> None:
    whole = EXAMPLE.encode()
    path = tmp_path_factory.mktemp("g") / "a.toml"
    path.write_bytes(whole[:at] + junk + whole[at + len(junk) :])
    try:
        found: GoalSet | InputError = load_goals(path)
    except InputError as error:
        found = error
    if isinstance(found, InputError):
        assert str(found).startswith(str(path))
    else:
        assert read_goals(goals_text(found), "x") == found


def test_goals_find_their_volumes_by_name_and_wait_for_those_that_are_not_there() -> None:
    volumes = small_case().volumes
    wanted = GoalSet("S", (Demand("ptv", "D95%[%]", ">=", 95.0), Demand("Heart", "Mean[Gy]", "<=", 26.0, 1.0, 3, "s")))
    goals = goals_for(wanted, volumes)
    assert goals == (Goal("ptv", "D95%[%]", ">=", 95.0), Goal("", "Mean[Gy]", "<=", 26.0, 1.0, 3, "s", "Heart"))
    assert [d.volume for d in set_of_goals(goals, volumes, "S").demands] == ["PTV", "Heart"]
    assert goals_for(set_of_goals(goals, volumes, "S"), volumes) == goals


def test_equal_goals_are_written_once() -> None:
    goal = Goal("ptv", "D95%[%]", ">=", 95.0)
    found = set_of_goals(
        (goal, goal.but(metric="d95%[%]", source="again"), goal.but(limit=96.0)), small_case().volumes, "S"
    )
    assert [(d.metric, d.limit) for d in found.demands] == [("D95%[%]", 95.0), ("D95%[%]", 96.0)]


def test_files_of_a_folder_are_listed_and_bad_ones_told_apart(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(EXAMPLE, encoding="utf-8")
    (tmp_path / "b.toml").write_text("name = 1", encoding="utf-8")
    good, bad = goals_in(tmp_path)
    assert [s.name for s in good] == ["Chest"]
    assert [str(tmp_path / "b.toml") in e.where for e in bad] == [True]
    assert goals_in(tmp_path / "nowhere") == ((), ())
    with pytest.raises(InputError, match="cannot be read"):
        load_goals(tmp_path)


def test_what_is_written_is_plain_toml() -> None:
    text = goals_text(GoalSet('My "site" \\ ä', (Demand("A\x7f\n", "Mean", "<=", 0.30000000000000004),)))
    found = tomllib.loads(text)
    assert found["name"] == 'My "site" \\ ä'
    assert found["goals"] == [{"volume": "A\x7f\n", "metric": "Mean", "limit": "<= 0.30000000000000004 Gy", "priority": 1}]
