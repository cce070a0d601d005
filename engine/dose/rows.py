"""Compiled rows of what a beam releases, as many numbers at once as the machine takes."""

from __future__ import annotations

import numpy as np
from numba import njit

from engine.base.apart import fetch, put

# Air holds next to nothing, and what little is released there must not be divided by it.
_EMPTY_G_CM3 = np.float32(1e-4)


@njit(cache=True, nogil=True, error_model="numpy")
def energy_row(table, width, per_step, density, passed, hard, lean, opened, energy):  # type: ignore[no-untyped-def]
    """Fill a row of released energy, by density, by depth passed (with what hardens) and by tangent."""
    wide, one = np.uint64(width), np.uint64(1)
    deepest = np.float32(table.size // width - 1.01)
    for c in range(np.uint32(energy.size)):
        u = min((fetch(passed, c) + fetch(hard, c)) * per_step, deepest)
        v = fetch(lean, c)
        iu, iv = np.int32(u), np.int32(v)
        fu, fv = u - np.float32(iu), v - np.float32(iv)
        at = np.uint64(iu) * wide + np.uint64(iv)
        next_ = at + wide
        r0 = fetch(table, at) + (fetch(table, next_) - fetch(table, at)) * fu
        r1 = fetch(table, at + one) + (fetch(table, next_ + one) - fetch(table, at + one)) * fu
        put(energy, c, fetch(opened, c) * (r0 + (r1 - r0) * fv) * fetch(density, c))


@njit(cache=True, nogil=True, error_model="numpy")
def soft_row(curve, per_step, depth, strength, out):  # type: ignore[no-untyped-def]
    """Fill a row of contaminant dose: `strength` (n,) times the curve, linear between its values, at depths (n,)."""
    last = np.float32(curve.size - 1.01)
    for c in range(np.uint32(out.size)):
        u = min(fetch(depth, c) * per_step, last)
        iu = np.int32(u)
        at = np.uint64(iu)
        low, high = fetch(curve, at), fetch(curve, at + np.uint64(1))
        put(out, c, fetch(strength, c) * (low + (high - low) * (u - np.float32(iu))))


@njit(cache=True, nogil=True, error_model="numpy")
def settle(energy, rho, gain, beside, soft, strength):  # type: ignore[no-untyped-def]
    """Turn energy per cell, (planes, rows, columns), into dose in place: per density, times `gain` (planes,).

    beside : what is dose per `gain` already, to be added; soft : what is, times `strength`; each empty or like `energy`
    """
    for k in range(energy.shape[0]):
        times = gain[k]
        for j in range(energy.shape[1]):
            row, density = energy[k, j], rho[k, j]
            for i in range(row.size):
                row[i] = row[i] / max(density[i], _EMPTY_G_CM3) * times
            if beside.size:
                for i in range(row.size):
                    row[i] += beside[k, j, i] * times
            if soft.size:
                for i in range(row.size):
                    row[i] += soft[k, j, i] * strength
