"""What the DVH plot says of the place under the pointer, of one draft or of two beside each other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QCoreApplication

from app.core.language import translated
from app.views.dvh_curves import Mark

Named = Sequence[tuple[str, Any]]  # what a draft has, by the draft's name; the name is "" while there is one draft


def _tr(text: str) -> str:
    return QCoreApplication.translate("DvhWords", text)


@dataclass(frozen=True)
class DvhWords:
    """Writes doses and amounts in the units of the plot's axes.

    Parameters
    ----------
    volume : the volume's name
    in_cm3 : amounts in cm3 instead of percent
    prescribed_gy : the dose that is 100 %, or 0 for doses in Gy
    unit : what stands behind a dose of this volume that is not in percent
    note : a line of its own about the doses of this volume, or ""
    """

    volume: str
    in_cm3: bool
    prescribed_gy: float
    unit: str
    note: str = ""

    def dose(self, gy: float) -> str:
        """Return a dose in words."""
        if self.prescribed_gy:
            return _tr("{0} % of the prescription").format(f"{100 * gy / self.prescribed_gy:.1f}")
        return f"{gy:.1f} {self.unit}"

    def amount(self, amount: float) -> str:
        """Return an amount of the volume in words."""
        plain = f"{amount:.0f}" if amount >= 100 else f"{amount:.3g}"  # never 1.94e+04
        return _tr("{0} cm³").format(plain) if self.in_cm3 else _tr("{0} %").format(f"{amount:.1f}")

    def at(self, dvhs: Named, gy: float, amount: float) -> str:
        """Return what receives a dose and what the hottest amount receives; by name if there are two drafts."""
        if not dvhs:
            return ""
        whole = dvhs[0][1].volume_cm3 if self.in_cm3 else 100.0
        amount = min(amount, whole)
        shares = self._each(dvhs, lambda dvh: self.amount(dvh.v_share(gy) * whole))
        doses = self._each(dvhs, lambda dvh: self.dose(dvh.d_gy(100.0 * amount / whole)))
        if not dvhs[0][0]:
            first = _tr("{0}: {1} receives {2} or more").format(self.volume, shares, self.dose(gy))
            second = _tr("hottest {0}: {1} or more").format(self.amount(amount), doses)
        else:
            first = _tr("{0}, {1} or more: {2}").format(self.volume, self.dose(gy), shares)
            second = _tr("hottest {0}, at least: {1}").format(self.amount(amount), doses)
        return "\n".join(filter(None, (first, second, self.note)))

    def density_at(self, densities: Named, gy: float) -> str:
        """Return how much of the volume lies at a dose; by name if there are two drafts."""
        if not densities:
            return ""
        parts = self._each(densities, self.amount)
        words = _tr("{0}, per Gy at {1}: {2}").format(self.volume, self.dose(gy), parts)
        if not densities[0][0]:
            words = _tr("{0}: {1} per Gy at {2}").format(self.volume, parts, self.dose(gy))
        return "\n".join(filter(None, (words, self.note)))

    def goal(self, mark: Mark) -> str:
        """Return a goal and how it stands."""
        goal, unit = mark.goal, mark.goal.metric.partition("[")[2].rstrip("]")
        sign = "≤" if goal.comparator == "<=" else "≥"
        value = "–" if mark.achieved is None else f"{mark.achieved:.2f} {unit}"
        demand = f"{goal.metric.partition('[')[0]} {sign} {goal.limit:g} {unit}"
        words = _tr("Goal of {0}: {1}. Now {2}: {3}.")
        told = words.format(self.volume, demand, value, translated(mark.state))
        return "\n".join(filter(None, (told, self.note)))

    def _each(self, named: Named, value: Callable[[Any], str]) -> str:
        if not named[0][0]:
            return value(named[0][1])
        return ", ".join(_tr("{0} {1}").format(name, value(what)) for name, what in named)
