"""Transport of released energy along the lattice lines of each cone, with the density on the way.

For a cone direction the lattice axis it leans to most is stepped plane by plane; sideways the line follows by whole
cells (rounded). Lines of one direction are shifted copies of each other, so every cell lies on exactly one, every
step has the same length and the energy of a step is either deposited or passed on: nothing is lost but what leaves
the grid. Along a cone the energy is a sum of two exponentials in density times length; one of the two may be negative,
which lets deposition set in slowly; their sum never is.

Method after A. Ahnesjö, Med. Phys. 16 (1989) 577 [memory].
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import numpy as np
from numba import njit
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.dose.threads import thread_count

Volume = NDArray[np.float32]
Floats = NDArray[np.float64]

# Arrays of one axis, and how a transposed result goes back.
_ORDER = {0: (0, 1, 2), 1: (1, 0, 2), 2: (2, 0, 1)}
_BACK = {0: (0, 1, 2), 1: (1, 0, 2), 2: (1, 2, 0)}
# One piece of work: few enough cones that their states stay in the cache beside the planes, and far below 100 ms.
_PIECE_CELLS = 2.0e7
_STATE_BYTES = 400_000
_GROUPS = 4
_LARGE_CELLS = 8_000_000
# Where the expansions of short and of long steps end; beyond, a cell takes all but 1 % (long) or counts as thinner.
_LONG, _SHORT = 8.0, 2.0
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
def _tilted(s, p, q, weight, out):  # type: ignore[no-untyped-def]
    w0, wp, wq = weight[0], weight[1], weight[2]
    for i in range(out.size):
        out[i] = s[i] * (w0 + wp * p[i] + wq * q[i])


@njit(cache=True, nogil=True, error_model="numpy")
def _pass_long(rho, source, weight, shares, steps, state_a, state_b, deposit):  # type: ignore[no-untyped-def]
    """Step two exponentials: F = (1 - exp(-x)) / x by a cubic at x/8 and three doublings; x is clipped at 8."""
    one, half, eight = np.float32(1.0), np.float32(0.5), np.float32(8.0)
    c2, c3 = np.float32(1.0 / 6.0), np.float32(1.0 / 24.0)
    share_a, share_b, step_a, step_b = weight * shares[0], weight * shares[1], steps[0], steps[1]
    for i in range(deposit.size):
        y = min(step_a * rho[i], one)
        f = one - y * (half - y * (c2 - y * c3))
        e = one - y * f
        f = f * (half + half * e)
        e = e * e
        f = f * (half + half * e)
        e = e * e
        f = f * (half + half * e)
        s = share_a * source[i]
        a = state_a[i] * (eight * y * f) + s * (one - f)
        state_a[i] += s - a
        y = min(step_b * rho[i], one)
        f = one - y * (half - y * (c2 - y * c3))
        e = one - y * f
        f = f * (half + half * e)
        e = e * e
        f = f * (half + half * e)
        e = e * e
        f = f * (half + half * e)
        s = share_b * source[i]
        b = state_b[i] * (eight * y * f) + s * (one - f)
        state_b[i] += s - b
        deposit[i] += a + b


@njit(cache=True, nogil=True, error_model="numpy")
def _pass_short(rho, source, weight, shares, steps, state_a, state_b, deposit):  # type: ignore[no-untyped-def]
    """Step two exponentials by a quartic of exp; x is clipped at 2."""
    one, half, most = np.float32(1.0), np.float32(0.5), np.float32(_SHORT)
    c2, c3, c4 = np.float32(1.0 / 6.0), np.float32(1.0 / 24.0), np.float32(1.0 / 120.0)
    share_a, share_b, step_a, step_b = weight * shares[0], weight * shares[1], steps[0], steps[1]
    for i in range(deposit.size):
        x = min(step_a * rho[i], most)
        f = one - x * (half - x * (c2 - x * (c3 - x * c4)))
        s = share_a * source[i]
        a = state_a[i] * (x * f) + s * (one - f)
        state_a[i] += s - a
        x = min(step_b * rho[i], most)
        f = one - x * (half - x * (c2 - x * (c3 - x * c4)))
        s = share_b * source[i]
        b = state_b[i] * (x * f) + s * (one - f)
        state_b[i] += s - b
        deposit[i] += a + b


@njit(cache=True, nogil=True, error_model="numpy")
def _sweep(  # type: ignore[no-untyped-def]
    rho, source, deposit, shape, upward, long, cones, moves, weights, shares, steps, forms, state
):
    """Carry the energy of some cones through all planes.

    rho, source, flat like `deposit`, of `shape` (k, j, i); cones: which ones, rows of moves (cones, nk, 2), whole-cell
    moves (j, i) on entering each plane, weights (cones, 3) w0, wp, wq, shares (cones, 2) and steps, attenuation times
    length (over 8 for long steps); forms (3, 4) give p, q, t of a cell, or are empty where weights do not change;
    state: room for the lines of each of these cones
    """
    nk, nj, ni = shape
    plane = nj * ni
    tilted = forms.size > 0
    leaning = plane if tilted else 0
    p, q, part = np.empty(leaning, np.float32), np.empty(leaning, np.float32), np.empty(leaning, np.float32)
    base = np.full(cones.size, nk * (ni + 1), np.int64)
    state[: cones.size, :, base[0] : base[0] + plane] = 0.0
    for n in range(nk):
        k = n if upward else nk - 1 - n
        if tilted:
            _tangents(forms, k, nj, ni, p, q)
        lo, hi = k * plane, (k + 1) * plane
        inside, energy, out = rho[lo:hi], source[lo:hi], deposit[lo:hi]
        for s in range(cones.size):
            c = cones[s]
            dj, di = moves[c, n, 0], moves[c, n, 1]
            base[s] -= dj * ni + di
            b = base[s]
            one, two = state[s, 0, b : b + plane], state[s, 1, b : b + plane]
            if dj != 0:
                row = 0 if dj > 0 else (nj - 1) * ni
                one[row : row + ni] = 0.0
                two[row : row + ni] = 0.0
            if di != 0:
                column = 0 if di > 0 else ni - 1
                for j in range(nj):
                    one[column + j * ni] = 0.0
                    two[column + j * ni] = 0.0
            if tilted:
                _tilted(energy, p, q, weights[c], part)
                given, weight = part, np.float32(1.0)
            else:
                given, weight = energy, weights[c, 0]
            if long:
                _pass_long(inside, given, weight, shares[c], steps[c], one, two, out)
            else:
                _pass_short(inside, given, weight, shares[c], steps[c], one, two, out)


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
    Cones are dealt to a number of private arrays that depends on the size of the grid only, summed in fixed order:
    the result is the same to the last bit for any number of threads.
    """
    groups = _GROUPS if rho.size <= _LARGE_CELLS else 2
    total = np.zeros(rho.shape, dtype=np.float32)
    spacing = np.asarray(spacing_cm, dtype=np.float64)
    # Rounded, so that mirrored cones that lean to two axes alike take the same one.
    axis_of = np.argmax(np.round(np.abs(cones.directions / spacing), 9), axis=1)
    done, everything = 0, len(cones.directions)
    with ThreadPoolExecutor(max_workers=min(groups, thread_count())) as pool:
        for axis in range(3):
            these = np.flatnonzero(axis_of == axis)
            if these.size == 0:
                continue
            lattice = _Lattice(rho, source, spacing, axis, cones, these, forms)
            deposits = np.zeros((groups, rho.size), dtype=np.float32)
            rounds = lattice.rounds(groups)
            for round_ in rounds:
                for one in [pool.submit(lattice.run, deposits[g], batches) for g, batches in enumerate(round_)]:
                    one.result()
                done += sum(len(b) for batches in round_ for _, b in batches)
                report(done / everything, say("Transport"))
            axis_sum = deposits[0]
            for other in deposits[1:]:
                axis_sum += other
            total += axis_sum.reshape(lattice.shape).transpose(_BACK[axis])
    return total


Batch = tuple[bool, NDArray[np.int64]]


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
        self._strength = tuple(a.astype(np.float32) for a in (cones.weights[these], cones.shares[these], steps))
        plane = self.shape[1] * self.shape[2]
        self._together = int(np.clip(_STATE_BYTES / (8 * plane), 1, 16))
        self._room = plane + 2 * self.shape[0] * (self.shape[2] + 1)

    def rounds(self, groups: int) -> list[list[list[Batch]]]:
        """Return rounds of work, each a list of batches per group: all cones of a batch run the same way."""
        hands: list[list[Batch]] = []
        for group in range(groups):
            hand: list[Batch] = []
            for upward in (True, False):
                same = np.flatnonzero(self._along == upward)[group::groups]
                hand += [(upward, same[n : n + self._together]) for n in range(0, len(same), self._together)]
            hands.append(hand)
        most = max(1, int(_PIECE_CELLS / np.prod(self.shape)) // self._together)
        return [[hand[n : n + most] for hand in hands] for n in range(0, max(len(h) for h in hands), most)]

    def run(self, deposit: Volume, batches: list[Batch]) -> None:
        """Carry some batches of cones into a deposit."""
        sweep: Any = _sweep
        state = np.empty((self._together, 2, self._room), np.float32)
        for upward, some in batches:
            sweep(
                *(*self._fields, deposit, self.shape, upward, self._long, some, self._moves),
                *(*self._strength, self._forms, state),
            )
