"""A sentence stays a plain string, and can still be told in other words."""

import copy
import pickle

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import InputError
from engine.base.values import encode
from engine.base.words import Words, as_words, listed, say, say_count, told
from engine.review.finding import Finding


def german(template: str, count: int) -> str:
    """A small dictionary; what it lacks stays English."""
    forms = {
        "{n} slices of {volume} hold nothing": "in {volume} sind {n} Schichten leer",
        "volume": "Volumen",
        "beam {name}": "Feld {name}",
        "Paint it.": "Male es.",
        "it is {width:.1f} mm wide": "es ist {width:.2f} mm breit",
        "{count} beams": "ein Feld" if count == 1 else "{count} Felder",
        "it lost a field: {a}": "es verlor {b}",
    }
    return forms.get(template, template)


def test_the_english_sentence_is_an_ordinary_string():
    words = say("it is {width:.1f} mm wide", width=2.25)
    assert words == "it is 2.2 mm wide"
    assert isinstance(words, str)
    assert hash(words) == hash("it is 2.2 mm wide")
    assert f"{words}!" == "it is 2.2 mm wide!"
    assert encode(words) == encode("it is 2.2 mm wide")


def test_the_same_values_are_told_in_other_words_and_another_order():
    words = say("{n} slices of {volume} hold nothing", n=3, volume="Bladder")
    assert told(words, german) == "in Bladder sind 3 Schichten leer"
    assert told(say("it is {width:.1f} mm wide", width=2.25), german) == "es ist 2.25 mm breit"


def test_a_name_among_the_values_is_never_translated_but_words_are():
    assert told(say("beam {name}", name="volume"), german) == "Feld volume"
    assert told(say("beam {name}", name=say("volume")), german) == "Feld Volumen"


def test_a_plain_string_is_looked_up_whole():
    assert told("volume", german) == "Volumen"
    assert told("{n} slices of {volume} hold nothing at all", german) == "{n} slices of {volume} hold nothing at all"


def test_a_plain_literal_may_be_looked_up_among_the_values():
    assert told(say("beam {name}", name=as_words("volume")), german) == "Feld Volumen"
    assert as_words("{braces}") == "{braces}"
    words = say("volume")
    assert as_words(words) is words


def test_number_chooses_the_form():
    assert say_count("one beam", "{count} beams", 1) == "one beam"
    assert say_count("one beam", "{count} beams", 4) == "4 beams"
    assert told(say_count("one beam", "{count} beams", 1), german) == "ein Feld"
    assert told(say_count("one beam", "{count} beams", 4), german) == "4 Felder"
    assert told(say_count("one leaf", "{count} leaves", 1), german) == "one leaf"


def test_a_list_stays_translatable():
    both = listed([say("beam {name}", name="A"), "{B}"], "; ")
    assert both == "beam A; {B}"
    assert told(both, german) == "Feld A; {B}"
    assert listed([]) == ""


def test_an_error_is_told_whole_and_keeps_its_parts():
    error = InputError(
        say("{n} slices of {volume} hold nothing", n=3, volume="X."), say("beam {name}", name="1"), "Paint it."
    )
    assert str(error) == "beam 1: 3 slices of X. hold nothing. Paint it."
    assert told(error, german) == "Feld 1: in X. sind 3 Schichten leer. Male es."
    wrapped = say("left out ({why})", why=error)
    assert wrapped == f"left out ({error})"
    assert told(wrapped, german) == "left out (Feld 1: in X. sind 3 Schichten leer. Male es.)"


def test_a_translation_that_lost_a_field_falls_back_to_english():
    assert told(say("it lost a field: {a}", a=1), german) == "it lost a field: 1"


def test_negative_numbers_are_told_with_a_minus_sign_and_printed_with_a_hyphen():
    words = say("from {low:.1f} to {high} mm in {name}", low=np.float32(-2.5), high=3, name="PTV-1")
    assert words == "from -2.5 to 3 mm in PTV-1"
    assert told(words, german) == "from \u22122.5 to 3 mm in PTV-1"


def test_words_survive_copying_and_pickling():
    words = say_count("one beam", "{count} beams", 1)
    for again in (copy.deepcopy(words), pickle.loads(pickle.dumps(words))):
        assert again == words
        assert isinstance(again, Words)
        assert told(again, german) == "ein Feld"


def test_a_value_of_words_is_the_value_of_its_text():
    words = say("{volume} holds nothing", volume="Bladder")
    with_words = Finding("empty", "warn", "a volume holds something", words)
    plain = Finding("empty", "warn", "a volume holds something", "Bladder holds nothing")
    assert with_words == plain
    assert with_words.fingerprint == plain.fingerprint
    assert told(with_words.evidence, lambda t, n: t.upper().replace("{VOLUME}", "{volume}")) == "Bladder HOLDS NOTHING"


@given(st.text(), st.text())
def test_any_name_may_stand_among_the_values(name, other):
    assert say("{a} and {b}", a=name, b=other) == f"{name} and {other}"
    assert told(say("{a} and {b}", a=name, b=other), lambda t, n: t) == f"{name} and {other}"
    assert listed([name, other]) == f"{name}, {other}"
