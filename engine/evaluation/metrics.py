"""Dose-volume metrics in the grammar of AAPM TG-263 (report 2018): the unit asked before the bracket, the answer's in it.

``D95%[Gy]`` ``D95%[%]`` ``D0.1cc[Gy]`` ``V20Gy[%]`` ``V20Gy[cc]`` ``V95%[%]`` ``Mean[Gy]`` ``Max[Gy]`` ``Min[Gy]``
``Median[Gy]``; ``DC700cc[Gy]``: the dose not exceeded in the coldest 700 cm3; ``CV15Gy[cc]``: the volume below 15 Gy.
Doses in percent are percent of the prescription, volumes in percent are percent of the volume. cGy is understood. A
number without a unit is refused: nobody knows whether it is a dose or a share.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from engine.base.errors import GeometryError, InputError
from engine.base.values import Value
from engine.base.words import say
from engine.evaluation.dvh import Dvh

_FORM = re.compile(
    r"(?P<kind>DC|CV|D|V)(?P<amount>\d+(?:\.\d*)?|\.\d+)(?P<unit>%|cc|cm3|c?Gy)?(?:\[(?P<out>[^\]]*)\])?", re.I
)
_PLAIN = re.compile(r"D?(?P<kind>Mean|Max|Min|Median)(?:\[(?P<out>[^\]]*)\])?", re.I)
_UNITS = {"%": "%", "cc": "cc", "cm3": "cc", "gy": "Gy", "cgy": "cGy"}
_EXAMPLES = say("Write it like D95%[Gy], D0.1cc[Gy], V20Gy[%], V95%[%], Mean[Gy] or Max[Gy].")
# A volume that reaches out of the dose grid by more than this has no DVH to speak of.
COVERED_ENOUGH = 0.999


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
        amount = f"{self.amount:.10g}" if self.asked else ""
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


def parse(text: str) -> Metric:
    """Return the metric a text asks for; the answer's unit may be left out (Gy for doses, % for volumes).

    Raises
    ------
    InputError
        If it is not in the grammar, a unit is missing, or the units do not belong together.
    """
    clean = re.sub(r"\s+", "", text)
    plain = _PLAIN.fullmatch(clean)
    if plain:
        return Metric(plain["kind"].capitalize(), 0.0, "", _unit(plain["out"], "Gy", ("Gy", "cGy", "%"), text))
    found = _FORM.fullmatch(clean)
    if not found:
        raise InputError(say("{text!r} is not a dose-volume metric", text=text), "metric", _EXAMPLES)
    if not found["unit"]:
        raise InputError(say("{text!r} has a number without a unit", text=text), "metric", _EXAMPLES)
    kind, amount = found["kind"].upper(), float(found["amount"])
    asked = _UNITS[found["unit"].lower()]
    if kind in ("V", "CV"):
        if asked == "cc":
            raise InputError(say("{text!r} asks for the volume at a volume", text=text), "metric", _EXAMPLES)
        out = _unit(found["out"], "%", ("%", "cc"), text)
    else:
        if asked in ("Gy", "cGy"):
            raise InputError(say("{text!r} asks for the dose at a dose", text=text), "metric", _EXAMPLES)
        if asked == "%" and amount > 100:
            raise InputError(say("{text!r} asks for more than 100 % of the volume", text=text), "metric", _EXAMPLES)
        out = _unit(found["out"], "Gy", ("Gy", "cGy", "%"), text)
    if asked == "cGy":
        amount, asked = amount / 100.0, "Gy"
    return Metric(kind, amount, asked, out)


def _unit(found: str | None, default: str, allowed: tuple[str, ...], text: str) -> str:
    if found is None:
        return default
    unit = _UNITS.get(found.lower())
    if unit not in allowed:
        raise InputError(
            say("{text!r} cannot be answered in {found!r}", text=text, found=found),
            "metric",
            say("Use one of {allowed}.", allowed=", ".join(allowed)),
        )
    return unit
