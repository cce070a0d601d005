"""Fractionation and complication formulas: linear-quadratic BED and EQD2, generalised EUD, the LKB model.

Formulas: Fowler 1989 and Dale 1985 (LQ), Niemierko 1999 (gEUD), Lyman, Kutcher and Burman (LKB, Burman et al. 1991). The
linear-quadratic formula is in doubt above about 8 to 10 Gy a fraction (common practice). No organ parameters are kept
here: whoever calls says which, and where they are from.
"""

from __future__ import annotations

from math import erf, exp, isfinite, log, sqrt

import numpy as np
from numpy.typing import NDArray

from engine.base.errors import InputError
from engine.base.words import say
from engine.evaluation.dvh import Dvh

LQ_DOUBTFUL_ABOVE_GY = 8.0


def bed(total_gy: float, fractions: int, alpha_beta_gy: float) -> float:
    """Return the biologically effective dose n d (1 + d / (alpha/beta)) with complete repair between fractions."""
    _check(total_gy, fractions, alpha_beta_gy)
    return total_gy * (1 + total_gy / fractions / alpha_beta_gy)


def eqd2(total_gy: float, fractions: int, alpha_beta_gy: float) -> float:
    """Return the dose in 2 Gy fractions of the same effect."""
    return bed(total_gy, fractions, alpha_beta_gy) / (1 + 2 / alpha_beta_gy)


def eqd2_voxels(gy: NDArray[np.float32], fractions: int, alpha_beta_gy: float) -> NDArray[np.float32]:
    """Return the EQD2 of every voxel, float32: of its own total dose, so of its own dose per fraction; see ``eqd2``."""
    _check(0.0, fractions, alpha_beta_gy)
    per_fraction = gy * np.float32(1.0 / fractions)
    per_fraction += np.float32(alpha_beta_gy)
    per_fraction *= gy
    per_fraction *= np.float32(1.0 / (2.0 + alpha_beta_gy))
    return per_fraction


def bed_incomplete_repair(
    total_gy: float, fractions: int, alpha_beta_gy: float, per_day: int, gap_h: float, half_time_h: float
) -> float:
    """Return the BED of `per_day` fractions a day `gap_h` apart, sublethal damage fading with `half_time_h`."""
    _check(total_gy, fractions, alpha_beta_gy)
    if per_day < 1 or gap_h <= 0 or half_time_h <= 0:
        raise InputError("incomplete repair needs at least one fraction a day and positive times")
    theta = exp(-log(2) * gap_h / half_time_h)
    h = 2 / per_day * theta / (1 - theta) * (per_day - (1 - theta**per_day) / (1 - theta))
    return total_gy * (1 + (1 + h) * total_gy / fractions / alpha_beta_gy)


def geud(dvh: Dvh, a: float) -> float:
    """Return the generalised equivalent uniform dose (mean of D^a)^(1/a) of a DVH, linear between its points.

    a = 1 is the mean; large a leans to the hottest part (serial organs), negative a to the coldest (targets).
    """
    if a == 0 or not isfinite(a):
        raise InputError(say("a generalised EUD needs an exponent other than {a}", a=a))
    # Powers relative to the highest dose neither overflow nor vanish.
    top = dvh.max_gy
    if top <= 0:
        return 0.0
    low, high = dvh.dose_gy[:-1] / top, dvh.dose_gy[1:] / top
    share = np.diff(dvh.below)
    low, high, share = low[share > 0], high[share > 0], share[share > 0]
    if a < 0 and low.min() <= 0:
        return 0.0
    middle, spread = (low + high) / 2, high - low
    powers = middle**a
    wide = spread > 1e-6 * np.maximum(middle, 1e-30)
    p, q = low[wide], high[wide]
    powers[wide] = np.log(q / p) / (q - p) if a == -1 else (q ** (a + 1) - p ** (a + 1)) / ((a + 1) * (q - p))
    return float(top * (powers * share).sum() ** (1 / a))


def ntcp_lkb(geud_gy: float, td50_gy: float, m: float) -> float:
    """Return the complication probability Phi((gEUD - TD50) / (m TD50)); gEUD with a = 1/n."""
    if td50_gy <= 0 or m <= 0:
        raise InputError("the LKB model needs a positive TD50 and m")
    return 0.5 * (1 + erf((geud_gy - td50_gy) / (m * td50_gy) / sqrt(2)))


def bed_with_repopulation(bed_gy: float, days: float, kick_off_days: float, loss_gy_per_day: float) -> float:
    """Return what is left of a BED when cells grow again from a day on: BED - K (T - Tk), K = ln 2 / (alpha Tp)."""
    if min(bed_gy, days, kick_off_days, loss_gy_per_day) < 0:
        raise InputError("repopulation needs a dose, days and a loss a day that are not negative")
    return bed_gy - loss_gy_per_day * max(0.0, days - kick_off_days)


def tcp_poisson(cells: float, alpha_per_gy: float, bed_gy: float) -> float:
    """Return the probability exp(-N exp(-alpha BED)) that no tumour cell of N is left, for uniform dose."""
    if cells < 0 or alpha_per_gy <= 0:
        raise InputError("the Poisson model needs a positive alpha and cells that are not negative")
    return exp(-cells * exp(-alpha_per_gy * bed_gy))


def response_logistic(geud_gy: float, d50_gy: float, gamma50: float) -> float:
    """Return the logistic probability 1 / (1 + (D50 / gEUD)^(4 gamma50)) of control or complication."""
    if d50_gy <= 0 or gamma50 <= 0:
        raise InputError("the logistic model needs a positive D50 and gamma50")
    return 0.0 if geud_gy <= 0 else 1 / (1 + (d50_gy / geud_gy) ** (4 * gamma50))


def _check(total_gy: float, fractions: int, alpha_beta_gy: float) -> None:
    if total_gy < 0 or fractions < 1 or alpha_beta_gy <= 0:
        raise InputError(
            say(
                "{total_gy} Gy in {fractions} fractions with alpha/beta {alpha_beta_gy} Gy has no BED",
                total_gy=total_gy,
                fractions=fractions,
                alpha_beta_gy=alpha_beta_gy,
            )
        )
