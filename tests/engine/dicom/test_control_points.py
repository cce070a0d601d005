"""Control points of RT Plans: segments and arcs go out and come back; what makes no sense is refused."""

from __future__ import annotations

import pydicom
import pytest
from pydicom.dataset import Dataset

from engine.base.errors import InputError
from engine.beams.arcs import with_arc
from engine.beams.beam import ControlPoint
from engine.beams.segments import Segment, segments, with_segments
from engine.case import edits
from engine.dicom.common import save_file
from engine.dicom.plan import read_plan
from engine.dicom.plan_file import plan_dataset
from tests.support.dicom_files import checker_errors, planned_case, spoil

MU = (100.0, 250.0, 120.0)


def case_with(change):
    """Return the planned case with its second beam changed."""
    case = planned_case()
    draft = edits.with_beam(case.drafts[0], change(case.drafts[0].beams[1]))
    return edits.with_draft(case, draft)


def narrower(beam, by=5.0):
    a = beam.aperture
    pairs = ((lo + by, hi - by) if hi - lo > 2 * by else (lo, hi) for lo, hi in a.leaves_mm)
    return a.but(leaves_mm=tuple((round(lo, 6), round(hi, 6)) for lo, hi in pairs))


def stepped(beam):
    return with_segments(beam, [Segment(0.4, beam.aperture), Segment(0.6, narrower(beam))])


def arc(beam):
    return with_arc(beam, (170, 175, 185, 190), (beam.aperture, narrower(beam), narrower(beam), beam.aperture), "CW")


def sweep(beam):
    ends = beam.aperture, narrower(beam)
    return beam.but(points=tuple(ControlPoint(w, beam.gantry_deg, a) for w, a in zip((0, 1), ends)))


KINDS = {"stepped": stepped, "arc": arc, "sweep": sweep}


def written(case, folder):
    save_file(plan_dataset(case, case.drafts[0], MU), folder / "RP.dcm")
    return folder / "RP.dcm"


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_written_is_read_back(tmp_path, kind):
    case = case_with(KINDS[kind])
    plan = read_plan(written(case, tmp_path))
    wanted, found = case.drafts[0].beams[1], plan.beams[1]
    assert found.rotation == wanted.rotation
    assert [p.gantry_deg for p in found.points] == [p.gantry_deg for p in wanted.points]
    assert [p.aperture for p in found.points] == [p.aperture for p in wanted.points]
    assert [p.cumulative_weight for p in found.points] == pytest.approx([p.cumulative_weight for p in wanted.points])
    assert plan.beams[0].points == ()
    assert plan.mu == MU


@pytest.mark.parametrize("kind", KINDS)
def test_the_outside_checker_finds_no_error(tmp_path, kind):
    assert checker_errors([written(case_with(KINDS[kind]), tmp_path)], tmp_path) == []


def test_segments_are_static_and_jump_where_no_units_are_given(tmp_path):
    # PS3.3 C.8.8.14: STATIC where nothing changes between points of different weight.
    item = pydicom.dcmread(written(case_with(stepped), tmp_path)).BeamSequence[1]
    points = item.ControlPointSequence
    assert (item.BeamType, item.NumberOfControlPoints) == ("STATIC", 4)
    assert [float(p.CumulativeMetersetWeight) for p in points] == [0, 0.4, 0.4, 1]
    leaves = [p.BeamLimitingDevicePositionSequence[2].LeafJawPositions for p in points]
    assert leaves[0] == leaves[1] != leaves[2] == leaves[3]
    assert "GantryAngle" not in points[1]


def test_an_arc_is_dynamic_and_says_its_way_at_every_point(tmp_path):
    item = pydicom.dcmread(written(case_with(arc), tmp_path)).BeamSequence[1]
    points = item.ControlPointSequence
    assert item.BeamType == "DYNAMIC"
    assert [float(p.GantryAngle) for p in points] == [170, 175, 185, 190]
    assert [p.GantryRotationDirection for p in points] == ["CW", "CW", "CW", "NONE"]
    assert [float(p.CumulativeMetersetWeight) for p in points] == pytest.approx([0, 0.25, 0.75, 1])


def test_units_at_a_control_point(tmp_path):
    """Meterset times cumulative weight over the final one (DICOM PS3.3 C.8.8.14 [read]; two worked examples)."""
    case = case_with(stepped)

    def percent(d):
        d.BeamSequence[1].FinalCumulativeMetersetWeight = 100
        for p, w in zip(d.BeamSequence[1].ControlPointSequence, (0, 37.5, 37.5, 100)):
            p.CumulativeMetersetWeight = w

    path = written(case, tmp_path)
    plan = read_plan(path)
    assert plan.mu[1] * plan.beams[1].points[1].cumulative_weight == pytest.approx(100)  # 250 MU, weight 0.4 of 1
    spoil(path, percent)
    plan = read_plan(path)
    assert 180 * plan.beams[1].points[1].cumulative_weight == pytest.approx(67.5)  # 180 MU, weight 37.5 of 100
    assert [s.share for s in segments(plan.beams[1])] == pytest.approx([0.375, 0.625])


def test_a_leaf_bank_that_stays_unsaid_stays(tmp_path):
    path = written(case_with(stepped), tmp_path)

    def only_leaves(d):
        for p in d.BeamSequence[1].ControlPointSequence[1:]:
            del p.BeamLimitingDevicePositionSequence[:2]

    before = read_plan(path).beams[1].points
    spoil(path, only_leaves)
    assert read_plan(path).beams[1].points == before


def test_a_full_turn_ends_where_it_began(tmp_path):
    case = case_with(lambda b: with_arc(b, (180, 180), (b.aperture,) * 2, "CC"))
    found = read_plan(written(case, tmp_path)).beams[1]
    assert (found.rotation, [p.gantry_deg for p in found.points]) == ("CC", [180, 180])


def one(k, keyword, value):
    return lambda d: setattr(d.BeamSequence[1].ControlPointSequence[k], keyword, value)


def shifted(d):
    d.BeamSequence[1].ControlPointSequence[2].IsocenterPosition = [0, 0, 9]


def odd_leaves(d):
    item = Dataset()
    item.RTBeamLimitingDeviceType, item.LeafJawPositions = "MLCX", [1, 2, 3]
    d.BeamSequence[1].ControlPointSequence[2].BeamLimitingDevicePositionSequence = [item]


@pytest.mark.parametrize(
    ("kind", "change", "words"),
    [
        ("arc", one(1, "GantryRotationDirection", "CC"), "one way and then the other"),
        ("arc", one(1, "GantryRotationDirection", "NONE"), "without saying which way"),
        ("arc", one(2, "BeamLimitingDeviceAngle", 77), "collimator angle changes"),
        ("arc", one(2, "PatientSupportRotationDirection", "CW"), "couch turns"),
        ("arc", one(2, "CumulativeMetersetWeight", 0.1), "weight falls"),
        ("arc", lambda d: delattr(d.BeamSequence[1].ControlPointSequence[2], "CumulativeMetersetWeight"), "3 is missing"),
        ("arc", shifted, "isocentre moves"),
        ("stepped", odd_leaves, "3 leaf positions do not fit"),
        ("stepped", one(2, "GantryAngle", 3.0), "without saying which way"),
    ],
)
def test_what_makes_no_sense_is_refused(tmp_path, kind, change, words):
    path = written(case_with(KINDS[kind]), tmp_path)
    spoil(path, change)
    with pytest.raises(InputError, match=words) as caught:
        read_plan(path)
    assert "RP.dcm" in caught.value.where
