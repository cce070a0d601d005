"""Biological doses and probabilities against worked examples; each follows from the formula named as its source."""

from __future__ import annotations

import numpy as np

from engine.evaluation.radiobiology import (
    bed,
    bed_incomplete_repair,
    bed_with_repopulation,
    eqd2,
    ntcp_lkb,
    response_logistic,
    tcp_poisson,
)  # fmt: skip
from tests.reference.table import held

SUBJECT = "Biological models"
LQ = "linear-quadratic model: n d (1 + d/(α/β))"

# fractions, Gy each, alpha/beta, BED, EQD2 (nan: not worked out)
SCHEDULES = [
    (30, 2, 3, 100, 60), (30, 2, 10, 72, 60), (20, 3, 1.5, 180, 77.143), (20, 3, 3, 120, 72), (20, 3, 10, 78, 65),
    (15, 2.67, 4, 66.783, 44.522), (15, 2.67, 3, 75.695, 45.417), (15, 2.67, 10, 50.743, 42.286),
    (5, 4, 3, 46.667, 28), (5, 4, 10, 28, 23.333), (39, 2, 1.5, 182, 78),
]  # fmt: skip
EQUIVALENTS = [
    (10, 3, 2, 37.5),
    (10, 3, 10, 32.5),
    (1, 8, 2, 20),
    (1, 8, 10, 12),
    (28, 1.8, 3, 48.384),
    (28, 1.8, 10, 49.56),
]


def test_schedules() -> None:
    at = [f"{n} x {d} Gy, α/β {ab}" for n, d, ab, _, _ in SCHEDULES]
    known = {"source": LQ, "known": "exact", "unit": " Gy", "tol": 0.001}
    held(SUBJECT, "BED", [bed(n * d, n, ab) for n, d, ab, _, _ in SCHEDULES], [s[3] for s in SCHEDULES], at=at, **known)
    found = [eqd2(n * d, n, ab) for n, d, ab, *_ in (*SCHEDULES, *EQUIVALENTS)]
    at += [f"{n} x {d} Gy, α/β {ab}" for n, d, ab, _ in EQUIVALENTS]
    held(SUBJECT, "EQD2", found, [s[-1] for s in (*SCHEDULES, *EQUIVALENTS)], at=at, **known)


def test_two_parts_add_up() -> None:
    found = eqd2(50, 25, 3) + eqd2(10, 5, 3)
    held(SUBJECT, "EQD2 of 50 Gy in 25 and 10 Gy in 5", found, 60, source=LQ, known="exact", tol=1e-9, unit=" Gy")


def test_time() -> None:
    repair = "incomplete repair between two fractions a day, half-times 4 and 1.5 h"
    found = [bed_incomplete_repair(40.8, 34, 3, 2, 6, h) for h in (4, 1.5)]
    held(
        SUBJECT,
        "BED, 34 x 1.2 Gy twice a day",
        found,
        [62.890, 58.140],
        source=repair,
        known="exact",
        tol=0.001,
        unit=" Gy",
    )
    found = bed_with_repopulation(bed(70, 35, 10), 46, 28, float(np.log(2) / (0.3 * 3)))
    held(
        SUBJECT, "BED, 35 x 2 Gy in 46 days", found, 70.137, source="repopulation from day 28 on, doubling in 3 days",
        known="exact", tol=0.001, unit=" Gy",
    )  # fmt: skip


def test_probabilities() -> None:
    organs = {"lung": (20, 24.5, 0.18), "parotid": (40, 46, 0.18), "liver": (35, 40, 0.15), "cord": (50, 66.5, 0.175)}
    found = [ntcp_lkb(*numbers) for numbers in organs.values()]
    held(
        SUBJECT, "NTCP of a uniform dose", found, [0.15377, 0.23434, 0.20233, 0.07812], at=list(organs), tol=1e-5, digits=5,
        source="normal integral of (gEUD - TD50)/(m TD50)", known="exact",
    )  # fmt: skip
    held(
        SUBJECT, "TCP, 1e9 cells, 30 x 2 Gy", tcp_poisson(1e9, 0.3, bed(60, 30, 10)), 0.659588, tol=1e-6, digits=6,
        source="Poisson: exp(-N exp(-α BED))", known="exact",
    )  # fmt: skip
    held(
        SUBJECT, "TCP, D50 60 Gy, γ50 2, EUD 66 Gy", response_logistic(66, 60, 2), 0.681892, tol=1e-6, digits=6,
        source="logistic: 1/(1 + (D50/EUD)^(4 γ50))", known="exact",
    )  # fmt: skip
