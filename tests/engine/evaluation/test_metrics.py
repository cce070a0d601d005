from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import EmptyVolume, GeometryError, InputError
from engine.base.values import frozen_array
from engine.evaluation.dvh import Dvh
from engine.evaluation.metrics import parse

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
     "D-5%[Gy]", "V20Gy[%", "VGy[%]", "X95%[Gy]", "D95%[mm]", "D9.5.1%[Gy]", "Mean[]", "D٣%[Gy]x"],
)  # fmt: skip
def test_hostile_texts_are_refused_in_words(text: str) -> None:
    with pytest.raises(InputError):
        parse(text)


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
