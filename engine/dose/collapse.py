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
from numpy.typing import NDArray

from engine.base.progress import Report, quiet
from engine.base.words import say
from engine.dose.passes import LONG, sweeps
from engine.dose.threads import workers
from engine.dose.turning import ORDER, add_back, turned

Volume = NDArray[np.float32]
Floats = NDArray[np.float64]

# One piece of work: few enough cones that their states stay in the cache beside the planes, and far below 100 ms.
_PIECE_CELLS = 2.0e7
_STATE_BYTES = 600_000
_HANDS = 4
_LARGE_CELLS = 8_000_000
# Most cones of a team.
_TEAM = 12
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
    hands: list[tuple[_Lattice, Volume, list[_Round]]] = []
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
        done += sum(len(batches.cones) for _, _, batches in now)
        report(done / everything, say("Transport"))
    total = np.zeros(rho.shape, np.float32)
    for lattice, deposit, _ in hands:
        add_back(deposit.reshape(lattice.shape), lattice.axis, total)
    return total


Team = NDArray[np.intp]
Batch = tuple[bool, list[Team]]


class _Round:
    """Batches that one hand carries before it is asked again, as numbers for ``passes.sweeps``."""

    def __init__(self, batches: list[Batch]) -> None:
        teams = [team for _, some in batches for team in some]
        self.cones = np.concatenate(teams)
        self.ends = np.concatenate([np.cumsum([len(team) for team in some]) for _, some in batches])
        self.batches = np.array([(up, sum(map(len, some)), len(some)) for up, some in batches], dtype=np.int64)


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
        order, self.axis = list(ORDER[axis]), axis
        self.shape = tuple(rho.shape[a] for a in order)
        self._fields = turned(rho, axis).reshape(-1), turned(source, axis).reshape(-1)
        self._forms = np.empty((0, 4)) if forms is None else np.ascontiguousarray(forms[:, [0, *(1 + a for a in order)]])
        self._long = cones.long_steps
        self._along = cones.directions[these, axis] > 0
        self._moves = _moves(cones.directions[these][:, order], spacing[order], self.shape[0])
        length = spacing[axis] / np.abs(cones.directions[these, axis])
        steps = cones.attenuation_cm2_g[these] * length[:, None] / (LONG if self._long else 1.0)
        self._strength = tuple(a.astype(np.float32) for a in (cones.weights[these], cones.shares[these], steps))
        plane = self.shape[1] * self.shape[2]
        self._together = int(np.clip(_STATE_BYTES / (8 * plane), 1, 16))
        self._room = plane + 2 * self.shape[0] * (self.shape[2] + 1)

    def hands(self, count: int) -> list[list[_Round]]:
        """Return what each of some hands does, in rounds; all cones of a batch run the same way."""
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
        return [[_Round(hand[n : n + most]) for n in range(0, len(hand), most)] for hand in dealt if hand]

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

    def run(self, deposit: Volume, now: _Round) -> None:
        """Carry a round of cones into a deposit."""
        carry: Any = sweeps
        state = np.empty((self._together, 2, self._room), np.float32)
        carry(
            *(*self._fields, deposit, self.shape, now.batches, self._long, now.cones, now.ends, self._moves),
            *(*self._strength, self._forms, state),
        )
