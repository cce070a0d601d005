"""What a volume can follow by, and how that reads."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.volumes.recipe import FOLLOWING, Recipe, words_of
from engine.volumes.shape import NEED_OTHER, NUMBERS, OPERATIONS
from engine.volumes.volume import Volume
from tests.support.cases import GRID, ball


def recipe(what):
    parents, numbers = FOLLOWING[what]
    return Recipe(what, ("a", "b")[:parents], (2.0,) * numbers)


@pytest.mark.parametrize("what", FOLLOWING)
def test_every_recipe_is_an_operation_with_as_many_parents_and_numbers(what):
    parents, numbers = FOLLOWING[what]
    assert what in OPERATIONS
    assert numbers == NUMBERS.get(what, 0)
    assert (parents == 2) == (what in NEED_OTHER)
    words = words_of(recipe(what), ("CTV", "Body")[:parents])
    assert "CTV" in words
    assert ("Body" in words) == (parents == 2)


@pytest.mark.parametrize(
    ("what", "parents", "numbers", "said"),
    [
        ("threshold", ("a",), (0, 1), "threshold"),
        ("margin", ("a",), (5,), "6 numbers, not 1"),
        ("margin", ("a", "b"), (5,) * 6, "1 different"),
        ("union", ("a", "a"), (), "2 different"),
    ],
)
def test_what_cannot_be_followed_is_refused_in_words(what, parents, numbers, said):
    with pytest.raises(InputError, match=said):
        Recipe(what, parents, numbers)


def test_numbers_change_and_then_it_is_yet_to_be_made():
    old = Recipe("margin", ("a",), (5,) * 6, ("f",))
    new = old.with_numbers((7,))
    assert new.numbers == (7.0,) * 6
    assert new.made_from == ()
    with pytest.raises(InputError, match="6 numbers, not 2"):
        old.with_numbers((1, 2))
    assert old.with_numbers((1, -1, 0, 0, 0, 0)).numbers == (1, -1, 0, 0, 0, 0)


def test_six_distances_are_told_by_their_side():
    words = words_of(Recipe("margin", ("a",), (1, 2, 3, 4, 5, 6)), ("CTV",))
    assert words.endswith("left 1, right 2, anterior 3, posterior 4, inferior 5, superior 6 mm")
    assert words_of(Recipe("margin", ("a",), (5,) * 6), ("CTV",)) == "CTV with +5 mm"


def test_a_plain_volume_keeps_the_fingerprint_it_had_before_there_were_recipes():
    plain = Volume("k", "CTV", "CTV", (1, 2, 3), ball(GRID, (0, 0, 0), 9))
    layout, fields = plain.content()
    assert layout == 1
    assert "recipe" not in fields
    assert plain.but(recipe=recipe("smooth")).content()[0] == 2
    assert plain.but(recipe=recipe("smooth")).with_coverage(plain.coverage).recipe is None
