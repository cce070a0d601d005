"""The least value of a convex function of weights between bounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.base.progress import Report, quiet
from engine.optimise.objective import Floats, Held, Round

MOST_STEPS = 400
RESTARTS = 8
AT_REST = 1e-7


@dataclass(frozen=True)
class Least:
    """Where a round ended: weights (beams,), value, evaluations of the function."""

    x: Floats
    value: float
    evaluations: int


def least(of: Round, start: Floats, low: Floats, high: Floats, held: Held | None = None, report: Report = quiet) -> Least:
    """Return the least value between bounds by L-BFGS-B (Byrd, Lu, Nocedal and Zhu 1995), with its own gradient.

    Weights are scaled by their stiffness, so that a strong beam and a weak one take equal steps.

    Parameters
    ----------
    start, low, high : (beams,); infinity is no bound
    report : called at every evaluation, so that it can be cancelled
    """
    from scipy.optimize import minimize

    scale = 1.0 / np.sqrt(of.stiffness(held))
    count = 0

    def scaled(y: Floats) -> tuple[float, Floats]:
        nonlocal count
        count += 1
        report(1.0 - 1.0 / (1.0 + 0.1 * count))
        value, gradient = of(y * scale, held)
        return value, gradient * scale

    bounds = list(zip(low / scale, high / scale, strict=True))
    options = {"maxiter": MOST_STEPS, "maxfun": 2 * MOST_STEPS, "ftol": 1e-13, "gtol": AT_REST, "maxcor": 20}
    x = np.clip(start, low, high)
    for _ in range(RESTARTS):
        # What it has learned of the bend misleads it where points begin or cease to push; then it stops short of the end.
        found = minimize(scaled, x / scale, jac=True, method="L-BFGS-B", bounds=bounds, options=options)
        x = np.clip(found.x * scale, low, high)
        if unrest(lambda at: of(at, held), x, low, high, scale) <= 10 * AT_REST:
            break
    return Least(x, float(found.fun), count)


def unrest(of: Callable[[Floats], tuple[float, Floats]], x: Floats, low: Floats, high: Floats, scale: Floats) -> float:
    """Return how far weights are from where no allowed step lowers the function (Karush, Kuhn and Tucker).

    The longest step, in units of `scale`, that the gradient would make after being stopped by the bounds; zero exactly at
    the least value.
    """
    gradient = of(x)[1]
    y = x / scale
    step = np.clip(y - gradient * scale, low / scale, high / scale) - y
    return float(np.abs(step).max())
