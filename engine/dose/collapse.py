"""Transport of released energy along the lattice lines of each cone, with the density on the way.

For a cone direction the lattice axis it leans to most is stepped plane by plane; sideways the line follows by whole
cells (rounded). Lines of one direction are shifted copies of each other, so every cell lies on exactly one, every
step has the same length and the energy of a step is either deposited or passed on: nothing is lost but what leaves
the grid. Along a cone the energy is a sum of two exponentials in density times length; one of the two may be negative,
which lets deposition set in slowly; their sum never is.

Method after A. Ahnesjö, Med. Phys. 16 (1989) 577 [memory].
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.dose.threads import workers

Volume = NDArray[np.float32]
Floats = NDArray[np.float64]

# Arrays of one axis, and how a transposed result goes back.
_ORDER = {0: (0, 1, 2), 1: (1, 0, 2), 2: (2, 0, 1)}
_BACK = {0: (0, 1, 2), 1: (1, 0, 2), 2: (1, 2, 0)}
# One piece of work: few enough cones that their states stay in the cache beside the planes, and far below 100 ms.
_PIECE_CELLS = 2.0e7
_STATE_BYTES = 600_000
_HANDS = 4
_LARGE_CELLS = 8_000_000
# Where the expansions of short and of long steps end; beyond, a cell takes all but 1 % (long) or counts as thinner.
_LONG, _SHORT = 8.0, 2.0
# Cells of a plane whose exponentials stay in the nearest cache while the cones of a team pass; most cones of a team.
_CHUNK, _TEAM = 2048, 12
_GOLDEN = 0.6180339887


@dataclass(frozen=True)
class Cones:
    """Directions on a lattice and what travels along them.

    Parameters
    ----------
    directions : (cones, 3) unit vectors in (plane, row, column) axes of the lattice, the way energy travels
    weights : (cones, 3) share of the energy per cone, and its change with the tangents p and q of the ray
    shares, attenuation_cm2_g : (cones, 2) the two exponentials; shares sum to 1, one may be negative
    long_steps : whether cells are thick against 1 / attenuation (primary energy), or thin (scatter)
    """

    directions: Floats
    weights: Floats
    shares: Floats
    attenuation_cm2_g: Floats
    long_steps: bool


@njit(cache=True, nogil=True, error_model="numpy")
def _tangents(forms, k, nj, ni, p, q):  # type: ignore[no-untyped-def]
    for j in range(nj):
        p0 = np.float32(forms[0, 0] + forms[0, 1] * k + forms[0, 2] * j)
        q0 = np.float32(forms[1, 0] + forms[1, 1] * k + forms[1, 2] * j)
        t0 = np.float32(forms[2, 0] + forms[2, 1] * k + forms[2, 2] * j)
        dp, dq, dt = np.float32(forms[0, 3]), np.float32(forms[1, 3]), np.float32(forms[2, 3])
        row_p, row_q = p[j * ni : (j + 1) * ni], q[j * ni : (j + 1) * ni]
        for i in range(ni):
            f = np.float32(i)
            over = np.float32(1.0) / (t0 + dt * f)
            row_p[i] = (p0 + dp * f) * over
            row_q[i] = (q0 + dq * f) * over


@njit(cache=True, nogil=True, error_model="numpy")
def _factors_long(rho, step, kept, own):  # type: ignore[no-untyped-def]
    """What a cell lets go of energy that comes in (kept here) and of its own; F = (1 - exp(-x)) / x, x = 8 step rho.

    F by a cubic at x/8 and three doublings; x is clipped at 8.
    """
    one, half, eight = np.float32(1.0), np.float32(0.5), np.float32(_LONG)
    c2, c3 = np.float32(1.0 / 6.0), np.float32(1.0 / 24.0)
    for i in range(rho.size):
        y = min(step * rho[i], one)
        f = one - y * (half - y * (c2 - y * c3))
        e = one - y * f
        f = f * (half + half * e)
        e = e * e
        f = f * (half + half * e)
        e = e * e
        f = f * (half + half * e)
        kept[i] = eight * y * f
        own[i] = one - f


@njit(cache=True, nogil=True, error_model="numpy")
def _factors_short(rho, step, kept, own):  # type: ignore[no-untyped-def]
    """The same by a quartic of exp; x is clipped at 2."""
    one, half, most = np.float32(1.0), np.float32(0.5), np.float32(_SHORT)
    c2, c3, c4 = np.float32(1.0 / 6.0), np.float32(1.0 / 24.0), np.float32(1.0 / 120.0)
    for i in range(rho.size):
        x = min(step * rho[i], most)
        f = one - x * (half - x * (c2 - x * (c3 - x * c4)))
        kept[i] = x * f
        own[i] = one - f


@njit(cache=True, nogil=True, error_model="numpy")
def _pass_two(factors, source, share_a, share_b, a1, b1, a2, b2, deposit):  # type: ignore[no-untyped-def]
    """Carry the two exponentials of two cones of equal steps and weights through a piece of a plane."""
    for i in range(deposit.size):
        sa, sb = share_a * source[i], share_b * source[i]
        own_a, own_b = sa * factors[_CHUNK + i], sb * factors[3 * _CHUNK + i]
        one_a = a1[i] * factors[i] + own_a
        one_b = b1[i] * factors[2 * _CHUNK + i] + own_b
        two_a = a2[i] * factors[i] + own_a
        two_b = b2[i] * factors[2 * _CHUNK + i] + own_b
        a1[i] += sa - one_a
        b1[i] += sb - one_b
        a2[i] += sa - two_a
        b2[i] += sb - two_b
        deposit[i] += (one_a + one_b) + (two_a + two_b)


@njit(cache=True, nogil=True, error_model="numpy")
def _pass_one(factors, source, share_a, share_b, a, b, deposit):  # type: ignore[no-untyped-def]
    for i in range(deposit.size):
        sa, sb = share_a * source[i], share_b * source[i]
        one_a = a[i] * factors[i] + sa * factors[_CHUNK + i]
        one_b = b[i] * factors[2 * _CHUNK + i] + sb * factors[3 * _CHUNK + i]
        a[i] += sa - one_a
        b[i] += sb - one_b
        deposit[i] += one_a + one_b


@njit(cache=True, nogil=True, error_model="numpy")
def _pass_tilted(factors, source, p, q, weight, share_a, share_b, a, b, deposit):  # type: ignore[no-untyped-def]
    w0, wp, wq = weight[0], weight[1], weight[2]
    for i in range(deposit.size):
        s = source[i] * (w0 + wp * p[i] + wq * q[i])
        sa, sb = share_a * s, share_b * s
        one_a = a[i] * factors[i] + sa * factors[_CHUNK + i]
        one_b = b[i] * factors[2 * _CHUNK + i] + sb * factors[3 * _CHUNK + i]
        a[i] += sa - one_a
        b[i] += sb - one_b
        deposit[i] += one_a + one_b


@njit(cache=True, nogil=True, error_model="numpy")
def _pass_two_tilted(factors, source, p, q, w1, w2, share_a, share_b, a1, b1, a2, b2, deposit):  # type: ignore[no-untyped-def]
    one_0, one_p, one_q, two_0, two_p, two_q = w1[0], w1[1], w1[2], w2[0], w2[1], w2[2]
    for i in range(deposit.size):
        s1, s2 = source[i] * (one_0 + one_p * p[i] + one_q * q[i]), source[i] * (two_0 + two_p * p[i] + two_q * q[i])
        sa1, sb1, sa2, sb2 = share_a * s1, share_b * s1, share_a * s2, share_b * s2
        one_a = a1[i] * factors[i] + sa1 * factors[_CHUNK + i]
        one_b = b1[i] * factors[2 * _CHUNK + i] + sb1 * factors[3 * _CHUNK + i]
        two_a = a2[i] * factors[i] + sa2 * factors[_CHUNK + i]
        two_b = b2[i] * factors[2 * _CHUNK + i] + sb2 * factors[3 * _CHUNK + i]
        a1[i] += sa1 - one_a
        b1[i] += sb1 - one_b
        a2[i] += sa2 - two_a
        b2[i] += sb2 - two_b
        deposit[i] += (one_a + one_b) + (two_a + two_b)


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
def _sweep(  # type: ignore[no-untyped-def]
    rho, source, deposit, shape, upward, long, cones, ends, moves, weights, shares, steps, forms, state
):
    """Carry the energy of some cones through all planes.

    rho, source, flat like `deposit`, of `shape` (k, j, i); cones: which ones, rows of moves (cones, nk, 2), whole-cell
    moves (j, i) on entering each plane, weights (cones, 3) w0, wp, wq, shares (cones, 2) and steps, attenuation times
    length (over 8 for long steps); ends: where in `cones` each team of equal shares and steps ends (their exponentials
    are worked out once); forms (3, 4) give p, q, t of a cell, or are empty where weights do not change and are those of
    the team; state: room for the lines of each of these cones
    """
    nk, nj, ni = shape
    plane = nj * ni
    tilted = forms.size > 0
    leaning = plane if tilted else 0
    p, q = np.empty(leaning, np.float32), np.empty(leaning, np.float32)
    factors = np.empty(4 * _CHUNK, np.float32)
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
            for lo in range(0, plane, _CHUNK):
                size = min(_CHUNK, plane - lo)
                at = k * plane + lo
                inside, energy, out = rho[at : at + size], source[at : at + size], deposit[at : at + size]
                for m in range(2):
                    kept, own = factors[2 * m * _CHUNK :][:size], factors[(2 * m + 1) * _CHUNK :][:size]
                    if long:
                        _factors_long(inside, steps[c, m], kept, own)
                    else:
                        _factors_short(inside, steps[c, m], kept, own)
                share_a, share_b = shares[c, 0], shares[c, 1]
                if not tilted:
                    share_a, share_b = weights[c, 0] * share_a, weights[c, 0] * share_b
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


def _moves(directions: Floats, spacing: Floats, nk: int) -> NDArray[np.int64]:
    """Return (cones, nk, 2): moves (j, i) on entering each plane; the first is none. All as (k, j, i).

    Lines of different slopes start their steps at different phases (multiples of the golden section), so that the steps
    of several cones do not fall together on one depth; lines that mirror each other stay mirror images.
    """
    slope = (directions[:, 1:] / spacing[1:]) / np.abs(directions[:, :1] / spacing[0])
    steep = np.round(np.abs(slope), 6)
    phase = np.where(steep > 0, (steep * 1e3 * _GOLDEN) % 1.0 - 0.5, 0.0) * np.sign(slope)
    where = np.rint(np.arange(nk)[None, :, None] * slope[:, None, :] + phase[:, None, :]).astype(np.int64)
    return np.diff(where, axis=1, prepend=where[:, :1])


def transport(
    rho: Volume,
    source: Volume,
    spacing_cm: tuple[float, float, float],
    cones: Cones,
    forms: Floats | None = None,
    report: Report = quiet,
) -> Volume:
    """Return the energy deposited in each cell, in the unit of the released energy.

    Parameters
    ----------
    rho : density, g/cm3, (planes, rows, columns)
    source : energy released in each cell, any unit
    spacing_cm : (plane, row, column)
    forms : (3, 4) linear forms x, y, t of a cell (``Sight.forms``): rays lean to x / t and y / t. None: they do not, and
        the weights' changes do not count

    Notes
    -----
    Cones are dealt to a few hands, each with an array of its own, by the grid and the cones only, and the arrays are
    summed in fixed order: the result is the same to the last bit for any number of threads.
    """
    spacing = np.asarray(spacing_cm, dtype=np.float64)
    # Rounded, so that mirrored cones that lean to two axes alike take the same one.
    axis_of = np.argmax(np.round(np.abs(cones.directions / spacing), 9), axis=1)
    hands: list[tuple[_Lattice, Volume, list[list[Batch]]]] = []
    for axis in range(3):
        these = np.flatnonzero(axis_of == axis)
        if these.size:
            lattice = _Lattice(rho, source, spacing, axis, cones, these, forms)
            share = _HANDS if rho.size <= _LARGE_CELLS else 2
            for rounds in lattice.hands(max(1, round(share * these.size / len(axis_of)))):
                hands.append((lattice, np.zeros(rho.size, dtype=np.float32), rounds))
    done, everything = 0, len(cones.directions)
    for n in range(max((len(rounds) for _, _, rounds in hands), default=0)):
        now = [(lattice, deposit, rounds[n]) for lattice, deposit, rounds in hands if n < len(rounds)]
        for one in [workers().submit(lattice.run, deposit, batches) for lattice, deposit, batches in now]:
            one.result()
        done += sum(len(team) for _, _, batches in now for _, teams in batches for team in teams)
        report(done / everything, say("Transport"))
    total = np.zeros(rho.shape, dtype=np.float32)
    for lattice, deposit, _ in hands:
        total += lattice.back(deposit)
    return total


Team = NDArray[np.intp]
Batch = tuple[bool, list[Team]]


class _Lattice:
    """The grid turned so that one axis is stepped, and the cones that step along it."""

    def __init__(
        self,
        rho: Volume,
        source: Volume,
        spacing: Floats,
        axis: int,
        cones: Cones,
        these: NDArray[np.intp],
        forms: Floats | None,
    ) -> None:
        order = list(_ORDER[axis])
        turned = np.ascontiguousarray(rho.transpose(order))
        self.shape = turned.shape
        self._fields = turned.reshape(-1), np.ascontiguousarray(source.transpose(order)).reshape(-1)
        self._forms = np.empty((0, 4)) if forms is None else np.ascontiguousarray(forms[:, [0, *(1 + a for a in order)]])
        self._long = cones.long_steps
        self._along = cones.directions[these, axis] > 0
        self._moves = _moves(cones.directions[these][:, order], spacing[order], self.shape[0])
        length = spacing[axis] / np.abs(cones.directions[these, axis])
        steps = cones.attenuation_cm2_g[these] * length[:, None] / (_LONG if self._long else 1.0)
        self._back = _BACK[axis]
        self._strength = tuple(a.astype(np.float32) for a in (cones.weights[these], cones.shares[these], steps))
        plane = self.shape[1] * self.shape[2]
        self._together = int(np.clip(_STATE_BYTES / (8 * plane), 1, 16))
        self._room = plane + 2 * self.shape[0] * (self.shape[2] + 1)

    def hands(self, count: int) -> list[list[list[Batch]]]:
        """Return what each of some hands does, as rounds of batches; all cones of a batch run the same way."""
        dealt: list[list[Batch]] = [[] for _ in range(count)]
        for upward in (True, False):
            teams = self._teams(upward)
            for n, hand in enumerate(dealt):
                batch: list[Team] = []
                for team in teams[n::count]:
                    if sum(map(len, batch)) + len(team) > self._together:
                        hand.append((upward, batch))
                        batch = []
                    batch.append(team)
                if batch:
                    hand.append((upward, batch))
        most = max(1, int(_PIECE_CELLS / np.prod(self.shape)) // self._together)
        return [[hand[n : n + most] for n in range(0, len(hand), most)] for hand in dealt if hand]

    def back(self, deposit: Volume) -> Volume:
        """Return a deposit with its axes as they were given."""
        return deposit.reshape(self.shape).transpose(self._back)

    def _teams(self, upward: bool) -> list[Team]:
        """Return teams of cones that run one way with equal steps, the largest first; mirror images are such."""
        these = np.flatnonzero(self._along == upward)
        weights, shares, steps = (a[these] for a in self._strength)
        alike = np.concatenate([shares, steps] if self._forms.size else [shares, steps, weights[:, :1]], axis=1)
        # Mirror images differ by rounding.
        rounded = np.round(alike / np.abs(alike).max(axis=0, initial=1e-30), 6)
        kinds: dict[tuple[float, ...], list[int]] = {}
        for one, kind in zip(these.tolist(), map(tuple, rounded.tolist()), strict=True):
            kinds.setdefault(kind, []).append(one)
        most = min(_TEAM, self._together)
        teams: list[Team] = []
        for _, some in sorted(kinds.items()):
            # As even as can be, the larger first.
            count = -(-len(some) // most)
            size, more = divmod(len(some), count)
            ends = [n * size + min(n, more) for n in range(count + 1)]
            teams += [np.array(some[a:b], dtype=np.intp) for a, b in pairwise(ends)]
        return sorted(teams, key=lambda team: (-len(team), team[0]))

    def run(self, deposit: Volume, batches: list[Batch]) -> None:
        """Carry some batches of cones into a deposit."""
        sweep: Any = _sweep
        state = np.empty((self._together, 2, self._room), np.float32)
        for upward, teams in batches:
            some, ends = np.concatenate(teams), np.cumsum([len(team) for team in teams])
            sweep(
                *(*self._fields, deposit, self.shape, upward, self._long, some, ends, self._moves),
                *(*self._strength, self._forms, state),
            )
