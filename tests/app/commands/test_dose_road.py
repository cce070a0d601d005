"""Another vendor's CT and RT Plan in, RT Dose out: what ``halfshade dose`` makes of files it did not write.

Judged by the files' own numbers (monitor units, inverse square, which side a beam enters) and by the engine asked
directly, without files, for densities written down here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
import pydicom
import pytest

from app.__main__ import main
from engine.base.values import own_array
from engine.beams.beam import Aperture
from engine.dicom.dose import read_dose
from engine.image.density import DEFAULT_CURVE, Density
from engine.space.grid import Grid
from engine.space.sampling import trilinear
from tests.support.dose import beam, dose
from tests.support.third_party import PlainBeam, identity, write_box_structures, write_ct, write_plan

CENTRE = (10.0, -25.0, 300.0)
SIDE = 240.0
TOP = CENTRE[1] - SIDE / 2
FIELD = (-50.0, 50.0, -50.0, 50.0)
FRONT = PlainBeam((CENTRE[0], TOP, CENTRE[2]), FIELD)


@dataclass
class Phantom:
    """A box of water in air, its front at y = TOP; layers (from, to, HU) by depth and a ball (centre, radius, HU)."""

    air_mm: float = 21.0
    spacing_mm: tuple[float, float, float] = (3.0, 3.0, 3.0)
    layers: tuple[tuple[float, float, int], ...] = ()
    ball: tuple[tuple[float, float, float], float, int] | None = None

    def grid(self) -> Grid:
        n = [round((SIDE + 2 * a) / h) for a, h in zip((self.air_mm, self.air_mm, 0.0), self.spacing_mm)]
        first = tuple(c - (k - 1) * h / 2 for c, k, h in zip(CENTRE, n, self.spacing_mm))
        return Grid(first, self.spacing_mm, (n[2], n[1], n[0]))

    def hu(self) -> Any:
        g = self.grid()
        across = np.abs(g.x_mm - CENTRE[0]) < SIDE / 2
        depth = g.y_mm - TOP
        column = np.where((depth > 0) & (depth < SIDE), 0, -1000)
        for low, high, hu in self.layers:
            column[(depth > low) & (depth < high)] = hu
        out = np.where(across[None, None, :], column[None, :, None], -1000) + np.zeros(g.shape, int)
        if self.ball:
            (x, y, z), radius, hu = self.ball
            far = (g.z_mm - z)[:, None, None] ** 2 + (g.y_mm - y)[None, :, None] ** 2 + (g.x_mm - x)[None, None, :] ** 2
            out[far < radius**2] = hu
        return out.astype(np.int16)


WATER = Phantom()


class Road:
    """Files of one phantom and plan, and what came out."""

    def __init__(self, folder: Any, phantom: Phantom, position: str = "HFS") -> None:
        self.folder, self.phantom, self.shared = folder, phantom, identity()
        write_ct(folder / "ct", phantom.grid(), phantom.hu(), self.shared, position)

    def run(
        self,
        *beams: PlainBeam,
        machine: str | None = "point-6",
        change: Any = None,
        extra: tuple[Any, ...] = (),
        code: int = 0,
        grid_mm: float | None = 4.0,
        **plan: Any,
    ) -> Any:
        """Return the dose; `change` spoils the plan first."""
        written = write_plan(self.folder / "RP.dcm", beams or (FRONT,), self.shared, **plan)
        if change:
            change(written)
            written.save_as(self.folder / "RP.dcm")
        out = self.folder / "RD.dcm"
        words = ["dose", "--ct", self.folder / "ct", "--plan", self.folder / "RP.dcm", "--out", out]
        words += [*extra, *(() if grid_mm is None else ("--grid-mm", grid_mm))]
        assert main([str(w) for w in [*words, *(("--machine", machine) if machine else ())]]) == code
        return read_dose(out) if code == 0 else None


@pytest.fixture(scope="module")
def water(tmp_path_factory):
    return Road(tmp_path_factory.mktemp("water"), WATER)


def at(result, *point):
    return float(trilinear(result.gy, result.grid, np.array([point], dtype=float))[0])


def directly(phantom, *beams, grid, fractions=1, position="HFS", machine="point-6"):
    """Return the same plan asked of the engine without files."""
    density = Density(own_array(DEFAULT_CURVE.density(phantom.hu())), phantom.grid(), position)
    total = np.zeros(grid.shape)
    for b in beams:
        shape = Aperture(tuple(b.jaws[:2]), tuple(b.jaws[2:]))
        one = beam(shape, tuple(b.isocentre), b.gantry, b.collimator, b.couch)
        total += fractions * b.mu * dose(density, one, machine, grid).gy.astype(np.float64)
    return total


def test_monitor_units_and_fractions_give_gy(water):
    # 1 MU is 1 cGy at the maximum of the 100 mm field at SSD 1000 mm: 150 MU in 5 fractions are 7.5 Gy.
    result = water.run(replace(FRONT, mu=150.0), fractions=5)
    k, i = (round(v) for v in result.grid.index(FRONT.isocentre)[[0, 2]])
    assert result.gy[k, :, i].max() == pytest.approx(7.5, rel=0.005)
    file = pydicom.dcmread(water.folder / "RD.dcm")
    assert (file.Modality, file.DoseUnits, file.DoseType, file.DoseSummationType) == ("RTDOSE", "GY", "PHYSICAL", "PLAN")
    plan = pydicom.dcmread(water.folder / "RP.dcm")
    assert file.ReferencedRTPlanSequence[0].ReferencedSOPInstanceUID == plan.SOPInstanceUID
    assert file.FrameOfReferenceUID == plan.FrameOfReferenceUID
    assert file.StudyInstanceUID == plan.StudyInstanceUID
    assert file.PatientID == "PH-1"


def test_the_grid_covers_the_whole_phantom(water):
    lo, hi = water.run().grid.bounds_mm
    for axis in range(3):
        assert lo[axis] <= CENTRE[axis] - SIDE / 2 + 1e-6
        assert hi[axis] >= CENTRE[axis] + SIDE / 2 - 1e-6


def test_beams_add(water):
    side = replace(FRONT, isocentre=CENTRE, gantry=90.0, mu=70.0)
    one, two, both = water.run(FRONT), water.run(side), water.run(FRONT, side)
    assert np.abs(one.gy + two.gy - both.gy).max() < 1e-4 * both.gy.max()


@pytest.mark.parametrize("ssd", [900.0, 1100.0])
def test_inverse_square_and_mayneord(water, ssd):
    # The same 100 mm field at the surface from another distance: dose in the maximum falls with the square of the
    # distance of that point; at depth Mayneord's factor comes on top, whose scatter part is known to 1 %.
    jaws = tuple(v * 1000 / ssd for v in FIELD)
    far = water.run(replace(FRONT, isocentre=(CENTRE[0], TOP + 1000 - ssd, CENTRE[2]), jaws=jaws))
    near = water.run(FRONT)
    for depth, tolerance in ((15.0, 0.005), (100.0, 0.01)):
        law = ((1000 + depth) / (ssd + depth)) ** 2
        assert at(far, CENTRE[0], TOP + depth, CENTRE[2]) / at(near, CENTRE[0], TOP + depth, CENTRE[2]) == pytest.approx(
            law, rel=tolerance
        )


LUNG, WALL = -740, 0
TUMOUR = ((CENTRE[0], TOP + 110, CENTRE[2]), 15.0, WALL)
CASES = {
    "lung between water": Phantom(layers=((50, 150, LUNG),)),
    "lung down to the back": Phantom(layers=((30, 240, LUNG),), ball=TUMOUR),
    "lung only, a tumour in it": Phantom(layers=((0, 240, LUNG),), ball=TUMOUR),
    "lung at the front": Phantom(layers=((0, 80, LUNG),)),
    "bone": Phantom(layers=((30, 50, 1380),)),
    "a gap of air": Phantom(layers=((50, 80, -1000),)),
    "no air about the phantom": Phantom(air_mm=0.0, layers=((50, 150, LUNG),)),
}


@pytest.mark.parametrize("name", CASES)
def test_without_structures_all_matter_counts(tmp_path, name):
    phantom = CASES[name]
    small = replace(FRONT, isocentre=TUMOUR[0], jaws=(-25, 25, -25, 25))
    result = Road(tmp_path, phantom).run(small)
    truth = directly(phantom, small, grid=result.grid)
    assert np.abs(result.gy - truth).max() < 1e-3 * truth.max()


def test_an_outline_that_is_the_phantom_changes_nothing(water):
    write_box_structures(
        water.folder / "RS.dcm",
        (CENTRE[0] - SIDE / 2, TOP),
        (CENTRE[0] + SIDE / 2, TOP + SIDE),
        WATER.grid().z_mm,
        water.shared,
    )
    with_outline = water.run(extra=("--structures", water.folder / "RS.dcm"))
    without = water.run()
    for depth in (20, 100, 200):
        point = CENTRE[0], TOP + depth, CENTRE[2]
        assert at(with_outline, *point) == pytest.approx(at(without, *point), rel=0.003)


# Which way a beam from the gantry angle comes, in patient axes, and where device +X and +Y point (IEC 61217; the four
# positions on the couch seen from the foot of it: worked by hand).
SIDES = [
    ("HFS", 0.0, (0, -1, 0), (1, 0, 0), (0, 0, 1)),
    ("HFS", 90.0, (1, 0, 0), (0, 1, 0), (0, 0, 1)),
    ("HFP", 0.0, (0, 1, 0), (-1, 0, 0), (0, 0, 1)),
    ("HFP", 90.0, (-1, 0, 0), (0, -1, 0), (0, 0, 1)),
    ("FFS", 0.0, (0, -1, 0), (-1, 0, 0), (0, 0, -1)),
    ("FFS", 270.0, (1, 0, 0), (0, -1, 0), (0, 0, -1)),
    ("FFP", 180.0, (0, -1, 0), (-1, 0, 0), (0, 0, -1)),
]


@pytest.mark.parametrize(("position", "gantry", "source", "device_x", "device_y"), SIDES)
def test_beams_enter_where_the_position_says(tmp_path, position, gantry, source, device_x, device_y):
    road = Road(tmp_path, Phantom(spacing_mm=(6.0, 6.0, 6.0), air_mm=24.0), position)
    one = PlainBeam(CENTRE, (10.0, 50.0, 20.0, 80.0), gantry=gantry)
    result = road.run(one, position=position, grid_mm=5)
    points = np.stack(np.meshgrid(result.grid.z_mm, result.grid.y_mm, result.grid.x_mm, indexing="ij")[::-1], axis=-1)
    offset = points - np.array(CENTRE)
    plane = np.abs(offset @ source) < 3
    mean = np.average(offset[plane], axis=0, weights=result.gy[plane] ** 2)
    assert mean @ device_x == pytest.approx(30, abs=2)
    assert mean @ device_y == pytest.approx(50, abs=2)
    ahead = np.array(CENTRE) + 60 * np.array(source) + 30 * np.array(device_x) + 50 * np.array(device_y)
    behind = ahead - 120 * np.array(source)
    assert at(result, *ahead) > 1.3 * at(result, *behind)


def test_the_plans_position_counts_when_the_ct_lay_otherwise(tmp_path, capsys):
    road = Road(tmp_path, Phantom(spacing_mm=(6.0, 6.0, 6.0), air_mm=24.0), "HFS")
    result = road.run(PlainBeam(CENTRE, FIELD), position="HFP", grid_mm=5)
    assert at(result, CENTRE[0], CENTRE[1] + 60, CENTRE[2]) > 1.3 * at(result, CENTRE[0], CENTRE[1] - 60, CENTRE[2])
    assert "The CT was taken HFS, the plan is for HFP" in capsys.readouterr().out


def test_ct_numbers_beyond_the_curve_are_told(tmp_path, capsys):
    metal = Phantom(spacing_mm=(6.0, 6.0, 6.0), air_mm=24.0, layers=((60.0, 80.0, 9000),))
    Road(tmp_path, metal).run(grid_mm=6)
    assert "CT numbers reach 9000 HU, the density curve ends at 3000 HU" in capsys.readouterr().out


def test_a_turned_collimator_and_couch(water):
    # A field of 40 x 120 mm, its long side along Y; a collimator at 90 degrees lays it across, a couch at 90 likewise.
    long = replace(FRONT, jaws=(-20.0, 20.0, -60.0, 60.0))
    depth = TOP + 50.0
    plain = water.run(long)
    for turned in (replace(long, collimator=90.0), replace(long, couch=90.0)):
        result = water.run(turned)
        for step in (10, 30, 50, 75):
            along = at(plain, CENTRE[0], depth, CENTRE[2] + step)
            assert at(result, CENTRE[0] + step, depth, CENTRE[2]) == pytest.approx(along, rel=0.02, abs=0.002)


def test_leaves_that_make_a_square_do_as_jaws_do(water):
    bounds = [*range(-200, -100, 10), *range(-100, 100, 5), *range(100, 201, 10)]
    inside = [low >= -50 and high <= 50 for low, high in pairwise(bounds)]
    leaves = bounds, [-50.0 if i else 60.0 for i in inside], [50.0 if i else 60.0 for i in inside]
    result = water.run(replace(FRONT, jaws=(-60.0, 60.0, -60.0, 60.0), leaves=leaves))
    jaws = water.run()
    assert np.abs(result.gy - jaws.gy).max() < 0.002 * jaws.gy.max()


def test_ct_spacing_changes_little(tmp_path, water):
    fine = Road(tmp_path, Phantom(spacing_mm=(2.0, 2.0, 5.0), air_mm=20.0)).run()
    plain = water.run()
    for depth in (20, 50, 100, 200):
        point = CENTRE[0], TOP + depth, CENTRE[2]
        assert at(fine, *point) == pytest.approx(at(plain, *point), rel=0.005)


def silent(d):
    for item in d.BeamSequence:
        for keyword in ("TreatmentMachineName", "TreatmentDeliveryType", "NumberOfWedges", "NumberOfBlocks", "BeamName"):
            delattr(item, keyword)
        del item.ControlPointSequence[0].NominalBeamEnergy
        del item.FinalCumulativeMetersetWeight
    del d.PatientSetupSequence
    del d.FrameOfReferenceUID


def test_optional_tags_may_be_missing(water):
    assert np.array_equal(water.run(change=silent).gy, water.run().gy)


def test_a_plan_without_machine_asks_for_one(water, capsys):
    water.run(machine=None, change=silent, code=1)
    assert "--machine" in capsys.readouterr().err


def test_an_unknown_machine_is_said_with_those_there_are(water, capsys):
    water.run(machine=None, code=1)
    assert "point-6" in capsys.readouterr().err


def test_another_energy_than_the_machine_is_said(water, capsys):
    water.run(replace(FRONT, energy=10.0))
    assert "asks for 10 MV; point-6 gives 6 MV" in capsys.readouterr().out


def test_a_beam_of_no_monitor_units_adds_nothing(water):
    idle = replace(FRONT, gantry=90.0, mu=0.0)
    assert np.allclose(water.run(FRONT, idle).gy, water.run(FRONT).gy, atol=1e-6)


def test_a_narrow_field_gets_a_finer_grid(water, capsys):
    small = replace(FRONT, jaws=(-5.0, 5.0, -5.0, 5.0))
    assert water.run(small, grid_mm=None).grid.spacing_mm == (1.25,) * 3
    assert "1.25 mm fine" in capsys.readouterr().out
    assert water.run(small, grid_mm=4).grid.spacing_mm == (4.0,) * 3


def test_another_reader_finds_the_same_dose_at_the_same_place(water):
    result = water.run(replace(FRONT, isocentre=(CENTRE[0] + 20, TOP, CENTRE[2] - 30)))
    file = pydicom.dcmread(water.folder / "RD.dcm")
    assert list(file.ImageOrientationPatient) == [1, 0, 0, 0, 1, 0]
    gy = file.pixel_array * float(file.DoseGridScaling)
    dy, dx = (float(v) for v in file.PixelSpacing)
    x0, y0, z0 = (float(v) for v in file.ImagePositionPatient)
    offsets = [float(v) for v in file.GridFrameOffsetVector]
    assert offsets[0] == 0
    for x, y, z in ((10.0, TOP + 20, 300.0), (30.0, TOP + 100, 270.0), (75.0, TOP + 60, 250.0)):
        k = int(np.argmin(np.abs(np.array(offsets) + z0 - z)))
        j, i = round((y - y0) / dy), round((x - x0) / dx)
        place = x0 + i * dx, y0 + j * dy, z0 + offsets[k]
        assert gy[k, j, i] == pytest.approx(at(result, *place), rel=1e-4, abs=1e-5)
    k, j, i = np.unravel_index(int(np.argmax(gy)), gy.shape)
    assert abs(x0 + i * dx - CENTRE[0] - 20) < 45
    assert abs(z0 + offsets[k] - CENTRE[2] + 30) < 45


def test_everything_may_lie_in_one_folder(tmp_path):
    road = Road(tmp_path, Phantom(spacing_mm=(6.0, 6.0, 6.0), air_mm=24.0))
    apart = road.run(grid_mm=5)
    for name in ("RP.dcm", "RD.dcm"):
        (tmp_path / "ct" / name).write_bytes((tmp_path / name).read_bytes())
    (tmp_path / "ct" / "notes.txt").write_text("phantom of 12 May")
    some = next(iter((tmp_path / "ct").glob("CT.*")))
    some.rename(some.with_suffix(""))
    assert np.array_equal(road.run(grid_mm=5).gy, apart.gy)


def test_jaws_by_their_plain_names_and_stored_numbers(water):
    def plain(d):
        item = d.BeamSequence[0]
        for part in (*item.BeamLimitingDeviceSequence, *item.ControlPointSequence[0].BeamLimitingDevicePositionSequence):
            part.RTBeamLimitingDeviceType = part.RTBeamLimitingDeviceType.replace("ASYM", "")
        item.ControlPointSequence[1].GantryAngle = 0.0
        item.ControlPointSequence[1].IsocenterPosition = item.ControlPointSequence[0].IsocenterPosition
        item.FinalCumulativeMetersetWeight = 100.0
        item.ControlPointSequence[1].CumulativeMetersetWeight = 100.0
        d.FractionGroupSequence[0].ReferencedBeamSequence[0].BeamDose = 1.0

    assert np.array_equal(water.run(change=plain).gy, water.run().gy)


def test_field_on_another_place_than_the_frame_is_refused(water, capsys):
    def elsewhere(d):
        d.FrameOfReferenceUID = identity()["frame"]

    water.run(change=elsewhere, code=1)
    assert "frames of reference" in capsys.readouterr().err


def test_a_field_that_passes_the_end_of_the_scan_is_told(water, capsys):
    water.run(FRONT)
    assert "end of the dose grid" not in capsys.readouterr().out
    water.run(replace(FRONT, isocentre=(CENTRE[0], TOP, CENTRE[2] + 90)))
    assert "passes the head end of the dose grid" in capsys.readouterr().out
