"""Solids as signed distance fields in mm (negative inside), evaluated on broadcastable coordinates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numba import njit
from numpy.typing import ArrayLike, NDArray
from scipy.interpolate import CubicSpline, PchipInterpolator

Field = NDArray[np.float32]
Triple = tuple[float, float, float]
FAR_MM = np.float32(60.0)
_NOISE_HALF_WIDTH_MM = 420.0


def noise(x: Field, y: Field, z: Field, wave_mm: float | Triple, seed: int) -> Field:
    """Return smooth noise of about unit standard deviation whose bumps are `wave_mm` (x, y, z) apart.

    A random lattice, the same for a seed wherever it is asked for, blurred by cubic B-splines.

    Parameters
    ----------
    x, y, z : coordinates of shapes (1, 1, nx), (1, ny, 1), (nz, 1, 1)
    """
    waves = (wave_mm,) * 3 if isinstance(wave_mm, (int, float)) else wave_mm
    counts = [int(np.ceil(2 * _NOISE_HALF_WIDTH_MM / w)) + 5 for w in waves]
    lattice = np.random.default_rng(seed).standard_normal(counts[::-1], dtype=np.float32)
    (sx, wx), (sy, wy), (sz, wz) = (_spline_weights(p.ravel(), w, n) for p, w, n in zip((x, y, z), waves, counts))
    part = lattice[sz, sy, sx]
    part = np.matmul(wy, part @ wx.T)
    out = np.tensordot(wz, part, axes=(1, 0))
    return np.asarray(out / np.float32(0.332), dtype=np.float32)


def _spline_weights(points: Field, wave_mm: float, count: int) -> tuple[slice, Field]:
    position = (points.astype(np.float64) + _NOISE_HALF_WIDTH_MM) / wave_mm + 2.0
    first = max(0, int(np.floor(position.min())) - 2)
    last = min(count, int(np.ceil(position.max())) + 3)
    d = np.abs(position[:, None] - np.arange(first, last)[None, :])
    near = 2 / 3 - d**2 + d**3 / 2
    weights = np.where(d < 1, near, np.where(d < 2, (2 - d) ** 3 / 6, 0.0))
    return slice(first, last), weights.astype(np.float32)


def rotation(about_x_deg: float = 0.0, about_y_deg: float = 0.0, about_z_deg: float = 0.0) -> NDArray[np.float32]:
    """Return the matrix that turns about x, then y, then z (right-handed in patient axes)."""
    a, b, c = np.deg2rad((about_x_deg, about_y_deg, about_z_deg))
    rx = np.array(((1, 0, 0), (0, np.cos(a), -np.sin(a)), (0, np.sin(a), np.cos(a))))
    ry = np.array(((np.cos(b), 0, np.sin(b)), (0, 1, 0), (-np.sin(b), 0, np.cos(b))))
    rz = np.array(((np.cos(c), -np.sin(c), 0), (np.sin(c), np.cos(c), 0), (0, 0, 1)))
    return np.asarray(rz @ ry @ rx, dtype=np.float32)


def superellipsoid(x: Field, y: Field, z: Field, radii_mm: Triple, power: float = 2.0) -> Field:
    """Return the first-order distance to sum |p_i / r_i|^power = 1 in local coordinates."""
    q = [np.abs(p) / np.float32(r) for p, r in zip((x, y, z), radii_mm)]
    n = np.float32(power)
    total = np.maximum(sum(v**n for v in q), 1e-6)
    f = total ** (1 / n)
    slope = np.sqrt(sum((v ** (n - 1) / np.float32(r)) ** 2 for v, r in zip(q, radii_mm))) * f ** (1 - n)
    inner = np.float32(min(radii_mm))
    return np.asarray(np.maximum((f - 1) / np.maximum(slope, 1e-3 / inner), -inner), dtype=np.float32)


@dataclass(frozen=True)
class Loft:
    """A body of superelliptic sections along z whose half axes differ left, right, front and back.

    Parameters
    ----------
    z_mm : ascending nodes
    x_mm, y_mm : centre of the section at the nodes
    left_mm, right_mm : half axes towards +x and -x
    front_mm, back_mm : half axes towards -y and +y
    power : exponent of the section (2 = ellipse, more = squarer), one number or one per node
    """

    z_mm: tuple[float, ...]
    x_mm: tuple[float, ...]
    y_mm: tuple[float, ...]
    left_mm: tuple[float, ...]
    right_mm: tuple[float, ...]
    front_mm: tuple[float, ...]
    back_mm: tuple[float, ...]
    power: tuple[float, ...]

    @staticmethod
    def of(
        z: Sequence[float],
        x: Sequence[float] | float,
        y: Sequence[float] | float,
        a: Sequence[float],
        b: Sequence[float],
        power: Sequence[float] | float = 2.0,
        right: Sequence[float] | None = None,
        back: Sequence[float] | None = None,
    ) -> Loft:
        """Build a loft from half widths `a` and half depths `b` (`right` and `back` where they differ)."""

        def many(v: Sequence[float] | float) -> tuple[float, ...]:
            return (float(v),) * len(z) if isinstance(v, (int, float)) else tuple(map(float, v))

        rights, backs = a if right is None else right, b if back is None else back
        return Loft(many(z), many(x), many(y), many(a), many(rights), many(b), many(backs), many(power))

    def sections(self, z: ArrayLike) -> tuple[NDArray[np.float64], ...]:
        """Return x, y, left, right, front, back, power at heights z (held beyond the ends)."""
        h = np.clip(np.asarray(z, dtype=np.float64), self.z_mm[0], self.z_mm[-1])
        rows = (self.x_mm, self.y_mm, self.left_mm, self.right_mm, self.front_mm, self.back_mm, self.power)
        return tuple(np.asarray(PchipInterpolator(self.z_mm, row)(h)) for row in rows)

    def distance(self, x: Field, y: Field, z: Field, capped: bool = True) -> Field:
        """Return the distance within the planes; with `capped` the body ends at its first and last node."""
        cx, cy, left, right, front, back, power = (s.astype(np.float32).reshape(-1, 1, 1) for s in self.sections(z.ravel()))
        dx, dy = x - cx, y - cy
        a = np.where(dx >= 0, left, right)
        b = np.where(dy >= 0, back, front)
        u, v = np.abs(dx) / a, np.abs(dy) / b
        if np.all(power == 2.0):
            f = np.sqrt(u * u + v * v)
            slope = np.sqrt((u / a) ** 2 + (v / b) ** 2) / np.maximum(f, 1e-4)
        else:
            up, vp = u ** (power - 1), v ** (power - 1)
            total = np.maximum(up * u + vp * v, 1e-6)
            f = total ** (1 / power)
            slope = np.sqrt((up / a) ** 2 + (vp / b) ** 2) * f / total
        least = np.minimum(np.minimum(left, right), np.minimum(front, back))
        out = np.maximum((f - 1) / np.maximum(slope, 1e-3 / least), -least)
        if capped:
            out = np.maximum(out, np.maximum(z - np.float32(self.z_mm[-1]), np.float32(self.z_mm[0]) - z))
        return np.asarray(out, dtype=np.float32)

    def surface(self, angle_deg: ArrayLike, z: ArrayLike, outward_mm: float = 0.0) -> NDArray[np.float64]:
        """Return points (n, 3) of the surface: angle 0 towards the back (+y), 90 towards the left (+x)."""
        t, h = np.deg2rad(np.asarray(angle_deg, dtype=np.float64)), np.asarray(z, dtype=np.float64)
        cx, cy, left, right, front, back, power = self.sections(h)
        ux, uy = np.sin(t), np.cos(t)
        a, b = np.where(ux >= 0, left, right), np.where(uy >= 0, back, front)
        r = (np.abs(ux / a) ** power + np.abs(uy / b) ** power) ** (-1 / power)
        nx = np.sign(ux) * np.abs(r * ux / a) ** (power - 1) / a
        ny = np.sign(uy) * np.abs(r * uy / b) ** (power - 1) / b
        length = np.hypot(nx, ny)
        return np.stack((cx + r * ux + outward_mm * nx / length, cy + r * uy + outward_mm * ny / length, h), axis=-1)


@dataclass(frozen=True)
class Tube:
    """A chain of round cones: `points_mm` (n, 3) and a radius at each point."""

    points_mm: NDArray[np.float64]
    radius_mm: NDArray[np.float64]


def tube(points_mm: ArrayLike, radius_mm: ArrayLike, steps: int = 8) -> Tube:
    """Return a smooth tube through control points; the radius is one number or one per control point.

    Parameters
    ----------
    steps : pieces between two control points (1 keeps them as they are)
    """
    p = np.asarray(points_mm, dtype=np.float64)
    r = np.broadcast_to(np.asarray(radius_mm, dtype=np.float64), (len(p),))
    if steps <= 1 or len(p) < 3:
        return Tube(p, np.array(r))
    t = np.concatenate(((0.0,), np.cumsum(np.maximum(np.linalg.norm(np.diff(p, axis=0), axis=1), 1e-6))))
    fine = np.concatenate([np.linspace(a, b, steps, endpoint=False) for a, b in pairwise(t)] + [t[-1:]])
    return Tube(CubicSpline(t, p)(fine), PchipInterpolator(t, r)(fine))


def tubes_distance(
    tubes: Sequence[Tube], x: Field, y: Field, z: Field, stretch: Triple = (1.0, 1.0, 1.0), reach_mm: float = 6.0
) -> Field:
    """Return the distance to the union of tubes, true up to `reach_mm` and FAR_MM beyond.

    `stretch` > 1 along an axis flattens the section: a rib has (1, 1, 2), distances hold across its thin side.
    """
    out = np.full((z.size, y.size, x.size), FAR_MM, dtype=np.float32)
    s = np.array(stretch)
    starts = np.concatenate([t.points_mm[:-1] for t in tubes]) / s
    ends = np.concatenate([t.points_mm[1:] for t in tubes]) / s
    r0 = np.concatenate([t.radius_mm[:-1] for t in tubes])
    r1 = np.concatenate([t.radius_mm[1:] for t in tubes])
    axes = [np.ascontiguousarray(p.ravel(), dtype=np.float64) / k for p, k in zip((x, y, z), stretch)]
    _capsules(out, axes[0], axes[1], axes[2], starts, ends, r0, r1, float(reach_mm))
    return out


@njit(cache=True, nogil=True)
def _capsules(out, x, y, z, starts, ends, r0, r1, reach):  # type: ignore[no-untyped-def]
    dx, dy, dz = x[1] - x[0], y[1] - y[0], z[1] - z[0]
    for s in range(starts.shape[0]):
        a, e = starts[s], ends[s]
        pad = max(r0[s], r1[s]) + reach
        c_lo = max(0, int(np.ceil((min(a[0], e[0]) - pad - x[0]) / dx)))
        c_hi = min(x.size - 1, int(np.floor((max(a[0], e[0]) + pad - x[0]) / dx)))
        r_lo = max(0, int(np.ceil((min(a[1], e[1]) - pad - y[0]) / dy)))
        r_hi = min(y.size - 1, int(np.floor((max(a[1], e[1]) + pad - y[0]) / dy)))
        k_lo = max(0, int(np.ceil((min(a[2], e[2]) - pad - z[0]) / dz)))
        k_hi = min(z.size - 1, int(np.floor((max(a[2], e[2]) + pad - z[0]) / dz)))
        vx, vy, vz = e[0] - a[0], e[1] - a[1], e[2] - a[2]
        square = max(vx * vx + vy * vy + vz * vz, 1e-12)
        for k in range(k_lo, k_hi + 1):
            pz = z[k] - a[2]
            for r in range(r_lo, r_hi + 1):
                py = y[r] - a[1]
                for c in range(c_lo, c_hi + 1):
                    px = x[c] - a[0]
                    t = min(1.0, max(0.0, (px * vx + py * vy + pz * vz) / square))
                    qx, qy, qz = px - t * vx, py - t * vy, pz - t * vz
                    d = np.sqrt(qx * qx + qy * qy + qz * qz) - (r0[s] + t * (r1[s] - r0[s]))
                    if d < out[k, r, c]:
                        out[k, r, c] = d
