"""Reading the dose where it is asked for, out of the beam's fan and the coarse grid."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.apart import fetch, put
from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.dose.fan import Fan
from engine.dose.sight import Sight
from engine.dose.threads import share_out
from engine.space.grid import Grid
from engine.space.lines import trilinear

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


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _fan_row(fan, rho, shape, first, eta, logs, line, begin, places, contrast, out):  # type: ignore[no-untyped-def]
    """Fill a row with the fan's dose where it lies in the fan, else 0; keep where that is and how densities differ there.

    line: x, y, t of the row's voxels as offsets and slopes; begin: number of the first voxel that `out` holds
    """
    f, whole, zero, half, next_ = np.float32, np.int32, np.float32(0.0), np.float32(0.5), np.int32(1)
    plane, row = whole(shape[1] * shape[2]), whole(shape[2])
    far_u, far_v, far_w = f(shape[2] - 0.5), f(shape[1] - 0.5), f(shape[0] - 0.5)
    last_u, last_v, last_w = f(shape[2] - 1.001), f(shape[1] - 1.001), f(shape[0] - 1.001)
    p0, q0, per = f(first[0]), f(first[1]), f(1.0 / eta)
    t0, per_t, last_log = f(logs[1]), f(1.0 / logs[0]), f(logs.size - 3.01)
    b0, b1, b2, d0, d1, d2 = line
    us, vs, ws = places
    for n in range(np.uint32(out.size)):
        i = f(np.int32(n)) + begin
        t = b2 + d2 * i
        over = f(1.0) / t
        u, v = ((b0 + d0 * i) * over - p0) * per, ((b1 + d1 * i) * over - q0) * per
        w = min(max((t - t0) * per_t, zero), last_log)
        iw = whole(w)
        below = fetch(logs, whole(iw + 2))
        w = below + (fetch(logs, whole(iw + 3)) - below) * (w - f(iw))
        inside = (u >= -half) & (u <= far_u) & (v >= -half) & (v <= far_v) & (w >= -half) & (w <= far_w)
        u, v, w = min(max(u, zero), last_u), min(max(v, zero), last_v), min(max(w, zero), last_w)
        put(us, n, u)
        put(vs, n, v)
        put(ws, n, w)
        iu, iv, iw = whole(u), whole(v), whole(w)
        fu, fv, fw = u - f(iu), v - f(iv), w - f(iw)
        at = whole(whole(iw * plane) + whole(whole(iv * row) + iu))
        across = whole(whole(at + row) + next_)
        value = trilinear(fan, at, row, next_, plane, fv, fu, fw)
        put(out, n, value if inside else zero)
        # Two opposite corners show a border between densities.
        one = abs(fetch(rho, at) - fetch(rho, whole(at + plane)))
        two = abs(fetch(rho, across) - fetch(rho, whole(across + plane)))
        put(contrast, n, one + two if inside else zero)


@njit(cache=True, nogil=True, error_model="numpy")
def _at_borders(fan, rho, shape, places, contrast, numbers, exact, out):  # type: ignore[no-untyped-def]
    """Read the fan again where densities differ along the beam, by the matter passed: see ``_passed``.

    numbers, exact: room for which voxels these are, and for their dose
    """
    f, whole, next_ = np.float32, np.int32, np.int32(1)
    plane, row = whole(shape[1] * shape[2]), whole(shape[2])
    us, vs, ws = places
    # First which, so that all of them are read many at once.
    count = 0
    for n in range(out.size):
        numbers[count] = n
        count += contrast[n] > f(0.1)
    for m in range(np.uint32(count)):
        n = fetch(numbers, m)
        u, v, w = fetch(us, n), fetch(vs, n), fetch(ws, n)
        iu, iv, iw = whole(u), whole(v), whole(w)
        fu, fv, fw = u - f(iu), v - f(iv), w - f(iw)
        at = whole(whole(iw * plane) + whole(whole(iv * row) + iu))
        below = whole(at + row)
        a, b = _along(fan, rho, at, plane, fw), _along(fan, rho, whole(at + next_), plane, fw)
        c, d = _along(fan, rho, below, plane, fw), _along(fan, rho, whole(below + next_), plane, fw)
        a, c = a + (b - a) * fu, c + (d - c) * fu
        put(exact, m, a + (c - a) * fv)
    for m in range(count):
        out[numbers[m]] = exact[m]


@njit(cache=True, nogil=True, error_model="numpy")
def _along(fan, rho, at, plane, share):  # type: ignore[no-untyped-def]
    """Return the dose between a cell and the next along the beam."""
    next_ = np.int32(at + plane)
    value = fetch(fan, at)
    return value + (fetch(fan, next_) - value) * _passed(fetch(rho, at), fetch(rho, next_), share)


@njit(cache=True, nogil=True, error_model="numpy")
def _gather(coarse, start, step, fan, rho, first, eta, logs, forms, factor, planes, out):  # type: ignore[no-untyped-def]
    """Fill planes of `out`: trilinear in the coarse grid plus trilinear in the fan, times the factor."""
    f = np.float32
    ck, cj, ci = coarse.shape
    nt, nq, np_ = fan.shape
    nj, ni = out.shape[1], out.shape[2]
    low, share = np.empty(ni, np.uint64), np.empty(ni, f)
    covered, line = np.empty(ni, f), np.empty(ci, f)
    us, vs, ws, contrast, near = np.empty(ni, f), np.empty(ni, f), np.empty(ni, f), np.empty(ni, f), np.empty(ni, f)
    numbers, exact = np.empty(ni + 1, np.int32), np.empty(ni, f)
    flat_fan, flat_rho, short_logs = fan.reshape(-1), rho.reshape(-1), logs.astype(f)
    for i in range(ni):
        x = start[2] + step[2] * i
        covered[i] = 1.0 if -0.5 <= x <= ci - 0.5 else 0.0
        x = min(max(x, 0.0), ci - 1.0)
        low[i] = min(int(x), ci - 2)
        share[i] = x - low[i]
    p1, p2 = first[0] - 0.5 * eta, first[0] + (np_ - 0.5) * eta
    q1, q2 = first[1] - 0.5 * eta, first[1] + (nq - 0.5) * eta
    t1, t2 = first[2] * np.exp(-0.5 * eta), first[2] * np.exp((nt - 0.5) * eta)
    d0, d1, d2 = forms[0, 3], forms[1, 3], forms[2, 3]
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
            _coarse_row(coarse, kk, jj, f(z - kk), f(y - jj), line)
            for i in range(np.uint32(ni)):
                at = fetch(low, i)
                value = fetch(line, at) + (fetch(line, at + np.uint64(1)) - fetch(line, at)) * fetch(share, i)
                put(row, i, fetch(covered, i) * fetch(factor, np.uint64((k * nj + j) * ni) + np.uint64(i)) * value)
            b0 = forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j
            b1 = forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j
            b2 = forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j
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
            if end <= begin:
                continue
            many = end - begin
            places, borders, here = (us[:many], vs[:many], ws[:many]), contrast[:many], near[:many]
            ray = f(b0), f(b1), f(b2), f(d0), f(d1), f(d2)
            _fan_row(flat_fan, flat_rho, fan.shape, first, eta, short_logs, ray, f(begin), places, borders, here)
            _at_borders(flat_fan, flat_rho, fan.shape, places, borders, numbers, exact, here)
            for n in range(many):
                i = begin + n
                row[i] += covered[i] * here[n] * factor[(k * nj + j) * ni + i]


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
    pieces, flat = int(out.size / _PIECE_VOXELS), factor.reshape(-1)
    share_out(
        wanted.shape[0],
        pieces,
        lambda lo, hi: _gather(coarse_dose, start, step, fan_dose, fan_rho, first, eta, logs, forms, flat, (lo, hi), out),
        report,
        say("Dose"),
    )
    return out
