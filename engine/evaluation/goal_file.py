"""Sets of goals as files: what a site demands, one's own, and the ledger of a draft to be taken elsewhere.

A set is a TOML file::

    name = "Lung, 30 fractions"
    source = "where the demands are from"    # of every goal that names no other; may be left out

    [[goals]]
    volume = "Lungs-GTV"                     # a volume's name; its letters may be small or capital
    metric = "V20Gy[%]"                      # in the grammar of TG-263, see engine.evaluation.metrics
    limit = "<= 30 %"                        # <= (≤) or >= (≥), and the unit the metric is answered in
    tolerance = "2 %"                        # beyond the limit, same unit; none if left out
    priority = 2                             # 1 must to 3 wish; 1 if left out
    source = "QUANTEC, Marks et al. (2010)"

Any other key, type or unit is refused, and so is a goal that is there twice: nothing of a file is taken unless all is.
"""

from __future__ import annotations

import json
import math
import re
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

import numpy as np

from engine.base.errors import InputError
from engine.base.words import Words, say
from engine.evaluation.goals import Goal
from engine.evaluation.metrics import Metric, MetricError, parse
from engine.volumes.volume import Volume

MOST = 500
_KEYS = ("name", "source", "goals")
_GOAL_KEYS = ("volume", "metric", "limit", "tolerance", "priority", "source")
_SIGNS = {"<=": "<=", "≤": "<=", ">=": ">=", "≥": ">="}
_AMOUNT = re.compile(r"(?P<sign><=|>=|≤|≥)?\s*(?P<number>[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)\s*(?P<unit>[^\s0-9.]\S*)")
_UNITS = {"gy": "Gy", "cgy": "cGy", "%": "%", "cc": "cc", "cm3": "cc", "cm³": "cc"}


@dataclass(frozen=True)
class Demand:
    """A goal on the volume of a name; the fields are those of ``Goal``."""

    volume: str
    metric: str
    comparator: str
    limit: float
    tolerance: float = 0.0
    priority: int = 1
    source: str = ""


@dataclass(frozen=True)
class GoalSet:
    """A named set of demands; `source` is that of demands that name none."""

    name: str
    demands: tuple[Demand, ...]
    source: str = ""


def goals_in(folder: Path) -> tuple[tuple[GoalSet, ...], tuple[InputError, ...]]:
    """Return the sets of goals in a folder, by name, and what is wrong with the files that are none."""
    found, bad = [], []
    for path in sorted(folder.glob("*.toml")):
        try:
            found.append(load_goals(path))
        except InputError as error:
            bad.append(error)
    return tuple(sorted(found, key=lambda s: s.name.casefold())), tuple(bad)


def load_goals(path: Path) -> GoalSet:
    """Read a set of goals.

    Raises
    ------
    InputError
        If the file cannot be read or anything in it is not as it must be; it says the file, the line and what.
    """
    try:
        return read_goals(path.read_text(encoding="utf-8"), str(path))
    except OSError as error:
        reason = error.strerror or str(error)
        raise InputError(say("it cannot be read ({reason})", reason=reason), str(path), "Choose another file.") from None
    except UnicodeDecodeError as error:
        raise InputError(say("it is no TOML: {error}", error=str(error)), str(path), "Save it as UTF-8.") from None


def read_goals(text: str, where: str) -> GoalSet:
    """Return the set of goals a text holds; `where` names the file in what is refused (``load_goals``)."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    try:
        document = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise InputError(say("it is no TOML: {error}", error=str(error)), where, "Correct that line.") from None
    return _Reader(text, where, document).read()


def goals_text(wanted: GoalSet) -> str:
    """Return a set of goals as the text of its file; read again it is the same set.

    Raises
    ------
    MetricError
        If a demand's metric is not in the grammar.
    """
    lines = [f"name = {_quoted(wanted.name)}"]
    lines += [f"source = {_quoted(wanted.source)}"] if wanted.source else []
    for d in wanted.demands:
        unit = parse(d.metric).unit
        lines += ["", "[[goals]]", f"volume = {_quoted(d.volume)}", f"metric = {_quoted(d.metric)}"]
        lines.append(f'limit = "{d.comparator} {_number(d.limit)} {unit}"')
        lines += [f'tolerance = "{_number(d.tolerance)} {unit}"'] if d.tolerance else []
        lines.append(f"priority = {d.priority}")
        lines += [f"source = {_quoted(d.source)}"] if d.source != wanted.source else []
    return "\n".join([*lines, ""])


def goals_for(wanted: GoalSet, volumes: Iterable[Volume]) -> tuple[Goal, ...]:
    """Return the demands as goals on these volumes; one whose volume is not among them waits for it."""
    keys = {v.name.lower(): v.key for v in volumes}
    out = []
    for d in wanted.demands:
        key = keys.get(d.volume.lower(), "")
        waits = "" if key else d.volume
        out.append(Goal(key, d.metric, d.comparator, d.limit, d.tolerance, d.priority, d.source, waits))
    return tuple(out)


def set_of_goals(goals: Iterable[Goal], volumes: Iterable[Volume], name: str) -> GoalSet:
    """Return goals as a set, each once; one whose volume is gone for good is left out."""
    names = {v.key: v.name for v in volumes}
    found: dict[tuple[object, ...], Demand] = {}
    for g in goals:
        volume = names.get(g.volume_key) or g.waits_for
        if volume:
            demand = Demand(volume, g.metric, g.comparator, g.limit, g.tolerance, g.priority, g.source)
            found.setdefault(_same(demand), demand)
    return GoalSet(name, tuple(found.values()))


def _same(d: Demand) -> tuple[object, ...]:
    return d.volume.lower(), str(parse(d.metric)), d.comparator, d.limit


def _number(value: float) -> str:
    return str(np.format_float_positional(value, trim="-"))


def _quoted(text: str) -> str:
    # A JSON string is a TOML basic string, but for the one control character JSON leaves bare.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


class _Reader:
    """Reads one document; what it refuses carries the file's line."""

    def __init__(self, text: str, where: str, document: dict[str, Any]) -> None:
        self._lines, self._where, self._document = text.split("\n"), where, document

    def read(self) -> GoalSet:
        d = self._document
        for key in d:
            if key not in _KEYS:
                self._refuse(say("the key {key} is not known", key=key), _use(_KEYS), None, key)
        name, source = self._text(d, "name", None), self._text(d, "source", None, "")
        rows = d.get("goals")
        if not isinstance(rows, list) or not 1 <= len(rows) <= MOST or not all(isinstance(r, dict) for r in rows):
            self._refuse(say("a set holds 1 to {most} goals", most=MOST), say("Write each below a line [[goals]]."))
        demands: dict[tuple[object, ...], Demand] = {}
        for n, row in enumerate(rows):
            demand = self._demand(row, n, source)
            before = demands.setdefault(_same(demand), demand)
            if before is not demand:
                first = self._line(list(demands.values()).index(before), "limit")
                words = say("{volume} {metric} is there already, in line {line}", volume=demand.volume,
                            metric=demand.metric, line=first)  # fmt: skip
                self._refuse(words, say("Remove one of them."), n, "limit")
        return GoalSet(name, tuple(demands.values()), source)

    def _demand(self, row: dict[str, Any], n: int, source: str) -> Demand:
        for key in row:
            if key not in _GOAL_KEYS:
                self._refuse(say("the key {key} is not known", key=key), _use(_GOAL_KEYS), n, key)
        volume, text = self._text(row, "volume", n), self._text(row, "metric", n)
        try:
            metric = parse(text)
        except MetricError as error:
            self._refuse(say("{text}: {what}", text=text, what=error.what), error.do, n, "metric")
        sign, limit = self._amount(row, "limit", n, metric)
        tolerance = self._amount(row, "tolerance", n, metric)[1] if "tolerance" in row else 0.0
        priority = row.get("priority", 1)
        if type(priority) is not int or priority not in (1, 2, 3):
            self._refuse(say("a priority is 1 (must), 2 or 3 (wish)"), say("Correct it."), n, "priority")
        return Demand(volume, text, sign, limit, tolerance, priority, self._text(row, "source", n, source))

    def _text(self, row: dict[str, Any], key: str, n: int | None, default: str | None = None) -> str:
        if key not in row and default is not None:
            return default
        found = row.get(key)
        if not isinstance(found, str) or (default is None and not found.strip()):
            what = say("{key} is missing", key=key) if key not in row else say("{key} is no text", key=key)
            self._refuse(what, say('Write a line such as {key} = "…".', key=key), n, key if key in row else "")
        return found

    def _amount(self, row: dict[str, Any], key: str, n: int, metric: Metric) -> tuple[str, float]:
        example = say(
            'Write it like {key} = "{sign}57 {unit}".', key=key, sign=">= " if key == "limit" else "", unit=metric.unit
        )
        text = self._text(row, key, n).strip()
        found = _AMOUNT.fullmatch(text)
        if not found or bool(found["sign"]) != (key == "limit") or not math.isfinite(float(found["number"])):
            self._refuse(say("{text!r} is no {key}", text=text, key=key), example, n, key)
        if _UNITS.get(found["unit"].lower()) != metric.unit:
            words = say("{text!r} is not in {unit}, as {metric} is", text=text, unit=metric.unit, metric=str(metric))
            self._refuse(words, example, n, key)
        return _SIGNS.get(found["sign"] or "", ""), float(found["number"])

    def _refuse(self, what: str, do: str, n: int | None = None, key: str = "") -> NoReturn:
        line = self._line(n, key)
        where = say("{file}, line {line}", file=self._where, line=line) if line else self._where
        raise InputError(what, where, do)

    def _line(self, n: int | None, key: str) -> int:
        """Return the line, from 1, in which goal `n` (None: the head) gets a key ("": begins); 0 if there is none.

        What TOML has read after so many lines tells, so that no second grammar is needed here.
        """
        low, high = 1, len(self._lines)
        if not self._holds(self._read_to(high), n, key):
            return 0
        while low < high:
            middle = (low + high) // 2
            if self._holds(self._read_to(middle), n, key):
                high = middle
            else:
                low = middle + 1
        return low

    def _read_to(self, count: int) -> dict[str, Any]:
        """Return what the first lines hold; where they end within a text, what all whole values before it hold."""
        while count:
            start = "\n".join(self._lines[:count])
            for end in ("", "\n]"):  # also within the list of ``goals = [``
                try:
                    return tomllib.loads(start + end)
                except tomllib.TOMLDecodeError:
                    continue
            count -= 1
        return {}

    @staticmethod
    def _holds(document: dict[str, Any], n: int | None, key: str) -> bool:
        if n is None:
            return key in document
        rows = document.get("goals")
        if not isinstance(rows, list) or len(rows) <= n:
            return False
        return not key or (isinstance(rows[n], dict) and key in rows[n])


def _use(keys: Sequence[str]) -> Words:
    return say("Use only {keys}.", keys=", ".join(keys))
