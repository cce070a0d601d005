"""Volumes, margins and lines of solids whose answers follow from geometry, at 1 x 1 x 3 mm as scans have."""

import math

import numpy as np
import pytest

from engine.space.grid import Grid
from engine.volumes.coverage import Coverage
from engine.volumes.extent import change
from engine.volumes.margins import equal, grow, shrink
from engine.volumes.outline import filled, outlines, slice_outlines_mm
from engine.volumes.paint import polygon, polygons, stroke
from tests.reference.table import held
from tests.support.solids import block, cube_grid, cylinder, sphere

SUBJECT = "Volumes of solids"
GRID = cube_grid(48, 1.0, 3.0)
PHASES_MM = (0.0, 0.7, 1.5)
RULE = "closed form"


def lines_of(coverage: Coverage) -> list[np.ndarray]:
    return [line for k in coverage.planes for line in slice_outlines_mm(coverage, k)]


def ovals(grid: Grid, across_mm: tuple[float, float], lean: float, half_mm: float) -> list[np.ndarray]:
    """Return the cuts of a tube that leans along x by `lean` mm a mm, as polygons of many points."""
    t = np.linspace(0, 2 * np.pi, 720, endpoint=False)
    return [
        np.column_stack((lean * z + across_mm[0] * np.cos(t), across_mm[1] * np.sin(t), np.full(720, z)))
        for z in grid.z_mm.tolist()
        if abs(z) < half_mm
    ]


def test_volumes_through_brush_and_outline():
    """A brush paints the cuts, their lines are taken and filled again: balls and tubes, planes in three phases."""
    expected, found, names = [], [], []
    for radius in (25.0, 30.0, 40.0):
        for phase in PHASES_MM:
            ball = sphere(GRID, radius, (0.3, 0.2, phase))
            for way, made in (("brush", ball), ("outline", filled(GRID, lines_of(ball)))):
                expected.append(4 / 3 * np.pi * radius**3 / 1000)
                found.append(made.volume_cm3)
                names.append(f"ball of {radius:g} mm, {phase:g} mm off, {way}")
    tube = cylinder(GRID, 22, 30, (0.3, -0.4))
    for way, made in (("brush", tube), ("outline", filled(GRID, lines_of(tube)))):
        expected.append(np.pi * 22**2 * 60 / 1000)
        found.append(made.volume_cm3)
        names.append(f"tube, {way}")
    held(
        *(SUBJECT, "balls and tubes, painted; and from their outlines", found, expected),
        rel=0.005, source=RULE, known="exact", unit=" cm\u00b3", digits=1, at=names,
    )  # fmt: skip


def test_volumes_of_tilted_shapes_through_polygons():
    expected, found, names = [], [], []
    for degrees in (0, 20, 30, 45):
        slope = math.radians(degrees)
        made = filled(GRID, ovals(GRID, (12 / math.cos(slope), 12), math.tan(slope), 30))
        for way, shape in (("polygon", made), ("outline", filled(GRID, lines_of(made)))):
            expected.append(np.pi * 144 / math.cos(slope) * 60 / 1000)
            found.append(shape.volume_cm3)
            names.append(f"tube leaning {degrees}\u00b0, {way}")
        turn = np.array([[math.cos(slope), -math.sin(slope)], [math.sin(slope), math.cos(slope)]])
        corners = (np.array([[-25, -15], [25, -15], [25, 15], [-25, 15]]) + 0.3) @ turn.T
        box = filled(GRID, [np.column_stack((corners, np.full(4, z))) for z in GRID.z_mm.tolist() if abs(z) < 30])
        for way, shape in (("polygon", box), ("outline", filled(GRID, lines_of(box)))):
            expected.append(50 * 30 * 60 / 1000)
            found.append(shape.volume_cm3)
            names.append(f"box turned {degrees}\u00b0, {way}")
    held(
        *(SUBJECT, "leaning tubes and turned boxes, drawn; and from their outlines", found, expected),
        rel=0.005, source=RULE, known="exact", unit=" cm\u00b3", digits=1, at=names,
    )  # fmt: skip


def test_area_under_a_stroke():
    out = np.zeros((96, 96), np.uint8)
    stroke(out, ((30.2, 20.7), (61.4, 70.1)), (8.0, 8.0))
    length = math.hypot(31.2, 49.4)
    held(
        *(SUBJECT, "area under a straight stroke", out.sum() / 255, np.pi * 64 + 16 * length),
        rel=0.005, source=RULE, known="exact", unit=" mm\u00b2", digits=1,
    )  # fmt: skip


def test_margins_have_the_volume_of_steiners_formula():
    """V + S m + M m^2 + 4/3 pi m^3; heights and margins along z are whole slabs of 3 mm, since margins end at slabs."""
    tall = lambda a, b, c, m: a * b * c + 2 * (a * b + b * c + c * a) * m + np.pi * (a + b + c) * m**2  # noqa: E731
    expected, found, names = [], [], []
    box, tube = block(GRID, (-10, -12, -9), (10, 12, 9)), cylinder(GRID, 20, 21)
    for m in (6.0, 9.0):
        ends = 4 / 3 * np.pi * m**3
        expected.append((tall(20, 24, 18, m) + ends) / 1000)
        found.append(grow(box, equal(m)).volume_cm3)
        names.append(f"box, {m:g} mm")
        r, h = 20.0, 42.0
        whole = np.pi * r * r * h + 2 * np.pi * r * (r + h) * m + (np.pi * h + np.pi**2 * r) * m**2 + ends
        expected.append(whole / 1000)
        found.append(grow(tube, equal(m)).volume_cm3)
        names.append(f"tube, {m:g} mm")
    held(
        *(SUBJECT, "margins of a box and a tube, 3 mm slices", found, expected),
        rel=0.01, source="J. Steiner 1840, parallel surfaces", known="computed", unit=" cm\u00b3", digits=1, at=names,
    )  # fmt: skip


@pytest.mark.parametrize("sign", [1, -1])
def test_margins_of_balls_end_where_they_should(sign):
    """Radii of the slices in the middle six tenths; nearer to its ends a stack of flat slices is not a ball any more."""
    expected, found, names = [], [], []
    for radius, m in ((20.0, 5.0), (15.0, 8.0), (25.0, 10.0), (20.0, 7.0), (30.0, 8.0)):
        start, end = (radius, radius + m) if sign > 0 else (radius + m, radius)
        for phase in PHASES_MM:
            made = (grow if sign > 0 else shrink)(sphere(GRID, start, (0.2, 0.1, phase)), equal(m))
            for plane, area in made.areas_mm2:
                z = float(GRID.z_mm[plane]) - phase
                if abs(z) < 0.6 * end:
                    expected.append(math.sqrt(end**2 - z**2))
                    found.append(math.sqrt(area / np.pi))
                    names.append(f"{start:g} mm by {m:g} mm, {z:g} mm off the middle")
    words = "radii of slices of balls grown by 5 to 10 mm" if sign > 0 else "the same, shrunk"
    held(SUBJECT, words, found, expected, tol=0.2, source=RULE, known="exact", unit=" mm", at=names)


def test_growing_here_and_shrinking_there_moves_the_faces():
    box = block(GRID, (-20, -16, -18), (20, 16, 18))
    made = change(box, (5, -4, 3, -6, 3, -6))  # left, right, anterior, posterior, inferior, superior
    middle = made.slice(made.planes[len(made.planes) // 2]) / 255
    x, y = middle[48], middle[:, 48]
    low, high = made.bounds_mm()
    sizes = [x.sum(), (x * GRID.x_mm).sum() / x.sum(), y.sum(), (y * GRID.y_mm).sum() / y.sum(), low[2], high[2]]
    held(
        *(SUBJECT, "a box grown and shrunk at once: widths, middles, ends", sizes, [41, 4.5, 29, -4.5, -21, 12]),
        tol=0.06, source=RULE, known="exact", unit=" mm", at=("x", "x middle", "y", "y middle", "inferior", "superior"),
    )  # fmt: skip


def test_a_line_comes_back_from_its_filling():
    """Coverage to line to coverage to line: the way between the two lines, smooth shapes of 8 to 40 pixels."""
    from scipy.spatial import cKDTree

    def dense(line: np.ndarray) -> np.ndarray:
        ends = np.roll(line, -1, axis=0)
        return np.concatenate([line + (ends - line) * s for s in np.linspace(0, 1, 20, endpoint=False)])

    found, names = [], []
    for radius in (8.0, 15.0, 40.0):
        for at in ((0.0, 0.0), (0.3, 0.2), (0.5, 0.5), (0.13, 0.77)):
            disc = cylinder(GRID, radius, 3, at)
            plane = disc.planes[0]
            first = dense(slice_outlines_mm(disc, plane)[0][:, :2])
            again = dense(slice_outlines_mm(filled(GRID, lines_of(disc)), plane)[0][:, :2])
            found.append(max(cKDTree(first).query(again)[0].max(), cKDTree(again).query(first)[0].max()))
            names.append(f"disc of {radius:g} pixels at {at}")
    held(
        *(SUBJECT, "coverage, line, coverage, line: largest way between the two lines", found, np.zeros(len(found))),
        tol=0.05, source="a round trip changes nothing", known="exact", unit=" pixel", at=names,
    )  # fmt: skip


def test_shares_come_back_from_their_lines():
    """Coverage to line to coverage: the largest change of a pixel's share, of round, long and angular shapes."""

    def shape(kind: str, size: tuple[float, float], turn: float) -> np.ndarray:
        t = np.linspace(0, 2 * np.pi, 720, endpoint=False)
        round_ = np.column_stack((size[0] * np.cos(t), size[1] * np.sin(t)))
        corners = np.array(((-1, -1), (1, -1), (1, 1), (-1, 1)), float) * size
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        return (round_ if kind == "ellipse" else corners) @ np.array(((c, s), (-s, c)))

    found, names = [], []
    for kind, size in (
        ("ellipse", (2.0, 2.0)), ("ellipse", (3.0, 3.0)), ("ellipse", (12.0, 12.0)), ("ellipse", (3.0, 6.0)),
        ("ellipse", (4.0, 9.0)), ("ellipse", (10.0, 30.0)), ("box", (6.0, 6.0)), ("box", (12.0, 8.0)),
        ("box", (20.0, 15.0)),
    ):  # fmt: skip
        for turn, at in ((0.0, (34.3, 35.2)), (10.0, (34.5, 34.5)), (25.0, (34.13, 34.77)), (45.0, (34.0, 34.6))):
            alpha = polygon((70, 70), shape(kind, size, turn) + at)
            again = polygons((70, 70), outlines(alpha))
            found.append(float(np.abs(again.astype(int) - alpha).max()) / 255)
            names.append(f"{kind} of {2 * size[0]:g} x {2 * size[1]:g} pixels, turned {turn:g} degrees")
    held(
        *(SUBJECT, "coverage, line, coverage: largest change of a pixel, of its area", found, np.zeros(len(found))),
        tol=0.05, source="a round trip changes nothing", known="exact", unit="", at=names,
    )  # fmt: skip
