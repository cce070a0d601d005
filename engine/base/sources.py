"""Numbers with their source: tables carry title, unit and how the values are known, or are refused."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from engine.base.errors import InputError
from engine.base.values import FrozenArray, Value, frozen_array
from engine.base.words import say

KNOWN = ("read", "read-2", "computed", "memory", "common practice", "own")


@dataclass(frozen=True, eq=False)
class Source(Value):
    """Where a number comes from. `known` is one of KNOWN; `memory` never counts as validation."""

    title: str
    known: str
    author: str = ""
    year: str = ""
    place: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.title or self.known not in KNOWN:
            raise InputError(say("a source needs a title and a 'known' out of {known}", known=", ".join(KNOWN)), self.title)


@dataclass(frozen=True, eq=False)
class Table(Value):
    """A table with its source. Columns are float arrays by name; text columns are tuples in `texts`."""

    source: Source
    names: tuple[str, ...]
    columns: tuple[FrozenArray, ...]
    text_names: tuple[str, ...] = ()
    texts: tuple[tuple[str, ...], ...] = ()

    def __getitem__(self, name: str) -> FrozenArray:
        return self.columns[self.names.index(name)]

    def text(self, name: str) -> tuple[str, ...]:
        """Return a text column."""
        return self.texts[self.text_names.index(name)]


def read_table(path: Path) -> Table:
    """Read a CSV whose first lines are ``# key: value`` (title, author, year, place, known, note), then a header row.

    Further ``#`` lines without a known key are notes. Columns whose cells are all numbers (empty = nan) become floats.

    Raises
    ------
    InputError
        If the header lacks a title or says not how the values are known.
    """
    head: dict[str, str] = {}
    rows: list[str] = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            key, _, value = line[1:].partition(":")
            key = key.strip()
            if key in {"title", "author", "year", "place", "known"}:
                head[key] = value.strip()
            else:
                head["note"] = (head.get("note", "") + " " + line[1:].strip()).strip()
        elif line.strip():
            rows.append(line)
    if "title" not in head or "known" not in head:
        raise InputError("the table's header lacks '# title:' or '# known:'", str(path), "Add the source.")
    table = list(csv.reader(io.StringIO("\n".join(rows))))
    names, body = [n.strip() for n in table[0]], table[1:]
    numbers: list[tuple[str, FrozenArray]] = []
    texts: list[tuple[str, tuple[str, ...]]] = []
    for i, name in enumerate(names):
        cells = [row[i].strip() for row in body]
        try:
            values = [float(c) if c else np.nan for c in cells]
        except ValueError:
            texts.append((name, tuple(cells)))
        else:
            numbers.append((name, frozen_array(np.array(values, dtype=np.float64))))
    return Table(
        Source(**head),
        tuple(n for n, _ in numbers),
        tuple(c for _, c in numbers),
        tuple(n for n, _ in texts),
        tuple(t for _, t in texts),
    )
