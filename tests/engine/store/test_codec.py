"""Values survive the trip through bytes, share what they share, and damage is noticed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from engine.base.errors import StoreError
from engine.base.values import Value
from engine.case import edits
from engine.store import codec
from engine.store.case_file import CaseFile
from tests.support.cases import GRID, ball, flat_dose, small_case


def stored(value):
    return {h: (k, n, b) for h, k, n, b in codec.rows(value, lambda _: False)}


def test_a_case_comes_back_with_the_same_fingerprint_and_content():
    case = small_case()
    rows = stored(case)
    back = codec.Reader(rows.__getitem__).value(case.fingerprint)
    assert back == case
    assert np.array_equal(back.image.hu, case.image.hu)
    assert back.volumes[1].coverage.volume_cm3 == case.volumes[1].coverage.volume_cm3
    assert not back.image.hu.flags.writeable
    # recomputed from scratch, not remembered from the row
    assert back.but().fingerprint == case.fingerprint


def test_parts_that_are_shared_are_one_object_after_reading():
    case = small_case()
    back = codec.Reader(stored(case).__getitem__).value(case.fingerprint)
    assert back.volumes[0].coverage.grid is back.image.grid


def test_an_edit_of_one_slice_writes_only_what_is_new():
    case = small_case()
    rows = stored(case)
    volume = case.volumes[1]
    painted = volume.with_coverage(volume.coverage.with_slice(9, np.full(GRID.shape[1:], 255, np.uint8)))
    after = edits.with_volume(case, painted)
    fresh = {h: k for h, k, _, _ in codec.rows(after, rows.__contains__)}
    assert sorted(fresh.values()) == ["Case", "Coverage", "Tile", "Volume", "array"]


def test_floats_that_are_not_finite_survive():
    dose = flat_dose(GRID, 1.0)
    grid = GRID.but(origin_mm=(0.1, 1 / 3, -1e-300))
    back = codec.Reader(stored(grid).__getitem__).value(grid.fingerprint)
    assert back.origin_mm == grid.origin_mm
    assert codec.Reader(stored(dose).__getitem__).value(dose.fingerprint) == dose


@pytest.mark.parametrize("kind", ["array", "Tile"])
def test_a_changed_byte_is_named_as_damage(kind):
    coverage = ball(GRID, (0, 0, 0), 15)
    rows = stored(coverage)
    victim = next(h for h, (k, _, _) in rows.items() if k == kind)
    data = bytearray(rows[victim][2])
    data[len(data) // 2] ^= 1
    rows[victim] = (*rows[victim][:2], bytes(data))
    with pytest.raises(StoreError, match="damaged"):
        codec.Reader(rows.__getitem__).value(coverage.fingerprint)


def test_a_kind_nobody_knows_asks_for_an_update():
    import hashlib

    data = b'{"fields":{},"kind":"FromTheFuture","layout":1}'
    key = hashlib.sha256(data).hexdigest()
    with pytest.raises(StoreError, match="newer program"):
        codec.Reader({key: ("FromTheFuture", 1, data)}.__getitem__).value(key)


def test_a_case_of_layout_1_opens_with_its_machines_and_beams_brought_up(tmp_path):
    # Written before machines knew the planes of jaws and leaves and before beams knew wedges and boluses.
    old = tmp_path / "layout-1.halfshade"
    old.write_bytes((Path(__file__).parent / "old_files" / "layout-1.halfshade").read_bytes())
    with CaseFile.open(old) as file:
        case = file.case()
        machine = case.machine("generic-6")
        assert (machine.upper_jaw_mm, machine.lower_jaw_mm, machine.leaf_distance_mm) == (450.0,) * 3
        assert (machine.monitor_backscatter, machine.wedges, machine.calibration_ssd_mm) == (0.0, (), 1000.0)
        assert machine.extra_focal_share == 0.039
        beam = case.drafts[0].beam("g")
        assert (beam.gantry_deg, beam.collimator_deg, len(beam.aperture.leaves_mm)) == (90.0, 15.0, 60)
        assert (beam.wedge, beam.bolus) == ("", ())
        # What was signed is named by the fingerprint it was stored under.
        assert case.fingerprint == "b8ed33a7fc9708553b4ec3f059d27d70ea1923d28c985027d3b9eaff03e60531"
        changed = edits.with_draft(case, case.drafts[0].but(name="Renamed"))
        assert file.save(changed)
        assert file.case().drafts[0].name == "Renamed"
        assert file.check() == "ok"


def test_a_case_from_before_the_later_fields_keeps_its_fingerprints(tmp_path):
    # Written before volumes could be derived or released, before second images and before beams of several openings.
    old = tmp_path / "layout-2.halfshade"
    old.write_bytes((Path(__file__).parent / "old_files" / "layout-2.halfshade").read_bytes())
    with CaseFile.open(old) as file:
        case = file.case()
        assert case.but().fingerprint == "25ae5af82069d3b844c87a88988ec38caf25a8b316f0214e1e7d46c0562982c2"
        assert case.drafts[0].beam("g").wedge == "W15"


def test_every_layout_below_the_present_has_its_step():
    for kind, cls in Value.KINDS.items():
        for layout in range(1, cls.LAYOUT):
            assert (kind, layout) in codec.UPGRADES
