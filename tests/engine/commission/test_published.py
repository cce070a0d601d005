"""Published values: only what applies, and nothing recalled can pass or fail."""

from __future__ import annotations

import numpy as np
import pytest

from engine.base.sources import Source
from engine.beams.machine_file import load_machine
from engine.commission.beam_data import BeamData, FieldRow, ProfileRow
from engine.commission.published import (
    PublishedCheck,
    fields_of,
    found_in,
    kinds_of,
    named,
    published_checks,
    published_tables,
)


def data(tpr=0.669, pdd=66.7):
    percents = tuple((d, v) for d, v in ((2.0, 55.0), (5.0, 81.0), (10.0, 97.0), (50.0, 86.3), (100.0, pdd), (200.0, 38.5)))
    rows = tuple(FieldRow(s, 15.0, percents, 16.5, 0.01, 1.0, 1.0, 1.0, 1.0) for s in (100.0, 200.0))
    profiles = (ProfileRow(200.0, "x", 100.0, 220.0, 6.0, 1.5, 0.1),)
    quality = (("tpr_20_10", tpr), ("pdd_20_10", 0.577), ("d_max_mm", 15.0), ("surface_percent", 16.5))
    return BeamData("m", "", (), rows, profiles, quality)


def test_what_a_machine_is():
    assert kinds_of(load_machine("point-6")) == {"any", "spectrum", "ideal"}
    assert kinds_of(load_machine("point-10")) == {"any"}
    assert kinds_of(load_machine("generic-6")) == {"any", "spectrum", "flattened"}
    bare = load_machine("generic-6").but(horn_mm=(0.0, 200.0), horn_fluence=(1.0, 0.6))
    assert "unflattened" in kinds_of(bare)


def test_every_table_has_a_source_and_words():
    for table in published_tables():
        assert table.source.title
        for quantity, side, depth in zip(table.text("quantity"), table["field_mm"], table["depth_mm"], strict=True):
            assert "nan" not in named(quantity, side, depth)
        assert np.all(table["band"] > 0)


def test_recalled_values_never_count():
    recalled = [c for c in published_checks(load_machine("generic-6"), data()) if c.source.known == "memory"]
    assert recalled
    assert not any(c.counts for c in recalled)


def test_a_wrong_beam_is_outside():
    good = {c.name: c for c in published_checks(load_machine("point-6"), data())}
    bad = {c.name: c for c in published_checks(load_machine("point-6"), data(tpr=0.70))}
    assert good["TPR20,10"].within
    assert good["TPR20,10"].counts
    assert not bad["TPR20,10"].within


def test_quantities_are_found_where_they_were_computed():
    d = data()
    assert found_in(d, "depth_ratio", 100.0, 50.0) == pytest.approx(86.3 / 66.7)
    assert found_in(d, "flatness_percent", 200.0, 100.0) == 1.5
    assert found_in(d, "flatness_percent", 100.0, 100.0) is None
    assert found_in(d, "sp", 40.0, 100.0) is None
    assert found_in(d, "surface_percent", 200.0, np.nan) == 16.5
    assert found_in(d, "trs_398", 100.0, np.nan) == pytest.approx(0.669 - (1.2661 * 0.577 - 0.0595))
    assert found_in(d, "pdd", 100.0, 70.0) is None


def test_fields_that_the_tables_ask_for():
    assert {40.0, 100.0, 300.0} <= set(fields_of(load_machine("point-6")))
    assert max(fields_of(load_machine("generic-6").but(field_limit_mm=100.0))) <= 200


@pytest.mark.parametrize(("found", "within"), [(1.0, True), (1.1, True), (0.89, False)])
def test_the_band_is_closed(found, within):
    assert PublishedCheck("x", Source("t", "read"), 1.0, 0.1, found).within == within
