"""Dose-volume metrics in the grammar of AAPM TG-263 (report 2018): the unit asked before the bracket, the answer's in it.

``D95%[Gy]`` ``D95%[%]`` ``D0.1cc[Gy]`` ``V20Gy[%]`` ``V20Gy[cc]`` ``V95%[%]`` ``Mean[Gy]`` ``Max[Gy]`` ``Min[Gy]``
``Median[Gy]``; ``DC700cc[Gy]``: the dose not exceeded in the coldest 700 cm3; ``CV15Gy[cc]``: the volume below 15 Gy.
Doses in percent are percent of the prescription, volumes in percent are percent of the volume. cGy is understood. A
number without a unit is refused: nobody knows whether it is a dose or a share.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import NoReturn

import numpy as np

from engine.base.errors import GeometryError, InputError
from engine.base.values import Value
from engine.base.words import Words, say
from engine.evaluation.dvh import Dvh

_HEAD = re.compile(r"D?(?P<plain>Mean|Max|Min|Median)|(?P<kind>DC|CV|D|V)", re.I | re.A)
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]*)?|\.[0-9]+")
_UNIT = re.compile(r"%|cc|cm3|c?Gy", re.I | re.A)
_UNITS = {"%": "%", "cc": "cc", "cm3": "cc", "gy": "Gy", "cgy": "cGy"}
_DOSES, _VOLUMES = ("Gy", "cGy", "%"), ("%", "cc")
_EXAMPLES = say("Write it like D95%[Gy], D0.1cc[Gy], V20Gy[%], V95%[%], Mean[Gy] or Max[Gy].")
# A volume that reaches out of the dose grid by more than this has no DVH to speak of.
COVERED_ENOUGH = 0.999


class MetricError(InputError):
    """A text is no metric.

    Parameters
    ----------
    text : as it was given
    at, until : the characters that are wrong, counted from 0, `until` excluded; both its length where the end is missing
    expected : what was expected there, as words
    """

    def __init__(self, text: str, at: int, until: int, expected: str) -> None:
        self.text, self.at, self.until, self.expected = text, at, until, expected
        if at < len(text):
            seen = at - (len(text) - len(text.lstrip()))  # in the text as the sentence shows it
            what = say("at character {at} {expected} was expected", at=seen + 1, expected=expected)
        else:
            what = say("at its end {expected} was expected", expected=expected)
        super().__init__(what, text.strip() or say("metric"), _EXAMPLES)


@dataclass(frozen=True, eq=False)
class Metric(Value):
    """One number to be read from a DVH.

    Parameters
    ----------
    kind : "D", "V", "DC", "CV", "Mean", "Max", "Min" or "Median"
    amount : dose or volume asked at; 0 for the last four
    asked : unit of `amount`: "%", "cc" or "Gy"; "" for the last four
    unit : of the answer: "Gy", "cGy", "%" or "cc"
    """

    kind: str
    amount: float
    asked: str
    unit: str

    def __str__(self) -> str:
        amount = np.format_float_positional(self.amount, trim="-") if self.asked else ""
        return f"{self.kind}{amount}{self.asked}[{self.unit}]"

    @property
    def needs_prescription(self) -> bool:
        """Whether the metric is relative to the prescription dose."""
        dose_asked = self.kind in ("V", "CV")
        return (dose_asked and self.asked == "%") or (not dose_asked and self.unit == "%")

    @property
    def linear_in_dose(self) -> bool:
        """Whether the answer is a dose, so that twice the dose gives twice the answer."""
        return self.kind not in ("V", "CV")

    def value(self, dvh: Dvh, prescription_gy: float | None = None, accept_partial: bool = False) -> float:
        """Return the metric of a volume, in `unit`.

        Raises
        ------
        InputError
            If it is relative to a prescription and there is none.
        EmptyVolume
            If it asks for more cm3 than the volume holds.
        GeometryError
            If the dose grid does not hold the whole volume, unless `accept_partial`.
        """
        if dvh.covered < COVERED_ENOUGH and not accept_partial:
            raise GeometryError(
                say("only {covered:.1f} % of the volume lies inside the dose grid", covered=100 * dvh.covered),
                str(self),
                "Enlarge the dose grid.",
            )
        if self.needs_prescription and not prescription_gy:
            raise InputError("it is relative to the prescription, and there is none", str(self))
        per_percent = (prescription_gy or 0.0) / 100.0
        if self.kind in ("V", "CV"):
            gy = self.amount if self.asked == "Gy" else self.amount * per_percent
            share = dvh.v_share(gy)
            share = share if self.kind == "V" else 1.0 - share
            return 100.0 * share if self.unit == "%" else share * dvh.volume_cm3
        gy = self._dose(dvh)
        return gy / per_percent if self.unit == "%" else 100.0 * gy if self.unit == "cGy" else gy

    def _dose(self, dvh: Dvh) -> float:
        if self.kind == "D":
            return dvh.d_gy(self.amount) if self.asked == "%" else dvh.d_cc_gy(self.amount)
        if self.kind == "DC":
            return dvh.d_gy(100.0 - self.amount) if self.asked == "%" else dvh.coldest_gy(self.amount)
        return {"Mean": dvh.mean_gy, "Max": dvh.max_gy, "Min": dvh.min_gy, "Median": dvh.median_gy}[self.kind]


@lru_cache(maxsize=1024)  # a ledger asks for each of its metrics in every frame while a weight moves
def parse(text: str) -> Metric:
    """Return the metric a text asks for; the answer's unit may be left out (Gy for doses, % for volumes).

    Blanks do not count. Every metric is read again from its ``str`` as it was.

    Raises
    ------
    MetricError
        If it is not in the grammar, a unit is missing, or the units do not belong together; it says where.
    """
    scan = _Scan(text)
    head = scan.take(_HEAD)
    if head is None:
        scan.refuse(say("D, V, DC, CV, Mean, Max, Min or Median"))
    if head["plain"]:
        return Metric(head["plain"].capitalize(), 0.0, "", scan.answer(_DOSES))
    kind = head["kind"].upper()
    of_dose = kind in ("V", "CV")
    number = scan.at
    digits = scan.take(_NUMBER)
    if digits is None:
        scan.refuse(say("a number"))
    asked = scan.unit(_DOSES if of_dose else _VOLUMES, re.compile(r"[^\[]*"))
    # By decimals, so that 33.3 cGy are 0.333 Gy and not a neighbour of it.
    amount = float(Decimal(digits[0]) / 100 if asked == "cGy" else Decimal(digits[0]))
    if asked == "%" and not of_dose and amount > 100:
        scan.refuse(say("a number up to 100"), number, number + len(digits[0]))
    if not math.isfinite(amount):
        scan.refuse(say("a smaller number"), number, number + len(digits[0]))
    return Metric(kind, amount, "Gy" if asked == "cGy" else asked, scan.answer(_VOLUMES if of_dose else _DOSES))


class _Scan:
    """Reads a text without its blanks from left to right and remembers where each character stood."""

    def __init__(self, text: str) -> None:
        self._text, self.at = text, 0
        self._places = [n for n, c in enumerate(text) if not c.isspace()]
        self._clean = "".join(text[n] for n in self._places)

    def take(self, form: re.Pattern[str]) -> re.Match[str] | None:
        """Go past what has this form, or stay."""
        found = form.match(self._clean, self.at)
        if found:
            self.at = found.end()
        return found

    def unit(self, allowed: tuple[str, ...], rest: re.Pattern[str]) -> str:
        """Go past one of the allowed units; what stands there in its place has the form `rest`."""
        at, found = self.at, self.take(_UNIT)
        unit = _UNITS[found[0].lower()] if found else ""
        if unit not in allowed:
            wrong = rest.match(self._clean, at)
            self.refuse(say("a unit ({units})", units=_either(allowed)), at, wrong.end() if wrong else at)
        return unit

    def answer(self, allowed: tuple[str, ...]) -> str:
        """Read the bracket with the answer's unit up to the end; without a bracket it is the first of those allowed."""
        unit = allowed[0]
        if self.at < len(self._clean):
            if not self.take(re.compile(r"\[")):
                self.refuse(say("a bracket with the unit of the answer"), until=len(self._clean))
            unit = self.unit(allowed, re.compile(r"[^\]]*"))
            if not self.take(re.compile(r"\]")):
                self.refuse(say("the closing bracket"))
            if self.at < len(self._clean):
                self.refuse(say("nothing more"), until=len(self._clean))
        return unit

    def refuse(self, expected: str, at: int | None = None, until: int | None = None) -> NoReturn:
        """Say what was expected where (the next character), of places in the text without blanks."""
        start = self.at if at is None else at
        if start >= len(self._places):
            raise MetricError(self._text, len(self._text), len(self._text), expected)
        last = max(start, start if until is None else until - 1)
        raise MetricError(self._text, self._places[start], self._places[last] + 1, expected)


def _either(units: tuple[str, ...]) -> Words:
    return say("{some} or {last}", some=", ".join(units[:-1]), last=units[-1])
