import numpy as np
import pytest

from engine.beams.machine_file import load_machine
from engine.dose.kernels import RING_CONES, beam_kernel, load_points, ring_directions, tables_fingerprint

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


def test_cones_share_all_energy_and_a_leaning_ray_moves_none_of_it_away():
    kernel = beam_kernel(POINT)
    assert kernel.directions.shape == (sum(RING_CONES), 3)
    assert np.allclose(np.linalg.norm(kernel.directions, axis=1), 1.0)
    assert np.allclose(kernel.weights[..., 0].sum(axis=0), 1.0)
    assert np.allclose(kernel.weights[..., 1:].sum(axis=0), 0.0, atol=1e-9)
    assert np.all(kernel.weights[..., 0] > 0)


def test_energy_leans_with_the_ray():
    kernel = beam_kernel(POINT)
    mean = np.einsum("cki,cd->kid", kernel.weights, kernel.directions)
    assert np.all(mean[:, 0, 2] < 0)
    for axis in (0, 1):
        assert np.all(mean[:, 1 + axis, axis] > 0.2)
        assert np.allclose(mean[:, 1 + axis, 1 - axis], 0.0, atol=1e-9)


def test_no_path_ever_gets_negative_energy():
    kernel = beam_kernel(POINT)
    depth = np.geomspace(1e-3, 60.0, 300)
    rate = kernel.shares * kernel.attenuation_cm2_g
    density = (rate[..., None] * np.exp(-kernel.attenuation_cm2_g[..., None] * depth)).sum(axis=2)
    assert density.min() > -1e-9
    assert np.allclose(kernel.shares.sum(axis=2), 1.0)


def test_the_fit_follows_the_table_on_the_forward_side():
    from engine.dose.kernels import _bin_overlap, _energy_weights
    from engine.dose.source import spectrum

    points, beam, kernel = load_points(), spectrum(POINT), beam_kernel(POINT)
    mix = _energy_weights(points.energy_mev, beam.energy_mev, beam.after(10.0))
    table = np.tensordot(mix, points.share, axes=1)
    for component, part in enumerate((table[0], table[1:].sum(axis=0))):
        escaped = (mix @ points.escaped)[[slice(0, 1), slice(1, 5)][component]].sum()
        ring = _bin_overlap(points.angle_edges_deg, 10.0, 20.0) @ part
        truth = np.cumsum(ring) / (ring.sum() * (1 + escaped / part.sum()))
        r = points.radius_edges_cm[1:]
        a, share = kernel.attenuation_cm2_g[RING_CONES[0], component], kernel.shares[RING_CONES[0], component]
        fitted = share @ (1 - np.exp(-np.outer(a, r)))
        limit = (6.0, 30.0)[component]
        assert np.abs(fitted - truth)[r < limit].max() < 0.025


def test_the_set_of_cones_is_its_own_mirror_image():
    directions, ring = ring_directions()
    for flip in ((-1, 1, 1), (1, -1, 1)):
        mirrored = directions * flip
        distance = np.linalg.norm(directions[:, None] - mirrored[None], axis=2)
        assert distance.min(axis=1).max() < 1e-12
    assert np.bincount(ring).tolist() == list(RING_CONES)


def test_the_fingerprint_is_a_hash_and_stays():
    assert len(tables_fingerprint()) == 64
    assert tables_fingerprint() == tables_fingerprint()


def test_another_spectrum_is_another_kernel():
    six, ten = beam_kernel(POINT), beam_kernel(load_machine("point-10"))
    assert ten.release.primary[20, 0] == pytest.approx(0.58, abs=0.03)
    assert ten.release.primary[20, 0] > six.release.primary[20, 0]
    forward = slice(0, RING_CONES[0])
    assert ten.attenuation_cm2_g[forward, 0, 0].mean() < six.attenuation_cm2_g[forward, 0, 0].mean()
