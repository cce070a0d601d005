"""Reading the dose where it is asked for, out of the beam's fan and the coarse grid."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.dose.fan import Fan
from engine.dose.sight import Sight
from engine.dose.threads import share_out
from engine.space.grid import Grid

Volume = NDArray[np.float32]

_PIECE_VOXELS = 1.0e6


@njit(cache=True, nogil=True, error_model="numpy")
def _positive(a, b, n):  # type: ignore[no-untyped-def]
    """Return the first and the past-the-last index i in 0..n for which a + b i >= 0, generously by one."""
    if b == 0.0:
        return (0, n) if a >= 0 else (0, 0)
    root = min(max(-a / b, -1.0), n + 1.0)
    if b > 0:
        return max(0, int(np.floor(root))), n
    return 0, min(n, int(np.ceil(root)) + 1)


@njit(cache=True, nogil=True, error_model="numpy")
def _coarse_row(coarse, kk, jj, fz, fy, line):  # type: ignore[no-untyped-def]
    for a in range(line.size):
        low = coarse[kk, jj, a] + (coarse[kk, jj + 1, a] - coarse[kk, jj, a]) * fy
        high = coarse[kk + 1, jj, a] + (coarse[kk + 1, jj + 1, a] - coarse[kk + 1, jj, a]) * fy
        line[a] = low + (high - low) * fz


@njit(cache=True, nogil=True, error_model="numpy")
def _passed(a, b, f):  # type: ignore[no-untyped-def]
    """Return which share of the matter between two middles of cells lies before the share f of the way.

    Dose between two cells goes with the matter passed. Counted by the way alone, the dose of a cell that is half
    outside the body would move out of it by half a cell, where dose builds up steepest.
    """
    one, two = np.float32(1.0), np.float32(2.0)
    a, b = a + np.float32(1e-3), b + np.float32(1e-3)
    before = a * min(two * f, one) + b * max(two * f - one, np.float32(0.0))
    return before / (a + b)


@njit(cache=True, nogil=True, error_model="numpy")
def _gather(coarse, start, step, fan, rho, first, eta, logs, forms, factor, planes, out):  # type: ignore[no-untyped-def]
    """Fill planes of `out`: trilinear in the coarse grid plus trilinear in the fan, times the factor."""
    ck, cj, ci = coarse.shape
    nt, nq, np_ = fan.shape
    nj, ni = out.shape[1], out.shape[2]
    low, share = np.empty(ni, np.int64), np.empty(ni, np.float32)
    covered, line = np.empty(ni, np.float32), np.empty(ci, np.float32)
    for i in range(ni):
        x = start[2] + step[2] * i
        covered[i] = 1.0 if -0.5 <= x <= ci - 0.5 else 0.0
        x = min(max(x, 0.0), ci - 1.0)
        low[i] = min(int(x), ci - 2)
        share[i] = x - low[i]
    p1, p2 = first[0] - 0.5 * eta, first[0] + (np_ - 0.5) * eta
    q1, q2 = first[1] - 0.5 * eta, first[1] + (nq - 0.5) * eta
    t1, t2 = first[2] * np.exp(-0.5 * eta), first[2] * np.exp((nt - 0.5) * eta)
    over_eta, over_log = 1.0 / eta, 1.0 / logs[0]
    for k in range(planes[0], planes[1]):
        z = start[0] + step[0] * k
        ok = -0.5 <= z <= ck - 0.5
        z = min(max(z, 0.0), ck - 1.0)
        kk = min(int(z), ck - 2)
        for j in range(nj):
            y = start[1] + step[1] * j
            row = out[k, j]
            if not ok or not -0.5 <= y <= cj - 0.5:
                row[:] = 0.0
                continue
            y = min(max(y, 0.0), cj - 1.0)
            jj = min(int(y), cj - 2)
            _coarse_row(coarse, kk, jj, np.float32(z - kk), np.float32(y - jj), line)
            for i in range(ni):
                a = low[i]
                row[i] = covered[i] * (line[a] + (line[a + 1] - line[a]) * share[i])
            b0 = forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j
            b1 = forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j
            b2 = forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j
            d0, d1, d2 = forms[0, 3], forms[1, 3], forms[2, 3]
            # Where this row crosses the fan: each bound is linear in i.
            begin, end = (0, ni) if nt > 0 else (0, 0)
            for base, slope in (
                (b0 - p1 * b2, d0 - p1 * d2),
                (p2 * b2 - b0, p2 * d2 - d0),
                (b1 - q1 * b2, d1 - q1 * d2),
                (q2 * b2 - b1, q2 * d2 - d1),
                (b2 - t1, d2),
                (t2 - b2, -d2),
            ):
                a, b = _positive(base, slope, ni)
                begin, end = max(begin, a), min(end, b)
            for i in range(begin, end):
                t = b2 + d2 * i
                over = 1.0 / t
                u = ((b0 + d0 * i) * over - first[0]) * over_eta
                v = ((b1 + d1 * i) * over - first[1]) * over_eta
                w = (t - logs[1]) * over_log
                if u < -0.5 or v < -0.5 or u > np_ - 0.5 or v > nq - 0.5 or w < 0.0 or covered[i] == 0.0:
                    continue
                iw = min(int(w), logs.size - 4)
                w = logs[2 + iw] + (logs[3 + iw] - logs[2 + iw]) * (w - iw)
                if w < -0.5 or w > nt - 0.5:
                    continue
                u, v, w = min(max(u, 0.0), np_ - 1.001), min(max(v, 0.0), nq - 1.001), min(max(w, 0.0), nt - 1.001)
                iu, iv, iw = int(u), int(v), int(w)
                fu, fv, fw = np.float32(u - iu), np.float32(v - iv), np.float32(w - iw)
                d00, d10 = fan[iw, iv, iu], fan[iw + 1, iv, iu]
                d01, d11 = fan[iw, iv, iu + 1], fan[iw + 1, iv, iu + 1]
                d02, d12 = fan[iw, iv + 1, iu], fan[iw + 1, iv + 1, iu]
                d03, d13 = fan[iw, iv + 1, iu + 1], fan[iw + 1, iv + 1, iu + 1]
                f0, f1, f2, f3 = fw, fw, fw, fw
                # Borders between densities are rare; two opposite corners show them.
                one, two = rho[iw, iv, iu] - rho[iw + 1, iv, iu], rho[iw, iv + 1, iu + 1] - rho[iw + 1, iv + 1, iu + 1]
                if abs(one) + abs(two) > 0.1:
                    f0 = _passed(rho[iw, iv, iu], rho[iw + 1, iv, iu], fw)
                    f1 = _passed(rho[iw, iv, iu + 1], rho[iw + 1, iv, iu + 1], fw)
                    f2 = _passed(rho[iw, iv + 1, iu], rho[iw + 1, iv + 1, iu], fw)
                    f3 = _passed(rho[iw, iv + 1, iu + 1], rho[iw + 1, iv + 1, iu + 1], fw)
                d00, d01 = d00 + (d10 - d00) * f0, d01 + (d11 - d01) * f1
                d02, d03 = d02 + (d12 - d02) * f2, d03 + (d13 - d03) * f3
                d00, d02 = d00 + (d01 - d00) * fu, d02 + (d03 - d02) * fu
                row[i] += d00 + (d02 - d00) * fv
            for i in range(ni):
                row[i] *= factor[k, j, i]


def gather(
    wanted: Grid,
    coarse_dose: Volume,
    coarse: Grid,
    fan_dose: Volume,
    fan_rho: Volume,
    fan: Fan | None,
    sight: Sight,
    factor: Volume,
    report: Report = quiet,
) -> Volume:
    """Return the dose at the middle of every voxel of `wanted`; 0 outside the coarse grid.

    Parameters
    ----------
    coarse_dose, fan_dose : dose on the coarse grid and in the fan's cells, to be added
    fan_rho : density in the fan's cells
    factor : by voxel of `wanted`
    """
    out = np.empty(wanted.shape, np.float32)
    start = coarse.index(wanted.origin_mm)
    step = (np.asarray(wanted.spacing_mm) / coarse.spacing_mm)[::-1].copy()
    first, eta = (np.array(fan.first), fan.step_mm / sight.sad_mm) if fan else (np.ones(3), 1.0)
    forms = sight.forms(wanted)
    # Plane numbers against t, for reading without a logarithm; a step of a cell errs by less than 0.001 of one.
    count = 2 * (fan.shape[0] + 4) if fan else 2
    ends = first[2] * np.exp(np.array([-1.0, count / 2 - 3]) * eta)
    away = np.linspace(float(ends[0]), float(ends[1]), count)
    logs = np.concatenate([[away[1] - away[0], away[0]], np.log(away / first[2]) / eta])
    pieces = int(out.size / _PIECE_VOXELS)
    share_out(
        wanted.shape[0],
        pieces,
        lambda lo, hi: _gather(coarse_dose, start, step, fan_dose, fan_rho, first, eta, logs, forms, factor, (lo, hi), out),
        report,
        say("Dose"),
    )
    return out
