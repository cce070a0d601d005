"""Progress as a callback that may raise ``Cancelled``; the engine knows nothing of threads or Qt."""

from __future__ import annotations

from typing import Protocol


class Report(Protocol):
    """Called as ``report(fraction, words)``; raises ``Cancelled`` when asked to stop."""

    def __call__(self, fraction: float, words: str = "") -> None: ...


def quiet(fraction: float, words: str = "") -> None:
    """Report to nobody."""


def part(report: Report, start: float, stop: float) -> Report:
    """Return a report whose 0..1 covers `start`..`stop` of the outer one."""

    def inner(fraction: float, words: str = "") -> None:
        report(start + fraction * (stop - start), words)

    return inner
