"""A second image whose value at any point of the planning CT is known: linear in x, y and z, under a rigid transform."""

from __future__ import annotations

import numpy as np

from engine.base.values import own_array
from engine.image.second_image import SecondImage

SLOPES, START = np.array([3.0, -2.0, 5.0]), 1000.0


def turned(degrees=(4.0, -3.0, 6.0), shift_mm=(5.0, -8.0, 3.0)):
    """Return a rigid 4 x 4 matrix."""
    out = np.eye(4)
    for axis, angle in enumerate(np.deg2rad(degrees)):
        a, b = (i for i in range(3) if i != axis)
        turn = np.eye(4)
        turn[a, a] = turn[b, b] = np.cos(angle)
        turn[a, b], turn[b, a] = -np.sin(angle), np.sin(angle)
        out = turn @ out
    out[:3, 3] = shift_mm
    return out


def ramp_value(points_mm):
    """Return the value the ramp has at points of the planning CT."""
    return START + np.asarray(points_mm) @ SLOPES


def ramp(shape=(24, 40, 44), transform=None, **fields) -> SecondImage:
    """Return the ramp on oblique slices about the origin of the planning CT; its transform is exact."""
    transform = turned() if transform is None else transform
    planes, rows, columns = shape
    axes = turned((12.0, 8.0, 0.0), (0, 0, 0))[:3, :3]
    affine = np.empty((3, 4))
    affine[:, :3] = axes * (2.5, 2.0, 4.0)
    affine[:, 3] = -affine[:, :3] @ (np.array([columns, rows, planes]) - 1) / 2
    k, r, c = np.meshgrid(*(np.arange(n) for n in shape), indexing="ij")
    own = np.stack([c, r, k], axis=-1) @ affine[:, :3].T + affine[:, 3]
    planning = own @ transform[:3, :3].T + transform[:3, 3]
    given = {"frame_of_reference_uid": "1.2.3.9", "study_uid": "1.2.3.8", "series_uid": "1.2.3.7", **fields}
    values = own_array(np.rint(ramp_value(planning)).astype("<i2"))
    return SecondImage("ramp", "Ramp", "MR", values, tuple(affine.ravel()), tuple(transform.ravel()), "", "test", **given)
