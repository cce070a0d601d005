"""Inside the skull and the orbits: brain, ventricles, brainstem, optic pathway, eyes, lesion."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.phantoms.canvas import Canvas, Region
from engine.phantoms.head_skull import SIDES, Frame, _orbit
from engine.phantoms.solids import tube

GREY_HU, WHITE_HU, FLUID_HU = 37.0, 28.5, 7.0


@dataclass(frozen=True)
class Brain:
    """Brain (with brainstem), stem, and cord from the skull down."""

    whole: Region
    stem: Region
    cord: Region


@dataclass(frozen=True)
class Sight:
    """Eyes, lenses, nerves (left then right) and chiasm."""

    eyes: tuple[Region, Region]
    lenses: tuple[Region, Region]
    nerves: tuple[Region, Region]
    chiasm: Region
    pituitary: Region


def shape_stem(canvas: Canvas) -> Region:
    """Return midbrain, pons and medulla."""
    pons = canvas.ellipsoid((0, 2.5, 13), (16, 12.5, 13.5), (-14.0, 0.0, 0.0), 2.2)
    middle = canvas.ellipsoid((0, 5, 28), (14.5, 9.5, 10), (-10.0, 0.0, 0.0), 2.4)
    medulla = canvas.tubes(
        [tube(((0, 8, 4), (0, 14, -10), (0, 20.5, -24), (0, 23.5, -32)), (8.6, 7.6, 6.0, 5.2))], (1.22, 1.0, 1.0)
    )
    return canvas.union([pons, middle, medulla], 5.0)


def paint_brain(canvas: Canvas, frame: Frame) -> Brain:
    """Paint everything inside the skull but the optic pathway and the lesion."""
    cavity = frame.cavity
    canvas.paint(cavity, FLUID_HU)
    canvas.paint(Region(cavity.box, np.maximum(cavity.distance + 0.2, -0.9 - cavity.distance)), 60.0, 1.4, 0.7)
    stem = shape_stem(canvas)
    x, y, z = canvas.axes(cavity.box)
    roof = 27.0 + 0.42 * (48 - y) - 0.006 * x * x + 2.0 * np.clip(np.abs(x) / 40 - 0.5, 0, 1)
    low = np.asarray(z - roof, dtype=np.float32)
    inner = cavity.distance + 2.2 + 0.7 * canvas.texture(cavity.box, 28.0, 500)
    front = np.asarray(
        8.0 + 0.34 * (z - 6) + 0.004 * x * x + 2.5 * canvas.texture(cavity.box, 25.0, 504) - y, dtype=np.float32
    )
    cerebellum = Region(cavity.box, np.maximum(np.maximum(inner, low + 1.6), front))
    behind = np.asarray(1.6 - np.maximum(low, front), dtype=np.float32)
    # The cisterns about the stem and above the sella hold no cerebrum.
    pool = np.minimum((1 - np.hypot(x / 13, (y + 8) / 32)) * 13, 26 - z)
    deep = np.minimum((1 - np.hypot(x / 20, (y + 2) / 34)) * 20, 8 - z)
    floor = np.maximum(pool, deep).astype(np.float32)
    cerebrum = Region(cavity.box, np.maximum(np.maximum(inner, behind), floor))
    _paint_cerebrum(canvas, cerebrum, frame)
    _paint_cerebellum(canvas, cerebellum)
    around = canvas.without(stem.moved(2.6), cerebellum, -3.0)
    canvas.paint(around, FLUID_HU, 1.6, 0.9)
    canvas.paint(stem, 31 + 2 * canvas.texture(stem.box, 7.0, 503))
    peduncles = canvas.tubes([tube(((s * 9, 6, 12), (s * 17, 16, 10), (s * 24, 28, 6)), (6.5, 6.5, 7)) for s in SIDES])
    canvas.paint(canvas.without(peduncles, stem), 30.0, 1.5)
    _paint_ventricles(canvas)
    tent = Region(
        cavity.box,
        np.asarray(
            np.maximum(np.maximum(np.abs(low) - 0.8, cavity.distance + 0.5), 16 - y + 0.1 * np.abs(x)), dtype=np.float32
        ),
    )
    canvas.paint(tent, 56.0, 1.5, 0.8)
    whole = canvas.union([cerebrum, cerebellum, stem, canvas.common(peduncles, cavity)], 3.0)
    whole = canvas.common(whole, cavity.moved(-1.0))
    return Brain(whole, stem, frame.spine.cord)


def _paint_cerebrum(canvas: Canvas, cerebrum: Region, frame: Frame) -> None:
    box = cerebrum.box
    x, y, z = canvas.axes(box)
    depth = -cerebrum.distance
    folds = np.minimum(np.abs(canvas.texture(box, 15.0, 510)), np.abs(canvas.texture(box, 19.0, 511))) * 7.0
    fissure = np.abs(x + 1.2 * canvas.texture(box, 60.0, 512)) - 1.0
    fissure = np.maximum(fissure, 52.0 - z - 30.0 * np.clip((np.abs(y + 2) - 40) / 25, 0, 1))
    sylvian = canvas.tubes(
        [
            tube(((s * 16, -22, 27), (s * 34, -24, 29), (s * 52, -14, 33), (s * 62, 8, 42)), (2.4, 2.4, 2.8, 1.6))
            for s in SIDES
        ]
    )
    away = np.minimum(canvas.on(sylvian, box), fissure)
    reach = 19.0 - 5.0 * np.clip((30 - z) / 30, 0, 1)
    gone = np.maximum(folds - 0.9 * np.clip(1 - depth / reach, 0, 1), depth - reach)
    edge = np.minimum(
        np.minimum(depth, away), np.where(depth < reach, folds + 0.8 * np.clip(depth - reach + 6, 0, 6), 50.0)
    )
    canvas.paint(cerebrum, WHITE_HU + 1.0 * canvas.texture(box, 12.0, 513))
    ribbon = Region(box, np.asarray(np.maximum(edge - 3.4, cerebrum.distance), dtype=np.float32))
    canvas.paint(ribbon, GREY_HU, 2.0)
    cuts = Region(box, np.asarray(np.maximum(np.minimum(gone, away), cerebrum.distance), dtype=np.float32))
    canvas.paint(cuts, FLUID_HU, 1.6, 0.85)
    deep = [canvas.ellipsoid((s * 12, 4, 42), (8.5, 14, 9), (0.0, 0.0, s * -24.0)) for s in SIDES]
    deep += [canvas.ellipsoid((s * 25, -13, 40), (7, 15, 10), (0.0, 0.0, s * -18.0)) for s in SIDES]
    deep += [canvas.ellipsoid((s * 14, -28, 48), (5, 9, 8)) for s in SIDES]
    canvas.paint(canvas.union(deep), GREY_HU + 0.5, 2.5)
    falx = Region(
        box,
        np.asarray(
            np.maximum(np.maximum(np.abs(x) - 0.35, 60.0 - z - 14 * (np.abs(y) > 45)), cerebrum.distance - 2),
            dtype=np.float32,
        ),
    )
    canvas.paint(canvas.common(falx, frame.cavity), 58.0, 1.6, 0.75)
    sinus = canvas.tubes(
        [
            tube(((0, -60, 100), (0, -20, 115), (0, 30, 112), (0, 72, 78), (0, 82, 40)), (2, 3, 3.5, 4, 4.5)),
            *(tube(((0, 81, 38), (s * 30, 72, 32), (s * 52, 44, 22)), (4.5, 4, 3.5)) for s in SIDES),
        ]
    )
    canvas.paint(canvas.common(sinus, frame.cavity), 56.0, 1.5)


def _paint_cerebellum(canvas: Canvas, cerebellum: Region) -> None:
    leaves = np.abs(canvas.texture(cerebellum.box, (26.0, 7.0, 7.0), 520)) * 6.0 - 0.5
    canvas.paint(cerebellum, 36 + 1.2 * canvas.texture(cerebellum.box, 14.0, 521))
    fine = Region(cerebellum.box, np.maximum(np.maximum(leaves, cerebellum.distance), -cerebellum.distance - 9.0))
    canvas.paint(fine, FLUID_HU + 6, 1.8, 0.55)
    canvas.paint(canvas.common(cerebellum.moved(-13.0), cerebellum), 30.5, 4.0)


def _paint_ventricles(canvas: Canvas) -> None:
    tubes = []
    for s in SIDES:
        path = (
            (s * 7, -38, 50),
            (s * 8, -24, 54),
            (s * 10, 0, 58),
            (s * 15, 22, 55),
            (s * 24, 36, 46),
            (s * 31, 24, 32),
            (s * 33, 4, 22),
        )
        tubes.append(tube(path, (3.0, 5.4, 5.4, 5.8, 7.0, 3.4, 2.0)))
        tubes.append(tube(((s * 24, 36, 46), (s * 24, 50, 45), (s * 22, 60, 46)), (5.4, 3.4, 1.4)))
        tubes.append(tube(((s * 7, -24, 52), (s * 15, -26, 52)), (4.0, 2.0), 1))
    lateral = canvas.tubes(tubes, (1.0, 1.0, 1.25), (0.6, 14.0, 530))
    third = canvas.ellipsoid((0, -4, 39), (2.2, 13, 10), power=2.4)
    fourth = canvas.ellipsoid((0, 18.5, 9), (7, 3.8, 9), (-14.0, 0.0, 0.0))
    aqueduct = canvas.tubes([tube(((0, 8, 35), (0, 13, 26), (0, 17, 16)), (1.1, 1.1, 1.6))])
    canvas.paint(canvas.union([lateral, third, fourth, aqueduct]), FLUID_HU - 1, 1.4)
    cistern = canvas.ellipsoid((0, 20, 36), (8, 5, 6), rough=(1.0, 8.0, 531))
    canvas.paint(cistern, FLUID_HU, 1.6)
    canvas.paint(canvas.ellipsoid((0, 18, 37), (2.4, 2.4, 2.4)), 230.0, 1.5)
    plexus = canvas.union([canvas.ellipsoid((s * 23, 35, 45), (2.4, 4.0, 3.2)) for s in SIDES])
    canvas.paint(plexus, 130.0, 1.5)


def paint_sight(canvas: Canvas, body: Region) -> Sight:
    """Paint the orbits, eyes, nerves, chiasm and pituitary gland."""
    eyes, lenses, nerves = [], [], []
    pool = canvas.ellipsoid((0, -21, 26), (14, 11, 6), rough=(1.2, 10.0, 540))
    canvas.paint(pool, FLUID_HU, 1.6)
    for s in (1.0, -1.0):
        cone = _orbit(canvas, s)
        _, y, _ = canvas.axes(cone.box)
        fat = Region(cone.box, np.maximum(cone.distance, np.asarray(-84.0 - y, dtype=np.float32)))
        canvas.paint(fat, -88 + 6 * canvas.texture(fat.box, 6.0, 541))
        at = np.array((s * 32.5, -74.5, 10.0))
        apex = np.array((s * 15.5, -39.0, 16.0))
        straps = []
        for dx, dz in ((11.5, 0), (-11.5, 0), (0, 11.5), (0, -11.5)):
            out = at + (dx, 5, dz)
            straps.append(tube((out, 0.45 * out + 0.55 * apex + (dx * 0.45, 0, dz * 0.45), apex), (1.2, 2.3, 1.2)))
        canvas.paint(canvas.common(canvas.tubes(straps, (1.0, 1.0, 1.25)), fat), 48.0)
        gland = canvas.common(canvas.ellipsoid((s * 45, -76, 20), (4, 8, 7)), fat)
        canvas.paint(gland, 40.0)
        globe = canvas.ellipsoid((at[0], at[1], at[2]), (12.1, 12.3, 11.9))
        cornea = canvas.ellipsoid((at[0], at[1] - 6.5, at[2]), (6.8, 7.4, 6.8))
        eye = canvas.union([globe, cornea], 1.0)
        canvas.paint(eye, 52.0)
        canvas.paint(eye.moved(-1.2), 9.0)
        lens = canvas.ellipsoid((at[0], at[1] - 7.6, at[2]), (4.7, 2.3, 4.7))
        canvas.paint(lens, 92.0)
        nerve = canvas.tubes(
            [
                tube(
                    (
                        tuple(at + (-s * 2.5, 11.0, 0.5)),
                        (s * 26, -55, 12.5),
                        (s * 19, -44.5, 15),
                        (s * 13, -35, 19),
                        (s * 7, -28, 23.5),
                    ),
                    (2.3, 2.2, 2.1, 2.0, 2.0),
                )
            ]
        )
        canvas.paint(nerve.moved(1.1), -20.0, 1.4, 0.5)
        canvas.paint(nerve, 38.0)
        lids = canvas.tubes(
            [tube((at + (-15, -10, 0), at + (0, -15, h), at + (15, -8, 0)), (1.6, 1.9, 1.6)) for h in (4.0, -4.0)],
            (1, 1, 2.0),
        )
        canvas.paint(canvas.common(canvas.without(lids, eye), body), 45.0)
        eyes.append(eye)
        lenses.append(lens)
        nerves.append(nerve)
    arms = [tube(((0, -24.5, 24.5), (s * 3.5, -26.5, 24.3), (s * 7, -28, 23.5)), (2.6, 2.3, 2.0)) for s in SIDES]
    arms += [tube(((0, -22.5, 25), (s * 5, -17.5, 26.5), (s * 9, -12, 28)), (2.6, 2.1, 1.9)) for s in SIDES]
    chiasm = canvas.tubes(arms, (1.0, 1.0, 1.0))
    canvas.paint(chiasm, 39.0)
    chiasm = canvas.without(chiasm, canvas.union(nerves))
    pituitary = canvas.ellipsoid((0, -20, 16.5), (6.2, 4.4, 3.9))
    canvas.paint(pituitary, 48.0)
    canvas.paint(canvas.tubes([tube(((0, -20, 20), (0, -19, 27)), (1.0, 1.0), 1)]), 45.0)
    carotids = canvas.tubes(
        [
            tube(((s * 22, -2, 4), (s * 13, -12, 10), (s * 12, -24, 15), (s * 12, -22, 23), (s * 20, -20, 28)), 2.3)
            for s in SIDES
        ]
    )
    canvas.paint(carotids, 46.0, 1.2)
    return Sight((eyes[0], eyes[1]), (lenses[0], lenses[1]), (nerves[0], nerves[1]), chiasm, pituitary)


def paint_lesion(canvas: Canvas, brain: Brain, sight: Sight, frame: Frame) -> Region:
    """Paint a mass beside the sella on the left, between the pons and the optic pathway; return its gross volume."""
    main = canvas.ellipsoid((25, -10, 22), (11.5, 14.0, 11.5), (10.0, 10.0, -20.0), rough=(1.5, 11.0, 560))
    lobe = canvas.ellipsoid((21, -2, 14), (7, 7, 7), rough=(1.0, 8.0, 561))
    mass = canvas.common(canvas.union([main, lobe], 4.0), frame.cavity.moved(-0.4))
    near = canvas.union([brain.stem, sight.chiasm, *sight.nerves])
    mass = canvas.without(mass, near, 1.5, 2.0)
    halo = canvas.common(mass.moved(6.0), canvas.without(frame.cavity.moved(-3.0), near, 1.5))
    canvas.paint(halo, 21.0, 6.0, 0.55)
    canvas.paint(mass, 56 + 4 * canvas.texture(mass.box, 7.0, 562), 1.4)
    canvas.paint(canvas.ellipsoid((27, -11, 23), (4, 5, 4), rough=(1.0, 5.0, 563)), 40.0, 4.0)
    specks = [canvas.ellipsoid(p, (1.3, 1.1, 1.5)) for p in ((20, -14, 25), (30, -4, 19), (25, -2, 27))]
    canvas.paint(canvas.union(specks), 260.0, 1.4)
    return mass
