"""Published dose limits as suggestions for goals, each with its source and how it is known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import assets
from engine.base.errors import InputError
from engine.base.sources import Table, read_table
from engine.base.values import Value
from engine.base.words import say
from engine.evaluation.goal_file import Demand, GoalSet
from engine.evaluation.goals import Goal
from engine.evaluation.metrics import parse
from engine.volumes.sets import VolumeSet

# From here on a schedule counts as conventionally fractionated (1.8 to 2 Gy) where a limit names no fractions.
CONVENTIONAL_FROM = 15


@dataclass(frozen=True, eq=False)
class Suggestion(Value):
    """One published limit.

    Parameters
    ----------
    structure : the organ as the source's row names it
    regimen : "conventional 1.8-2.0 Gy/fx", "SBRT", ...
    fractions : "", "3" or a range "3-5"
    metric, comparator, limit, unit : the demand; `limit` is the stricter end of `printed`
    printed : the limit as printed, "55" or "5-10"
    endpoint, rate : complication it guards against and how often it occurs at the limit
    source, tag, note : where it is from, how that is known ("[read] ...", "[memory]", "[common practice]"), remarks
    """

    structure: str
    regimen: str
    fractions: str
    metric: str
    comparator: str
    limit: float
    printed: str
    unit: str
    endpoint: str
    rate: str
    source: str
    tag: str
    note: str

    @property
    def verified(self) -> bool:
        """Whether the value was read in a text rather than recalled or taken from habit."""
        return self.tag.startswith("[read")

    def goal(self, volume_key: str, priority: int = 2) -> Goal:
        """Return the suggestion as a goal for a volume; its source says when it is unverified."""
        words = f"{self.source} {self.tag}".strip()
        return Goal(
            volume_key,
            self.metric,
            self.comparator,
            self.limit,
            0.0,
            priority,
            words if self.verified else f"unverified: {words}",
        )


def load(path: Path) -> tuple[Suggestion, ...]:
    """Read a table of limits (see assets/goals/dose_limits.csv for its columns).

    Rows whose metric is outside the metric grammar are left out: they cannot be judged.

    Raises
    ------
    InputError
        If the table lacks its source or a column.
    """
    table = read_table(path)
    needed = ("structure", "regimen", "fractions", "metric", "comparator", "value", "unit", "source", "tag")
    missing = [n for n in needed if n not in table.text_names and n not in table.names]
    if missing:
        raise InputError(say("the table of limits has no column {missing}", missing=", ".join(missing)), str(path))
    rows = range(len(table.text("structure")))
    return tuple(s for s in (_suggestion(table, i) for i in rows) if s is not None)


def _cell(table: Table, name: str, i: int) -> str:
    if name in table.text_names:
        return table.text(name)[i]
    if name in table.names:
        number = float(table[name][i])
        return "" if number != number else f"{number:g}"
    return ""


def _suggestion(table: Table, i: int) -> Suggestion | None:
    def cell(name: str) -> str:
        return _cell(table, name, i)

    printed = cell("value")
    numbers = re.fullmatch(r"(\d+(?:\.\d+)?)(?:-(\d+(?:\.\d+)?))?", printed)
    comparator = cell("comparator").replace(">=", ">").replace("<=", "<")
    try:
        metric = parse(cell("metric"))
    except InputError:
        return None
    if not numbers or comparator not in ("<", ">"):
        return None
    # "Below" and "at most" are one demand to a measured number.
    ends = [float(n) for n in numbers.groups() if n]
    return Suggestion(
        cell("structure"),
        cell("regimen"),
        cell("fractions"),
        str(metric),
        comparator + "=",
        min(ends) if comparator == "<" else max(ends),
        printed,
        cell("unit"),
        cell("endpoint"),
        cell("associated_rate"),
        cell("source"),
        cell("tag"),
        cell("note"),
    )


@lru_cache(maxsize=1)
def shipped() -> tuple[Suggestion, ...]:
    """Return the limits that come with the program."""
    return load(assets.path("goals/dose_limits.csv"))


def suggestions_for(
    volume_name: str, fractions: int, limits: tuple[Suggestion, ...] | None = None
) -> tuple[Suggestion, ...]:
    """Return the limits for a volume of this name at this number of fractions, those that were read first.

    A planning risk volume (``SpinalCord_PRV05``) and a part (``Lungs-GTV``, ``Lungs``) get the limits of their organ;
    `structure` says what the row was made for.
    """
    want = _organ(volume_name)
    found = [
        s
        for s in (shipped() if limits is None else limits)
        if want in {_organ(part) for part in s.structure.split(";")} and _fits(s.fractions, fractions)
    ]
    return tuple(sorted(found, key=lambda s: not s.verified))


def strictest(goals: Iterable[Goal]) -> tuple[Goal, ...]:
    """Return one goal for each volume, metric and side: the one that asks most."""
    found: dict[tuple[str, str, str], Goal] = {}
    for goal in goals:
        key = (goal.volume_key, goal.metric, goal.comparator)
        found[key] = min(found.get(key, goal), goal, key=lambda g: g.limit if g.comparator == "<=" else -g.limit)
    return tuple(found.values())


def site_goals(site: VolumeSet, fractions: int) -> GoalSet:
    """Return the published limits for the organs of a site at this number of fractions, each with its source."""
    organs = [v.name for v in site.volumes if v.role in ("OAR", "PRV")]
    goals = strictest(s.goal(name) for name in organs for s in suggestions_for(name, fractions))  # names serve as keys
    demands = (Demand(g.volume_key, g.metric, g.comparator, g.limit, g.tolerance, g.priority, g.source) for g in goals)
    return GoalSet(site.title, tuple(demands))


def _organ(name: str) -> str:
    plain = re.sub(r"\(.*?\)", "", name).strip().lower()
    plain = re.sub(r"_prv\d*", "", plain)
    return plain.split("-")[0].rstrip("~").strip()


def _fits(text: str, fractions: int) -> bool:
    if not text:
        return fractions >= CONVENTIONAL_FROM
    ends = [int(n) for n in re.findall(r"\d+", text)]
    return ends[0] <= fractions <= ends[-1]
