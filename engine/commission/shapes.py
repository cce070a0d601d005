"""What a physicist reads off a curve: maximum, percentage depth dose, widths, penumbra, flatness."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def maximum(depth_mm: Floats, dose: Floats) -> tuple[float, float]:
    """Return depth and height of the maximum, from a cubic through all points near the highest one.

    Near means 98 % and more of it: the top is so flat that noise of 0.3 % moves the highest point by some millimetres.
    """
    top = int(np.argmax(dose))
    low, high = top, top
    while low > 0 and dose[low - 1] >= 0.98 * dose[top]:
        low -= 1
    while high < dose.size - 1 and dose[high + 1] >= 0.98 * dose[top]:
        high += 1
    if high - low < 4:
        return float(depth_mm[top]), float(dose[top])
    x, y = depth_mm[low : high + 1], dose[low : high + 1]
    bend = np.polynomial.Polynomial.fit(x, y, 3)
    fine = np.linspace(x[0], x[-1], 400)
    values = bend(fine)
    n = int(np.argmax(values))
    return float(fine[n]), float(values[n])


def crossing(position_mm: Floats, dose: Floats, level: float) -> float:
    """Return where a falling curve first passes a level, going outward from its first point; nan if it does not."""
    below = np.flatnonzero(dose < level)
    if below.size == 0 or below[0] == 0:
        return float("nan")
    n = int(below[0])
    share = (dose[n - 1] - level) / (dose[n - 1] - dose[n])
    return float(position_mm[n - 1] + share * (position_mm[n] - position_mm[n - 1]))


def sides(position_mm: Floats, dose: Floats) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats], float]:
    """Return the left and the right half of a profile, both outward from the middle, and the dose in the middle."""
    middle = float(np.interp(0.0, position_mm, dose))
    left, right = position_mm < 0, position_mm > 0
    halves = []
    for keep, sign in ((left, -1.0), (right, 1.0)):
        x, y = sign * position_mm[keep], dose[keep]
        order = np.argsort(x)
        halves.append((np.concatenate([[0.0], x[order]]), np.concatenate([[middle], y[order]])))
    return halves[0], halves[1], middle


def half_widths(position_mm: Floats, dose: Floats, share: float = 0.5) -> tuple[float, float]:
    """Return where a profile falls to a share of its middle, left (negative) and right; nan where it does not."""
    left, right, middle = sides(position_mm, dose)
    return -crossing(*left, share * middle), crossing(*right, share * middle)


def penumbra_mm(position_mm: Floats, dose: Floats) -> float:
    """Return the mean distance between 80 and 20 % of the middle over the edges that were scanned; nan without."""
    widths = []
    for x, y in sides(position_mm, dose)[:2]:
        middle = y[0]
        widths.append(crossing(x, y, 0.2 * middle) - crossing(x, y, 0.8 * middle))
    known = [w for w in widths if np.isfinite(w)]
    return float(np.mean(known)) if known else float("nan")


def flatness_symmetry(position_mm: Floats, dose: Floats) -> tuple[float, float]:
    """Return flatness and symmetry in percent over 80 % of the width at half height; nan if an edge is missing.

    Flatness is (max - min)/(max + min); symmetry the largest ratio of opposite points, less one [common practice].
    """
    left, right = half_widths(position_mm, dose)
    if not (np.isfinite(left) and np.isfinite(right)):
        return float("nan"), float("nan")
    half = 0.8 * (right - left) / 2
    x = np.linspace(-half, half, 201) + (left + right) / 2
    y = np.interp(x, position_mm, dose)
    ratio = y / y[::-1]
    return 100 * float((y.max() - y.min()) / (y.max() + y.min())), 100 * float(ratio.max() - 1)
