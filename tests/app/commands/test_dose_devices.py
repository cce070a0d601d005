"""Wedges and boluses of another vendor's plan through ``halfshade dose``."""

from __future__ import annotations

import numpy as np
import pydicom
import pytest
from pydicom.dataset import Dataset

from tests.app.commands.test_dose_road import CENTRE, SIDE, TOP, WATER, Road, at
from tests.support.third_party import write_box_structures


@pytest.fixture(scope="module")
def water(tmp_path_factory):
    return Road(tmp_path_factory.mktemp("devices"), WATER)


def with_wedge(name="IN-45", kind="STANDARD", angle=45, orientation=270.0):
    def change(plan):
        wedge = Dataset()
        wedge.WedgeNumber, wedge.WedgeType, wedge.WedgeID = 1, kind, name
        wedge.WedgeAngle, wedge.WedgeFactor, wedge.WedgeOrientation = angle, None, orientation
        (beam,) = plan.BeamSequence
        beam.NumberOfWedges, beam.WedgeSequence = 1, [wedge]
        place = Dataset()
        place.WedgePosition, place.ReferencedWedgeNumber = "IN", 1
        beam.ControlPointSequence[0].WedgePositionSequence = [place]

    return change


def sides(result):
    y = TOP + 100.0
    return [at(result, CENTRE[0] + dx, y, CENTRE[2] + dz) for dx, dz in ((30, 0), (-30, 0), (0, 30), (0, -30))]


@pytest.mark.parametrize(("orientation", "most"), [(0.0, 2), (90.0, 1), (180.0, 3), (270.0, 0)])
def test_the_toe_lies_where_the_plan_turns_it(water, orientation, most):
    # Gantry 0, head first supine: +X of the device is the patient's left (+x), +Y the head (+z).
    found = sides(water.run(machine="generic-6", change=with_wedge(orientation=orientation)))
    other = most ^ 1
    assert found[most] > 1.25 * found[other]
    across = [f for i, f in enumerate(found) if i not in (most, other)]
    assert across[0] == pytest.approx(across[1], rel=0.02)


def test_a_wedge_of_the_same_kind_and_angle_stands_in_and_is_said(water, capsys):
    water.run(machine="generic-6", change=with_wedge())
    said = capsys.readouterr()
    assert "W45" in said.out + said.err
    assert "IN-45" in said.out + said.err


def test_a_wedge_nobody_has_is_refused_by_the_name_of_its_beam(water, capsys):
    water.run(machine="generic-6", change=with_wedge(angle=20), code=1)
    said = capsys.readouterr().err
    assert "no wedge IN-45" in said
    assert "beam" in said


def test_a_field_beyond_the_wedge_is_computed_and_said(water, capsys):
    def change(plan):
        with_wedge("W60", angle=60, orientation=0.0)(plan)
        positions = plan.BeamSequence[0].ControlPointSequence[0].BeamLimitingDevicePositionSequence
        next(p for p in positions if p.RTBeamLimitingDeviceType.endswith("Y")).LeafJawPositions = [-95.0, 60.0]

    water.run(machine="generic-6", change=change)
    said = capsys.readouterr()
    assert "along wedge W60" in said.out + said.err


def lay_bolus(plan):
    bolus = Dataset()
    bolus.ReferencedROINumber = 9
    plan.BeamSequence[0].NumberOfBoli, plan.BeamSequence[0].ReferencedBolusSequence = 1, [bolus]


def structures(road, kind="BOLUS"):
    """Write the outline of the box and, as ROI 9, a sheet of 12 mm on its front."""
    path, other = road.folder / "RS.dcm", road.folder / "sheet.dcm"
    z = road.phantom.grid().z_mm
    x = (CENTRE[0] - SIDE / 2, CENTRE[0] + SIDE / 2)
    write_box_structures(path, (x[0], TOP), (x[1], TOP + SIDE), z, road.shared)
    write_box_structures(other, (CENTRE[0] - 60, TOP - 12), (CENTRE[0] + 60, TOP), z, road.shared, kind)
    d, sheet = pydicom.dcmread(path), pydicom.dcmread(other)
    for name, number in (
        ("StructureSetROISequence", "ROINumber"),
        ("RTROIObservationsSequence", "ReferencedROINumber"),
        ("ROIContourSequence", "ReferencedROINumber"),
    ):
        item = getattr(sheet, name)[0]
        setattr(item, number, 9)
        getattr(d, name).append(item)
    d.StructureSetROISequence[1].ROIName = "Sheet"
    d.RTROIObservationsSequence[1].ObservationNumber = 2
    d.save_as(path)
    return ("--structures", str(path))


def test_a_bolus_counts_for_the_beam_that_names_it(water):
    given = structures(water)
    bare = water.run(extra=given)
    laid = water.run(extra=given, change=lay_bolus)
    skin, deep = (CENTRE[0], TOP + 3.0, CENTRE[2]), (CENTRE[0], TOP + 100.0, CENTRE[2])
    assert at(laid, *skin) > 1.2 * at(bare, *skin)
    # 12 mm of water more ahead of the same place: mu of about 0.0045 per mm with scatter, nothing for distance.
    assert at(laid, *deep) / at(bare, *deep) == pytest.approx(np.exp(-0.0043 * 12), abs=0.015)


def test_a_bolus_that_is_not_given_or_is_something_else_is_refused(water, capsys):
    water.run(change=lay_bolus, code=1)
    assert "--structures" in capsys.readouterr().err
    water.run(change=lay_bolus, extra=structures(water, "ORGAN"), code=1)
    assert "whose role is OAR" in capsys.readouterr().err
