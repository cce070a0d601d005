from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import EmptyVolume, GeometryError, InputError
from engine.base.values import frozen_array
from engine.evaluation.dvh import Dvh
from engine.evaluation.metrics import Metric, MetricError, parse

# 10 cm3 with dose spread evenly over 0 to 50 Gy.
RAMP = Dvh(frozen_array(np.array([0.0, 50.0])), frozen_array(np.array([0.0, 1.0])), 10.0, 1.0, 25.0)


@pytest.mark.parametrize(
    ("text", "canonical", "value"),
    [
        ("D95%[Gy]", "D95%[Gy]", 2.5),
        ("d95%", "D95%[Gy]", 2.5),
        ("D95%[%]", "D95%[%]", 6.25),
        ("D95%[cGy]", "D95%[cGy]", 250.0),
        ("D0.1cc[Gy]", "D0.1cc[Gy]", 49.5),
        ("D 0.1 cm3 [Gy]", "D0.1cc[Gy]", 49.5),
        ("V20Gy[%]", "V20Gy[%]", 60.0),
        ("V2000cGy[%]", "V20Gy[%]", 60.0),
        ("V20Gy[cc]", "V20Gy[cc]", 6.0),
        ("V95%[%]", "V95%[%]", 24.0),
        ("CV20Gy[cc]", "CV20Gy[cc]", 4.0),
        ("CV20Gy[%]", "CV20Gy[%]", 40.0),
        ("DC7cc[Gy]", "DC7cc[Gy]", 35.0),
        ("DC20%[Gy]", "DC20%[Gy]", 10.0),
        ("Mean[Gy]", "Mean[Gy]", 25.0),
        ("Dmax[Gy]", "Max[Gy]", 50.0),
        ("min", "Min[Gy]", 0.0),
        ("Median[%]", "Median[%]", 62.5),
    ],
)
def test_grammar(text: str, canonical: str, value: float) -> None:
    metric = parse(text)
    assert str(metric) == canonical
    assert parse(str(metric)) == metric
    assert metric.value(RAMP, 40.0) == pytest.approx(value)


@pytest.mark.parametrize(
    "text",
    ["", "D95", "V20", "D95[Gy]", "V20Gy[Gy]", "D95%[cc]", "V5cc[%]", "D20Gy[%]", "D101%[Gy]", "Mean[cc]", "Mean20[Gy]",
     "D-5%[Gy]", "V20Gy[%", "VGy[%]", "X95%[Gy]", "D95%[mm]", "D9.5.1%[Gy]", "Mean[]", "D٣%[Gy]x", "Mın[Gy]",
     "V" + "9" * 400 + "Gy[%]"],
)  # fmt: skip
def test_hostile_texts_are_refused_in_words(text: str) -> None:
    with pytest.raises(MetricError) as refused:
        parse(text)
    assert 0 <= refused.value.at <= refused.value.until <= len(text)


@pytest.mark.parametrize(
    ("text", "wrong", "sentence"),
    [
        ("D95%[Gx]", "Gx", "D95%[Gx]: at character 6 a unit (Gy, cGy or %) was expected"),
        ("  D95% [ mm ]", "mm", "D95% [ mm ]: at character 8 a unit (Gy, cGy or %) was expected"),
        ("D95", "", "D95: at its end a unit (% or cc) was expected"),
        ("D20Gy[%]", "Gy", "D20Gy[%]: at character 4 a unit (% or cc) was expected"),
        ("V5cc[%]", "cc", "V5cc[%]: at character 3 a unit (Gy, cGy or %) was expected"),
        ("V20Gy[Gy]", "Gy", "V20Gy[Gy]: at character 7 a unit (% or cc) was expected"),
        ("D101%", "101", "D101%: at character 2 a number up to 100 was expected"),
        ("D-5%", "-", "D-5%: at character 2 a number was expected"),
        ("X95%", "X", "X95%: at character 1 D, V, DC, CV, Mean, Max, Min or Median was expected"),
        ("Mean20[Gy]", "20[Gy]", "Mean20[Gy]: at character 5 a bracket with the unit of the answer was expected"),
        ("V20Gy[%", "", "V20Gy[%: at its end the closing bracket was expected"),
        ("V20Gy[%]]", "]", "V20Gy[%]]: at character 9 nothing more was expected"),
        ("", "", "metric: at its end D, V, DC, CV, Mean, Max, Min or Median was expected"),
    ],
)
def test_a_refusal_says_which_characters_are_wrong_and_what_was_expected(text: str, wrong: str, sentence: str) -> None:
    with pytest.raises(MetricError) as refused:
        parse(text)
    assert text[refused.value.at : refused.value.until] == wrong
    assert str(refused.value).startswith(f"{sentence}. Write it like ")


AMOUNTS = st.decimals(0, 100, places=4).map(lambda d: f"{d:f}") | st.floats(1e-12, 100).map(lambda f: f"{f:.17f}")
BLANKS = st.sampled_from(["", " ", "\t", "\u00a0"])


@st.composite
def valid(draw: st.DrawFn) -> str:
    """Return any metric of the grammar, in any case of letters and with blanks between its parts."""
    dose, volume = ("Gy", "cGy", "%"), ("%", "cc", "cm3")
    kind = draw(st.sampled_from(["D", "DC", "V", "CV", "Mean", "Max", "Min", "Median", "DMean", "Dmax"]))
    answers = volume if kind in ("V", "CV") else dose
    asked = {"D": volume, "DC": volume, "V": dose, "CV": dose}.get(kind)
    pieces = [kind] if asked is None else [kind, draw(AMOUNTS), draw(st.sampled_from(asked))]
    if draw(st.booleans()):
        pieces += ["[", draw(st.sampled_from(answers)), "]"]
    return "".join(draw(st.sampled_from([p, p.lower(), p.upper()])) + draw(BLANKS) for p in pieces)


@given(valid())
def test_every_metric_is_read_again_as_it_was(text: str) -> None:
    metric = parse(text)
    assert parse(str(metric)) == metric
    assert str(parse(str(metric))) == str(metric)


@given(st.data(), valid(), st.characters() | st.sampled_from("DVCGycm%[]0123.-İſK "))
def test_one_changed_character_is_understood_or_refused_with_its_place(data: st.DataObject, text: str, new: str) -> None:
    at = data.draw(st.integers(0, len(text)))
    mutated = data.draw(
        st.sampled_from([text[:at] + text[at + 1 :], text[:at] + new + text[at:], text[:at] + new + text[at + 1 :]])
    )
    try:
        found: Metric | MetricError = parse(mutated)
    except MetricError as error:
        found = error
    if isinstance(found, MetricError):
        assert 0 <= found.at <= found.until <= len(mutated)
        assert found.until > found.at or found.at == len(mutated)
        assert "expected" in str(found)
    else:
        assert parse(str(found)) == found
        assert found.kind in ("D", "DC", "V", "CV", "Mean", "Max", "Min", "Median")


def test_percent_needs_a_prescription() -> None:
    for text in ("D95%[%]", "V95%[%]", "Mean[%]", "CV95%[cc]"):
        assert parse(text).needs_prescription
        with pytest.raises(InputError, match="prescription"):
            parse(text).value(RAMP, None)
    assert not parse("V20Gy[%]").needs_prescription


def test_partly_covered_volume_is_refused_unless_accepted() -> None:
    part = RAMP.but(covered=0.8)
    with pytest.raises(GeometryError, match=r"80\.0 %"):
        parse("Mean[Gy]").value(part)
    assert parse("Mean[Gy]").value(part, accept_partial=True) == 25.0


def test_more_cc_than_the_volume_holds() -> None:
    with pytest.raises(EmptyVolume):
        parse("D11cc[Gy]").value(RAMP)
    with pytest.raises(EmptyVolume):
        parse("DC11cc[Gy]").value(RAMP)


@given(st.floats(0, 100), st.floats(0, 60))
def test_complements(percent: float, gy: float) -> None:
    v, cv = parse(f"V{gy:f}Gy[%]"), parse(f"CV{gy:f}Gy[%]")
    assert v.value(RAMP) + cv.value(RAMP) == pytest.approx(100)
    assert parse(f"D{percent:f}%").value(RAMP) == pytest.approx(50 - parse(f"DC{percent:f}%").value(RAMP), abs=1e-3)
