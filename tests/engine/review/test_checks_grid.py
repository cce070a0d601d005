"""The dose grid holds the beams, or it is said which end of it they pass, and where."""

import numpy as np
import pytest

from engine.beams.arcs import with_arc
from engine.beams.beam import Aperture
from engine.case import edits
from engine.case.requests import Standing
from engine.review.checks_grid import body_at_sides, dose_grid_holds_beams, through
from engine.review.finding import Facts
from engine.space.grid import Grid
from tests.support.cases import GRID, planned_case, tube

CASE = planned_case()
LONG = Aperture((-32, 32), (-32, 70))


def found(**changes):
    draft = CASE.drafts[0]
    draft = edits.with_beam(draft, draft.beams[0].but(**changes))
    case = edits.with_draft(CASE, draft)
    return [f for f in dose_grid_holds_beams(Facts(case, draft, Standing("none"), None)) if f.beam_key == "a"]


def test_a_beam_within_the_scan_leaves_no_finding():
    assert found() == []


def test_a_beam_that_passes_the_end_of_the_scan_inside_the_body_is_told_with_the_end_and_the_place():
    (one,) = found(aperture=LONG)
    assert (one.code, one.severity) == ("beam-leaves-grid", "warn")
    assert "passes the head end" in one.evidence
    assert one.point_mm[2] == pytest.approx(47.5)
    # The couch at half a turn carries the open side to the feet.
    (other,) = found(aperture=LONG, couch_deg=180)
    assert "passes the foot end" in other.evidence


def test_leaves_that_cover_the_end_of_the_scan_hold_the_beam():
    edges = (-40.0, 40.0, 80.0)
    assert found(aperture=LONG.but(leaf_edges_mm=edges, leaves_mm=((-32, 32), (0, 0)))) == []
    assert found(aperture=LONG.but(leaf_edges_mm=edges, leaves_mm=((-32, 32), (-5, 5)))) != []


def test_an_isocentre_beyond_the_grid_stops_the_plan():
    codes = {f.code: f for f in found(isocentre_mm=(0, 200, 0))}
    assert codes["isocentre-beyond-grid"].severity == "stop"
    assert codes["isocentre-beyond-grid"].point_mm == (0, 200, 0)


def test_every_angle_and_opening_of_an_arc_is_looked_at():
    beam = CASE.drafts[0].beams[0]
    narrow = Aperture((-32, 32), (-32, 32))
    assert found(**fields(with_arc(beam, (0, 120), (narrow, narrow), "CW"))) == []
    opening = with_arc(beam, (0, 60, 120), (narrow, narrow, LONG), "CW")
    assert [f.code for f in found(**fields(opening))] == ["beam-leaves-grid"]


def fields(beam):
    return {name: getattr(beam, name) for name in ("gantry_deg", "aperture", "points", "rotation")}


def test_a_body_that_touches_the_side_of_the_image_is_seen_there_and_air_is_not():
    wide = tube(GRID, (20, 0), 55)
    box = Grid(GRID.origin_mm, GRID.spacing_mm, GRID.shape)
    sides = body_at_sides(wide, box)
    assert set(sides) == {"left", "foot", "head"}
    assert np.all(sides["left"][:, 0] == GRID.bounds_mm[1][0])
    assert np.all(np.abs(sides["left"][:, 1]) < 40)


def test_only_points_in_the_open_field_are_passed():
    beam = CASE.drafts[0].beams[0]
    points = np.array([(0.0, 0.0, 0.0), (0.0, 0.0, 31.0), (0.0, 0.0, 33.0), (0.0, -100.0, 31.0)])
    # Nearer to the source the field is narrower.
    assert np.array_equal(through(points, beam, 1000.0, "HFS"), points[:2])
