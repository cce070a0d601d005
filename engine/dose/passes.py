"""Compiled passes of ``collapse``: cones carried through a lattice plane by plane, many cells at once.

Products that are added at once are rounded once where the machine can (fused multiply-add).
"""

from __future__ import annotations

import numpy as np
from numba import njit

from engine.base.small_numbers import as_before, let_vanish

# Where the expansions of short and of long steps end; beyond, a cell takes all but 1 % (long) or counts as thinner.
LONG, SHORT = 8.0, 2.0
# Cells of a plane whose exponentials stay in the nearest cache while the cones of a team pass.
CHUNK = 2048


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _tangents(forms, k, nj, ni, p, q):  # type: ignore[no-untyped-def]
    for j in range(nj):
        p0 = np.float32(forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j)
        q0 = np.float32(forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j)
        t0 = np.float32(forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j)
        dp, dq, dt = np.float32(forms[0, 3]), np.float32(forms[1, 3]), np.float32(forms[2, 3])
        row_p, row_q = p[j * ni : (j + 1) * ni], q[j * ni : (j + 1) * ni]
        for i in range(np.uint32(ni)):
            f = np.float32(np.int32(i))
            over = np.float32(1.0) / (t0 + dt * f)
            row_p[i] = (p0 + dp * f) * over
            row_q[i] = (q0 + dq * f) * over


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _let_go_long(step, rho):  # type: ignore[no-untyped-def]
    """Return what a cell lets go of energy that comes in, and of its own, with F = (1 - exp(-x)) / x, x = 8 step rho.

    F by a cubic at x/8 and three doublings; x is clipped at 8.
    """
    one, half, eight = np.float32(1.0), np.float32(0.5), np.float32(LONG)
    c2, c3 = np.float32(1.0 / 6.0), np.float32(1.0 / 24.0)
    y = min(step * rho, one)
    f = one - y * (half - y * (c2 - y * c3))
    e = one - y * f
    f = f * (half + half * e)
    e = e * e
    f = f * (half + half * e)
    e = e * e
    f = f * (half + half * e)
    return eight * y * f, one - f


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _let_go_short(step, rho):  # type: ignore[no-untyped-def]
    """The same by a quartic of exp; x = step rho is clipped at 2."""
    one, half, most = np.float32(1.0), np.float32(0.5), np.float32(SHORT)
    c2, c3, c4 = np.float32(1.0 / 6.0), np.float32(1.0 / 24.0), np.float32(1.0 / 120.0)
    x = min(step * rho, most)
    f = one - x * (half - x * (c2 - x * (c3 - x * c4)))
    return x * f, one - f


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _factors_long(rho, step, kept, own):  # type: ignore[no-untyped-def]
    for i in range(rho.size):
        kept[i], own[i] = _let_go_long(step, rho[i])


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _factors_short(rho, step, kept, own):  # type: ignore[no-untyped-def]
    for i in range(rho.size):
        kept[i], own[i] = _let_go_short(step, rho[i])


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _pass_two(factors, source, share_a, share_b, a1, b1, a2, b2, deposit):  # type: ignore[no-untyped-def]
    """Carry the two exponentials of two cones of equal steps and weights through a piece of a plane."""
    for i in range(deposit.size):
        sa, sb = share_a * source[i], share_b * source[i]
        own_a, own_b = sa * factors[CHUNK + i], sb * factors[3 * CHUNK + i]
        one_a = a1[i] * factors[i] + own_a
        one_b = b1[i] * factors[2 * CHUNK + i] + own_b
        two_a = a2[i] * factors[i] + own_a
        two_b = b2[i] * factors[2 * CHUNK + i] + own_b
        a1[i] += sa - one_a
        b1[i] += sb - one_b
        a2[i] += sa - two_a
        b2[i] += sb - two_b
        deposit[i] += (one_a + one_b) + (two_a + two_b)


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _pass_one(factors, source, share_a, share_b, a, b, deposit):  # type: ignore[no-untyped-def]
    for i in range(deposit.size):
        sa, sb = share_a * source[i], share_b * source[i]
        one_a = a[i] * factors[i] + sa * factors[CHUNK + i]
        one_b = b[i] * factors[2 * CHUNK + i] + sb * factors[3 * CHUNK + i]
        a[i] += sa - one_a
        b[i] += sb - one_b
        deposit[i] += one_a + one_b


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _pass_tilted(factors, source, p, q, weight, share_a, share_b, a, b, deposit):  # type: ignore[no-untyped-def]
    w0, wp, wq = weight[0], weight[1], weight[2]
    for i in range(deposit.size):
        s = source[i] * (w0 + wp * p[i] + wq * q[i])
        sa, sb = share_a * s, share_b * s
        one_a = a[i] * factors[i] + sa * factors[CHUNK + i]
        one_b = b[i] * factors[2 * CHUNK + i] + sb * factors[3 * CHUNK + i]
        a[i] += sa - one_a
        b[i] += sb - one_b
        deposit[i] += one_a + one_b


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _pass_two_tilted(factors, source, p, q, w1, w2, share_a, share_b, a1, b1, a2, b2, deposit):  # type: ignore[no-untyped-def]
    one_0, one_p, one_q, two_0, two_p, two_q = w1[0], w1[1], w1[2], w2[0], w2[1], w2[2]
    for i in range(deposit.size):
        s1, s2 = source[i] * (one_0 + one_p * p[i] + one_q * q[i]), source[i] * (two_0 + two_p * p[i] + two_q * q[i])
        sa1, sb1, sa2, sb2 = share_a * s1, share_b * s1, share_a * s2, share_b * s2
        one_a = a1[i] * factors[i] + sa1 * factors[CHUNK + i]
        one_b = b1[i] * factors[2 * CHUNK + i] + sb1 * factors[3 * CHUNK + i]
        two_a = a2[i] * factors[i] + sa2 * factors[CHUNK + i]
        two_b = b2[i] * factors[2 * CHUNK + i] + sb2 * factors[3 * CHUNK + i]
        a1[i] += sa1 - one_a
        b1[i] += sb1 - one_b
        a2[i] += sa2 - two_a
        b2[i] += sb2 - two_b
        deposit[i] += (one_a + one_b) + (two_a + two_b)


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _pair_short_tilted(rho, source, p, q, w1, w2, shares, steps, a1, b1, a2, b2, deposit):  # type: ignore[no-untyped-def]
    """Carry a team of just two: what a cell lets go of is worked out on the way and needs no room."""
    one_0, one_p, one_q, two_0, two_p, two_q = w1[0], w1[1], w1[2], w2[0], w2[1], w2[2]
    share_a, share_b, step_a, step_b = shares[0], shares[1], steps[0], steps[1]
    for i in range(deposit.size):
        kept_a, own_a = _let_go_short(step_a, rho[i])
        kept_b, own_b = _let_go_short(step_b, rho[i])
        s1, s2 = source[i] * (one_0 + one_p * p[i] + one_q * q[i]), source[i] * (two_0 + two_p * p[i] + two_q * q[i])
        sa1, sb1, sa2, sb2 = share_a * s1, share_b * s1, share_a * s2, share_b * s2
        one_a = a1[i] * kept_a + sa1 * own_a
        one_b = b1[i] * kept_b + sb1 * own_b
        two_a = a2[i] * kept_a + sa2 * own_a
        two_b = b2[i] * kept_b + sb2 * own_b
        a1[i] += sa1 - one_a
        b1[i] += sb1 - one_b
        a2[i] += sa2 - two_a
        b2[i] += sb2 - two_b
        deposit[i] += (one_a + one_b) + (two_a + two_b)


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _pair_long(rho, source, share_a, share_b, steps, a1, b1, a2, b2, deposit):  # type: ignore[no-untyped-def]
    step_a, step_b = steps[0], steps[1]
    for i in range(deposit.size):
        kept_a, of_own_a = _let_go_long(step_a, rho[i])
        kept_b, of_own_b = _let_go_long(step_b, rho[i])
        sa, sb = share_a * source[i], share_b * source[i]
        own_a, own_b = sa * of_own_a, sb * of_own_b
        one_a = a1[i] * kept_a + own_a
        one_b = b1[i] * kept_b + own_b
        two_a = a2[i] * kept_a + own_a
        two_b = b2[i] * kept_b + own_b
        a1[i] += sa - one_a
        b1[i] += sb - one_b
        a2[i] += sa - two_a
        b2[i] += sb - two_b
        deposit[i] += (one_a + one_b) + (two_a + two_b)


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def _move(a, b, dj, di, nj, ni):  # type: ignore[no-untyped-def]
    """Let nothing enter through the sides a line leaves behind when it moves by whole cells."""
    if dj != 0:
        row = 0 if dj > 0 else (nj - 1) * ni
        for i in range(row, row + ni):
            a[i] = 0.0
            b[i] = 0.0
    if di != 0:
        column = 0 if di > 0 else ni - 1
        for j in range(nj):
            a[column + j * ni] = 0.0
            b[column + j * ni] = 0.0


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def sweep(  # type: ignore[no-untyped-def]
    rho, source, deposit, shape, upward, long, cones, ends, moves, weights, shares, steps, forms, state
):
    """Carry the energy of some cones through all planes.

    rho, source, flat like `deposit`, of `shape` (k, j, i); cones: which ones, rows of moves (cones, nk, 2), whole-cell
    moves (j, i) on entering each plane, weights (cones, 3) w0, wp, wq, shares (cones, 2) and steps, attenuation times
    length (over 8 for long steps); ends: where in `cones` each team of equal shares and steps ends (their exponentials
    are worked out once); forms (3, 4) give p, q, t of a cell, or are empty where weights do not change and are those of
    the team; state: room for the lines of each of these cones
    """
    arithmetic = let_vanish()
    nk, nj, ni = shape
    plane = nj * ni
    tilted = forms.size > 0
    leaning = plane if tilted else 0
    p, q = np.empty(leaning, np.float32), np.empty(leaning, np.float32)
    factors = np.empty(4 * CHUNK, np.float32)
    base = np.full(cones.size, nk * (ni + 1), np.int64)
    state[: cones.size, :, base[0] : base[0] + plane] = 0.0
    for n in range(nk):
        k = n if upward else nk - 1 - n
        if tilted:
            _tangents(forms, k, nj, ni, p, q)
        for s in range(cones.size):
            dj, di = moves[cones[s], n, 0], moves[cones[s], n, 1]
            base[s] -= dj * ni + di
            at = base[s]
            _move(state[s, 0, at : at + plane], state[s, 1, at : at + plane], dj, di, nj, ni)
        first = 0
        for end in ends:
            c = cones[first]
            share_a, share_b = shares[c, 0], shares[c, 1]
            if not tilted:
                share_a, share_b = weights[c, 0] * share_a, weights[c, 0] * share_b
            if end - first == 2 and long != tilted:
                at, one, two = k * plane, base[first], base[first + 1]
                inside, energy, out = rho[at : at + plane], source[at : at + plane], deposit[at : at + plane]
                lines_one = state[first, 0, one : one + plane], state[first, 1, one : one + plane]
                lines_two = state[first + 1, 0, two : two + plane], state[first + 1, 1, two : two + plane]
                if long:
                    _pair_long(inside, energy, share_a, share_b, steps[c], *lines_one, *lines_two, out)
                else:
                    lean_one, lean_two = weights[c], weights[cones[first + 1]]
                    lines = *lines_one, *lines_two
                    _pair_short_tilted(inside, energy, p, q, lean_one, lean_two, shares[c], steps[c], *lines, out)
                first = end
                continue
            for lo in range(0, plane, CHUNK):
                size = min(CHUNK, plane - lo)
                at = k * plane + lo
                inside, energy, out = rho[at : at + size], source[at : at + size], deposit[at : at + size]
                for m in range(2):
                    kept, own = factors[2 * m * CHUNK :][:size], factors[(2 * m + 1) * CHUNK :][:size]
                    if long:
                        _factors_long(inside, steps[c, m], kept, own)
                    else:
                        _factors_short(inside, steps[c, m], kept, own)
                s = first
                while s < end:
                    at = base[s] + lo
                    a1, b1 = state[s, 0, at : at + size], state[s, 1, at : at + size]
                    if s + 1 < end:
                        at = base[s + 1] + lo
                        a2, b2 = state[s + 1, 0, at : at + size], state[s + 1, 1, at : at + size]
                        if tilted:
                            w1, w2 = weights[cones[s]], weights[cones[s + 1]]
                            leans = p[lo : lo + size], q[lo : lo + size], w1, w2
                            _pass_two_tilted(factors, energy, *leans, share_a, share_b, a1, b1, a2, b2, out)
                        else:
                            _pass_two(factors, energy, share_a, share_b, a1, b1, a2, b2, out)
                    elif tilted:
                        leans_one = p[lo : lo + size], q[lo : lo + size], weights[cones[s]]
                        _pass_tilted(factors, energy, *leans_one, share_a, share_b, a1, b1, out)
                    else:
                        _pass_one(factors, energy, share_a, share_b, a1, b1, out)
                    s += 2
            first = end
    as_before(arithmetic)


@njit(cache=True, nogil=True, error_model="numpy", fastmath={"contract"})
def sweeps(  # type: ignore[no-untyped-def]
    rho, source, deposit, shape, batches, long, cones, ends, moves, weights, shares, steps, forms, state
):
    """Carry several batches, one after another; see ``sweep``.

    batches : (n, 3) of each whether it runs upward, how many `cones` and how many `ends` are its own
    """
    cone, team = 0, 0
    for upward, many, teams in batches:
        some, till = cones[cone : cone + many], ends[team : team + teams]
        sweep(rho, source, deposit, shape, upward == 1, long, some, till, moves, weights, shares, steps, forms, state)
        cone += many
        team += teams
