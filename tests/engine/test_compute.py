"""Every entry of the table leads to a function, and stubs can stand in."""

import importlib
from dataclasses import dataclass

from engine import compute
from engine.base.values import Value


@dataclass(frozen=True, eq=False)
class Ask(Value):
    number: int


def test_every_named_function_exists():
    for entry in compute.TABLE.values():
        if isinstance(entry, str):
            module, _, name = entry.partition(":")
            assert callable(getattr(importlib.import_module(module), name)), entry


def test_a_stub_answers(monkeypatch):
    monkeypatch.setitem(compute.TABLE, "Ask", lambda request, report: request.number + 1)
    assert compute.run(Ask(41)) == 42
