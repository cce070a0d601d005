import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.dose.kernels import (
    PRIMARY_RINGS,
    SCATTER_RINGS,
    SHAPE_DEPTHS_G_CM2,
    beam_kernel,
    load_points,
    ring_directions,
    tables_fingerprint,
)

POINT = load_machine("point-6")


def test_the_shipped_table_holds_all_energy():
    points = load_points()
    n, parts, angles, shells = points.share.shape
    assert parts == 5
    assert points.energy_mev.shape == (n,)
    assert points.angle_edges_deg[[0, -1]].tolist() == [0.0, 180.0]
    assert (angles, shells) == (points.angle_edges_deg.size - 1, points.radius_edges_cm.size - 1)
    assert np.allclose(points.share.sum(axis=(1, 2, 3)) + points.escaped.sum(axis=1), 1.0, atol=1e-3)
    assert points.share.min() >= 0


def test_the_primary_share_is_the_transferred_share():
    # Primary shares of mono-energetic photons in water by NIST coefficients (mu_en / mu without coherent scatter).
    share = load_points().primary_share(np.array([0.5, 1.0, 1.25, 2.0, 4.0, 6.0, 10.0]))
    assert np.allclose(share, (0.341, 0.439, 0.469, 0.528, 0.608, 0.654, 0.711), atol=0.006)


COMPONENTS = ["primary", "scatter"]
RINGS = {"primary": PRIMARY_RINGS, "scatter": SCATTER_RINGS}


@pytest.mark.parametrize("component", COMPONENTS)
def test_cones_share_all_energy_and_a_leaning_ray_moves_none_of_it_away(component):
    cones = getattr(beam_kernel(POINT), component)
    assert cones.directions.shape == (sum(RINGS[component].counts), 3)
    assert np.allclose(np.linalg.norm(cones.directions, axis=1), 1.0)
    assert cones.weights[:, 0].sum() == pytest.approx(1.0)
    assert np.allclose(cones.weights[:, 1:].sum(axis=0), 0.0, atol=1e-9)
    assert np.all(cones.weights[:, 0] > 0)


def test_energy_leans_with_the_ray():
    cones = beam_kernel(POINT).scatter
    mean = cones.weights.T @ cones.directions
    assert mean[0, 2] < 0
    for axis in (0, 1):
        assert mean[1 + axis, axis] > 0.2
        assert mean[1 + axis, 1 - axis] == pytest.approx(0.0, abs=1e-9)


def test_primary_runs_along_the_fan():
    cones = beam_kernel(POINT).primary
    mean = cones.weights[:, 0] @ cones.directions
    assert mean[0] > 0.5
    assert np.allclose(mean[1:], 0.0, atol=1e-9)


@pytest.mark.parametrize("component", COMPONENTS)
def test_no_path_gives_energy_back(component):
    cones = getattr(beam_kernel(POINT), component)
    depth = np.linspace(0.0, 60.0, 6001)
    rate = cones.shares * cones.attenuation_cm2_g
    density = (rate[..., None] * np.exp(-cones.attenuation_cm2_g[..., None] * depth)).sum(axis=1)
    # The primary may, three in a thousand, at the end of the electrons' range.
    assert np.all(np.minimum(density, 0).sum(axis=1) * 0.01 > {"primary": -0.0031, "scatter": -1e-9}[component])
    assert np.all(density[:, 0] > -1e-9)
    assert np.allclose(cones.shares.sum(axis=1), 1.0)


@pytest.mark.parametrize(("n", "component", "limit"), [(0, "primary", 6.0), (1, "scatter", 30.0)])
def test_the_fit_follows_the_table_on_the_forward_side(n, component, limit):
    from engine.dose.kernels import _bin_overlap, _energy_weights
    from engine.dose.source import spectrum

    points, beam, cones = load_points(), spectrum(POINT), getattr(beam_kernel(POINT), component)
    mix = _energy_weights(points.energy_mev, beam.energy_mev, beam.after(SHAPE_DEPTHS_G_CM2[n]))
    of = (slice(0, 1), slice(1, 5))[n]
    part = np.tensordot(mix, points.share[:, of].sum(axis=1), axes=1)
    escaped = (mix @ points.escaped)[of].sum()
    second = RINGS[component].counts[0]
    ring = _bin_overlap(points.angle_edges_deg, *RINGS[component].edges_deg[1:3]) @ part
    truth = np.cumsum(ring) / (ring.sum() * (1 + escaped / part.sum()))
    r = points.radius_edges_cm[1:]
    fitted = cones.shares[second] @ (1 - np.exp(-np.outer(cones.attenuation_cm2_g[second], r)))
    assert np.abs(fitted - truth)[r < limit].max() < 0.025


@pytest.mark.parametrize("spread", [False, True])
@pytest.mark.parametrize("component", COMPONENTS)
def test_the_set_of_cones_is_its_own_mirror_image(component, spread):
    directions, ring = ring_directions(RINGS[component], spread)
    for flip in ((-1, 1, 1), (1, -1, 1)):
        mirrored = directions * flip
        distance = np.linalg.norm(directions[:, None] - mirrored[None], axis=2)
        assert distance.min(axis=1).max() < 1e-12
    assert np.bincount(ring).tolist() == list(RINGS[component].counts)


def test_spread_cones_share_a_polar_angle_with_their_eight_mirror_images_only():
    directions, ring = ring_directions(RINGS["scatter"], True)
    for n, count in enumerate(RINGS["scatter"].counts):
        angles = np.unique(directions[ring == n, 2].round(12))
        assert angles.size == (count // 8 if count % 8 == 0 else 1)
        # Evenly over the ring in solid angle.
        inner, outer = np.cos(np.deg2rad(RINGS["scatter"].edges_deg[n : n + 2]))
        assert angles.mean() == pytest.approx((inner + outer) / 2)


def test_the_fingerprint_is_a_hash_and_stays():
    assert len(tables_fingerprint()) == 64
    assert tables_fingerprint() == tables_fingerprint()


def test_another_spectrum_is_another_kernel():
    six, ten = beam_kernel(POINT), beam_kernel(load_machine("point-10"))
    assert ten.release.primary[20, 0] == pytest.approx(0.58, abs=0.03)
    assert ten.release.primary[20, 0] > six.release.primary[20, 0]
    assert ten.primary.attenuation_cm2_g[0, 0] < six.primary.attenuation_cm2_g[0, 0]
