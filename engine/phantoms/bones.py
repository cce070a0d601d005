"""Bone: cortex around marrow, and vertebrae in a row."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.solids import Field, Triple, Tube, superellipsoid, tube

CORTEX_HU, MARROW_HU, DISC_HU = 1050.0, 190.0, 85.0


def paint_bone(
    canvas: Canvas,
    region: Region,
    shell_mm: float,
    cortex_hu: float = CORTEX_HU,
    marrow_hu: float = MARROW_HU,
    seed: int = 5,
    grain_hu: float = 45.0,
) -> None:
    """Paint a bone: a cortical shell of about `shell_mm`, trabecular marrow of uneven density inside."""
    thick = np.float32(shell_mm) * (1 + 0.25 * canvas.texture(region.box, 11.0, seed + 1))
    marrow = marrow_hu + grain_hu * (
        0.6 * canvas.texture(region.box, 3.5, seed) + canvas.texture(region.box, 12.0, seed + 2)
    )
    canvas.paint(region, cortex_hu + 60 * canvas.texture(region.box, 9.0, seed + 3))
    canvas.paint(Region(region.box, region.distance + thick), marrow, width_px=1.6)


@dataclass(frozen=True)
class Vertebra:
    """One vertebra: centre of its body, half sizes, tilt (positive leans the front down), and its processes.

    Parameters
    ----------
    half_mm : half width, half depth and half height of the body
    canal_mm : half width and half depth of the canal behind it
    spinous : (backwards, downwards) reach of the spinous process from the lamina
    transverse : (sideways, backwards, upwards) reach of the transverse process from the pedicle
    """

    centre_mm: Triple
    half_mm: Triple
    tilt_deg: float
    canal_mm: tuple[float, float]
    spinous: tuple[float, float]
    transverse: Triple
    power: float = 2.5

    def place(self, x: float, y: float, z: float) -> Triple:
        """Return the patient point of local coordinates about the body's centre."""
        c, s = float(np.cos(np.deg2rad(self.tilt_deg))), float(np.sin(np.deg2rad(self.tilt_deg)))
        cx, cy, cz = self.centre_mm
        return cx + x, cy + y * c - z * s, cz + y * s + z * c

    @property
    def canal_centre_mm(self) -> Triple:
        """Middle of the spinal canal at this level."""
        return self.place(0.0, self.half_mm[1] + self.canal_mm[1] - 1.0, 0.0)


def vertebra_body(canvas: Canvas, v: Vertebra) -> Region:
    """Return the body: a superelliptic drum with a waist and flattened behind."""
    a, b, h = v.half_mm
    t = np.deg2rad(v.tilt_deg)
    c, s = np.float32(np.cos(t)), np.float32(np.sin(t))

    def function(x: Field, y: Field, z: Field) -> Field:
        dx, dy, dz = x - np.float32(v.centre_mm[0]), y - np.float32(v.centre_mm[1]), z - np.float32(v.centre_mm[2])
        ly, lz = dy * c + dz * s, dz * c - dy * s
        waist = np.asarray(1.0 - 0.11 * np.clip(1 - (lz / h) ** 2, 0, 1), dtype=np.float32)
        drum = superellipsoid(_f32(dx / waist), _f32(ly / waist), _f32(0 * lz), (a, b, 1e3), v.power)
        drum = np.maximum(drum, ly - np.float32(0.86 * b))
        lid = np.abs(lz) - np.float32(h)
        return np.asarray(
            np.where(
                (drum > -2) & (lid > -2),
                np.hypot(np.maximum(drum + 2, 0), np.maximum(lid + 2, 0)) - 2,
                np.maximum(drum, lid),
            ),
            dtype=np.float32,
        )

    reach = np.array((a, b + 0.3 * h, h + 0.3 * b))
    return canvas.solid(function, np.array(v.centre_mm) - reach, np.array(v.centre_mm) + reach)


def arch_tubes(v: Vertebra) -> list[Tube]:
    """Return pedicles, laminae, joints, spinous and transverse processes."""
    _, b, h = v.half_mm
    cw, cd = v.canal_mm
    behind = b - 1.0 + 2 * cd
    up = 0.25 * h
    out = []
    for side in (-1.0, 1.0):
        pedicle = (v.place(side * (cw + 1.5), 0.5 * b, up), v.place(side * (cw + 3), b + cd, up))
        corner = v.place(side * (cw + 2.5), behind - 1, 0)
        root = v.place(0, behind + 3.5, -0.35 * h)
        tx, ty, tz = v.transverse
        out.append(Tube(np.array(pedicle), np.array((3.6, 3.9))))
        out.append(tube((pedicle[1], corner, root), (3.8, 3.2, 3.0), 4))
        tip = v.place(side * (cw + 4 + tx), b + cd + ty, up + tz)
        out.append(Tube(np.array((pedicle[1], tip)), np.array((4.2, 3.6))))
        joints = (v.place(side * (cw + 4.5), b + cd + 3, h + 2), v.place(side * (cw + 4.5), b + cd + 6, -h - 2))
        out.append(Tube(np.array(joints), np.array((3.8, 3.8))))
    back, down = v.spinous
    spine = (
        v.place(0, behind + 3, -0.3 * h),
        v.place(0, behind + 3 + 0.6 * back, -0.3 * h - 0.5 * down),
        v.place(0, behind + 3 + back, -0.3 * h - down),
    )
    out.append(tube(spine, (3.0, 2.5, 3.6), 4))
    return out


@dataclass(frozen=True)
class Spine:
    """What `paint_spine` made: the bones, the canal and the cord."""

    bone: Region
    canal: Region
    cord: Region


def paint_spine(
    canvas: Canvas,
    column: list[Vertebra],
    cord_half_mm: tuple[float, float],
    cord_end_mm: float | None = None,
    seed: int = 40,
) -> Spine:
    """Paint vertebrae (from the feet up), the discs between them, the canal with its fluid and fat, and the cord.

    Parameters
    ----------
    cord_half_mm : half width and half depth of the cord
    cord_end_mm : height where the cord ends; None for a cord through the whole canal
    """
    path = np.array([v.centre_mm for v in column])
    width = np.array([v.half_mm[0] for v in column])
    flat = column[len(column) // 2].half_mm[1] / column[len(column) // 2].half_mm[0]
    discs = canvas.tubes([tube(path, width * 0.99 * flat, 5)], (1 / flat, 1.0, 1.0))
    discs = Region(discs.box, np.maximum(discs.distance, _beyond(canvas, discs, path)))
    canvas.paint(discs, DISC_HU + 12 * canvas.texture(discs.box, 10.0, seed))
    bodies = canvas.union([vertebra_body(canvas, v) for v in column])
    paint_bone(canvas, bodies, 1.1, 520.0, 175.0, seed + 1, 30.0)
    tubes = [t for v in column for t in arch_tubes(v)]
    arch = canvas.tubes(tubes, rough=(0.4, 9.0, seed + 2))
    sub = canvas.without(arch, bodies)
    paint_bone(canvas, sub, 1.7, 820.0, 260.0, seed + 3, 40.0)
    middle = np.array([v.canal_centre_mm for v in column])
    cw, cd = np.array([v.canal_mm for v in column]).T
    ratio = float((cw / cd).mean())
    canal = canvas.tubes([tube(middle, cd, 6)], (ratio, 1.0, 1.0))
    canvas.paint(canal, -55.0)
    canvas.paint(canal.moved(-1.2), 14.0)
    kept = middle if cord_end_mm is None else middle[middle[:, 2] > cord_end_mm]
    if len(kept) < 3:
        return Spine(canvas.union([bodies, arch]), canal, canal.moved(-2.0))
    taper = np.full(len(kept), cord_half_mm[1])
    if cord_end_mm is not None:
        taper[0] *= 0.5
    lean = kept + np.array((0.0, -0.8, 0.0))
    cord = canvas.tubes([tube(lean, taper, 6)], (cord_half_mm[0] / cord_half_mm[1], 1.0, 1.0), rough=(0.15, 20.0, seed + 5))
    canvas.paint(cord, 41.0)
    return Spine(canvas.union([bodies, arch]), canal, cord)


def _f32(values: NDArray[np.floating]) -> Field:
    return np.asarray(values, dtype=np.float32)


def _beyond(canvas: Canvas, region: Region, path: NDArray[np.float64]) -> Field:
    z = canvas.axes(region.box)[2]
    return np.asarray(np.maximum(z - path[:, 2].max(), path[:, 2].min() - z), dtype=np.float32)
