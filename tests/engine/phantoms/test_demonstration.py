"""A demonstration patient asked for by name."""

from __future__ import annotations

import pytest

from engine.base.errors import InputError
from engine.phantoms.demonstration import MakeDemonstration, make_demonstration


def test_a_patient_that_does_not_exist_is_refused_in_words():
    with pytest.raises(InputError, match="nobody"):
        make_demonstration(MakeDemonstration("nobody"))


def test_it_says_what_it_makes_and_passes_the_name_on(monkeypatch):
    import engine.phantoms

    said = []
    monkeypatch.setattr(engine.phantoms, "make", lambda name, *_: f"made {name}")
    assert make_demonstration(MakeDemonstration("thorax"), lambda f, words="": said.append(words)) == "made thorax"
    assert "thorax" in said[0]
