"""Checks against the world: each is asserted and written down once, so that the table in DEVELOPERS.md is never typed.

``held`` compares numbers with a published or independently computed value and asserts. ``band`` does the same with what
is known from memory: it must hold too, but is shown as plausibility and never counted as validation. ``shown`` writes
down without judging.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

Numbers = float | Sequence[float] | np.ndarray

VALIDATION, PLAUSIBLE, UNJUDGED = "validation", "plausible", "unjudged"


@dataclass(frozen=True)
class Row:
    """One line of the table; texts as they are printed."""

    subject: str
    check: str
    source: str
    known: str
    expected: str
    found: str
    tolerance: str
    kind: str
    fine: bool


ROWS: dict[tuple[str, str], Row] = {}


def held(
    subject: str,
    check: str,
    found: Numbers,
    expected: Numbers,
    *,
    source: str,
    known: str,
    rel: float | Sequence[float] | np.ndarray | None = None,
    tol: float | Sequence[float] | np.ndarray | None = None,
    unit: str = "",
    digits: int = 3,
    at: Sequence[str] = (),
    kind: str = VALIDATION,
) -> None:
    """Record a comparison and assert it.

    Parameters
    ----------
    found, expected : one number or several of the same length; of several the worst is shown
    rel, tol : relative or absolute tolerance (one for all, or one each); exactly one of them
    at : names of the several, to say where the worst is
    """
    assert known in ("read", "read-2", "read, computed", "computed", "exact", "common practice", "memory"), known
    assert (known == "memory") == (kind == PLAUSIBLE), "a recalled value is no validation"
    assert (rel is None) != (tol is None)
    f, e = np.atleast_1d(np.asarray(found, float)), np.atleast_1d(np.asarray(expected, float))
    assert f.shape == e.shape
    assert f.size
    off = f - e if rel is None else f / e - 1
    allowed = np.broadcast_to(np.asarray(tol if rel is None else rel, float), off.shape)
    share = np.where(np.isfinite(off), np.abs(off) / np.maximum(allowed, 1e-300), np.inf)
    worst = int(np.argmax(share))
    fine = bool(share[worst] <= 1)

    def number(v: float) -> str:
        return f"{v:.{digits}f}{unit}"

    span = sorted(set(np.round(allowed, 9).tolist()))
    limit = " to ".join(
        f"{100 * v:g} %" if rel is not None else f"{v:g}{unit}" for v in (span[:1] + span[-1:])[: len(span)]
    )
    if f.size == 1:
        want, got = number(e[0]), number(f[0])
    else:
        where = f" ({at[worst]})" if len(at) else ""
        difference = f"{100 * off[worst]:+.2f} %" if rel is not None else f"{off[worst]:+.{digits}f}{unit}"
        want, got = f"{f.size} values, {number(e.min())} to {number(e.max())}", f"worst {difference}{where}"
    ROWS[subject, check] = Row(subject, check, source, known, want, got, limit, kind, fine)
    names = list(at) or [str(n) for n in range(f.size)]
    wrong = [f"{n}: {a:.5g}, expected {b:.5g}" for n, a, b, s in zip(names, f, e, share) if s > 1]
    assert fine, f"{check} (tolerance {limit}), {len(wrong)} outside: " + "; ".join(wrong[:8])


def band(
    subject: str,
    check: str,
    found: Numbers,
    low: Numbers,
    high: Numbers,
    *,
    source: str,
    unit: str = "",
    digits: int = 3,
    at: Sequence[str] = (),
) -> None:
    """Record and assert that numbers known from memory lie in their bands: plausible, not validated."""
    lo, hi = np.asarray(low, float), np.asarray(high, float)
    held(
        subject,
        check,
        found,
        (lo + hi) / 2 + 0 * np.asarray(found, float),
        source=source,
        known="memory",
        tol=(hi - lo) / 2 + 0 * np.asarray(found, float),
        unit=unit,
        digits=digits,
        at=at,
        kind=PLAUSIBLE,
    )


def between(
    subject: str,
    check: str,
    found: float,
    low: float,
    high: float,
    *,
    source: str,
    known: str,
    unit: str = "",
    digits: int = 3,
) -> None:
    """Record and assert that a number lies between two published ones."""
    fine = low <= found <= high
    want = f"{low:.{digits}f} to {high:.{digits}f}{unit}"
    ROWS[subject, check] = Row(
        subject, check, source, known, want, f"{found:.{digits}f}{unit}", "the range", VALIDATION, fine
    )
    assert known != "memory"
    assert fine, f"{check}: {found:.5g}, expected {want}"


def shown(subject: str, check: str, found: str, expected: str, *, source: str, known: str) -> None:
    """Record without judging, where no tolerance can be defended."""
    ROWS[subject, check] = Row(subject, check, source, known, expected, found, "-", UNJUDGED, True)


def law(
    subject: str,
    check: str,
    found: float,
    limit: float,
    *,
    unit: str = " %",
    digits: int = 2,
    source: str = "law of physics",
    known: str = "exact",
) -> None:
    """Record and assert that a difference that must vanish stays below a limit."""
    fine = bool(abs(found) <= limit)
    ROWS[subject, check] = Row(
        subject, check, source, known, "0", f"{found:.{digits}f}{unit}", f"{limit:g}{unit}", VALIDATION, fine
    )
    assert fine, f"{check}: {found:.4g}{unit} is more than {limit:g}{unit}"


def markdown() -> str:
    """Return all rows as Markdown, grouped by subject, with a line of counts first."""
    rows = list(ROWS.values())
    judged = [r for r in rows if r.kind == VALIDATION]
    recalled = [r for r in rows if r.kind == PLAUSIBLE]
    lines = [
        f"{sum(r.fine for r in judged)} of {len(judged)} validation checks hold; of {len(recalled)} plausibility bands "
        f"known from memory (*italic*, no validation) {sum(r.fine for r in recalled)} are kept. A line of several values "
        "shows the worst of them.",
    ]
    for subject in dict.fromkeys(r.subject for r in rows):
        lines += [
            "",
            f"**{subject}**",
            "",
            "| check | expected | found | tolerance | source |",
            "| --- | --- | --- | --- | --- |",
        ]
        for r in rows:
            if r.subject == subject:
                name = f"*{r.check}*" if r.kind == PLAUSIBLE else r.check
                mark = "" if r.fine else "**fails:** "
                lines.append(f"| {name} | {r.expected} | {mark}{r.found} | {r.tolerance} | {r.source} [{r.known}] |")
    return "\n".join(lines)
