import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.base.errors import GeometryError
from engine.space.frames import POSITIONS, beam_from_patient, fixed_from_beam, fixed_from_patient, project, source_mm

angles = st.floats(0, 359.9)
ISO = (12.0, -30.0, 55.0)
LEFT, POSTERIOR, HEAD = np.eye(3)


@given(st.sampled_from(POSITIONS), angles, angles, angles)
def test_every_frame_is_a_rotation(position, gantry, collimator, couch):
    m = beam_from_patient(position, gantry, collimator, couch)
    assert np.allclose(m @ m.T, np.eye(3), atol=1e-12)
    assert np.linalg.det(m) == pytest.approx(1.0)


# Worked rows derived from the definitions of IEC 61217 and DICOM PS3.3 C.7.6.2.1.1 (common practice).
def test_gantry_50_head_first_supine():
    away = source_mm(ISO, "HFS", 50.0, 0.0, 1000.0) - ISO
    assert np.allclose(away, (766.0, -642.8, 0.0), atol=0.05)
    assert np.allclose(fixed_from_patient("HFS") @ away, (766.0, 0.0, 642.8), atol=0.05)


@pytest.mark.parametrize(
    ("position", "gantry", "towards"),
    [
        ("HFS", 0, -POSTERIOR),
        ("HFS", 90, LEFT),
        ("HFS", 180, POSTERIOR),
        ("HFS", 270, -LEFT),
        ("HFP", 0, POSTERIOR),
        ("HFP", 90, -LEFT),
        ("FFS", 0, -POSTERIOR),
        ("FFS", 90, -LEFT),
        ("FFP", 0, POSTERIOR),
        ("FFP", 90, LEFT),
    ],
)
def test_the_source_stands_where_the_position_says(position, gantry, towards):
    assert np.allclose(source_mm(ISO, position, gantry, 0.0, 1000.0) - ISO, 1000 * towards, atol=1e-9)


def test_the_head_points_to_the_gantry_only_head_first():
    for position, sign in (("HFS", 1), ("HFP", 1), ("FFS", -1), ("FFP", -1)):
        assert np.allclose(fixed_from_patient(position) @ HEAD, (0, sign, 0))


def test_a_positive_couch_angle_turns_the_patient_anticlockwise_seen_from_above():
    # Seen from above with +X right and +Y (the gantry) up, the head of a head-first patient goes from up to left.
    assert np.allclose(fixed_from_patient("HFS", 90.0) @ HEAD, (-1, 0, 0), atol=1e-12)
    # A beam from gantry 90 (+X) then comes from the feet.
    assert np.allclose(source_mm(ISO, "HFS", 90.0, 90.0, 1000.0) - ISO, -1000 * HEAD, atol=1e-9)


def test_a_positive_collimator_angle_turns_x_towards_y():
    assert np.allclose(fixed_from_beam(0.0, 90.0) @ (1, 0, 0), (0, 1, 0), atol=1e-12)
    assert np.allclose(fixed_from_beam(0.0, 30.0) @ (0, 0, 1), (0, 0, 1), atol=1e-12)


@given(angles, st.floats(-150, 150), st.floats(-150, 150), st.floats(-200, 200))
def test_projection_meets_the_isocentre_plane_on_the_ray(gantry, x, y, z):
    to_beam = beam_from_patient("HFS", gantry, 20.0, 10.0)
    source = source_mm(ISO, "HFS", gantry, 10.0, 1000.0)
    point = ISO + np.array((x, y, z)) @ to_beam
    u, v = project(point, ISO, to_beam, 1000.0)
    on_plane = ISO + np.array((u, v, 0.0)) @ to_beam
    assert np.linalg.norm(np.cross(on_plane - source, point - source)) < 1e-6 * 1e6


def test_an_unknown_position_is_refused_in_words():
    with pytest.raises(GeometryError, match="HFS"):
        fixed_from_patient("SITTING")
