"""A second image of a demonstration patient: what a magnetic resonance scan of it might look like, made from its CT."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.base.values import own_array
from engine.image.ct import CtImage
from engine.image.second_image import SecondImage
from engine.image.second_kernels import sample_plane

SHAPE, SPACING_MM = (64, 184, 156), (1.3, 1.3, 3.0)
TURN_DEG, SHIFT_MM = (4.0, -3.0, 6.0), (6.0, -9.0, 5.0)
NOISE, SEED = 14.0, 71
# CT number -> intensity: no signal from air and hard bone, fat bright, fluid dark, brain between. Own, for looks only.
_HU = (-1000, -300, -140, -90, -40, 5, 18, 30, 42, 60, 110, 250, 1200)
_SIGNAL = (0, 8, 620, 820, 600, 130, 260, 470, 640, 560, 330, 90, 15)


def way_to_ct(centre_mm: tuple[float, float, float]) -> NDArray[np.float64]:
    """Return the known rigid transform (4 x 4) of the second image: turned about `centre_mm` of the CT, then shifted."""
    total = np.eye(4)
    for axis, angle in enumerate(np.deg2rad(TURN_DEG)):
        a, b = (i for i in range(3) if i != axis)
        turn = np.eye(4)
        turn[a, a] = turn[b, b] = np.cos(angle)
        turn[a, b], turn[b, a] = -np.sin(angle), np.sin(angle)
        total = turn @ total
    total[:3, 3] = np.array(centre_mm) + SHIFT_MM
    return total


def resonance_like(image: CtImage, centre_mm: tuple[float, float, float], name: str) -> SecondImage:
    """Return a synthetic image like one of magnetic resonance, in a frame of reference of its own.

    Parameters
    ----------
    image : the patient's CT
    centre_mm : the point of the CT about which its slices lie
    """
    planes, rows, columns = SHAPE
    affine = np.zeros((3, 4))
    affine[:, :3] = np.diag(SPACING_MM)
    affine[:, 3] = -affine[:, :3] @ (np.array([columns, rows, planes]) - 1) / 2
    transform = way_to_ct(centre_mm)
    own = np.vstack([affine, [0, 0, 0, 1]])
    to_index = np.diag([*(1 / np.array(image.grid.spacing_mm)), 1.0])
    to_index[:3, 3] = -np.array(image.grid.origin_mm) / image.grid.spacing_mm
    steps = to_index @ transform @ own
    rng = np.random.default_rng(SEED)
    out = np.empty(SHAPE, dtype="<i2")
    hu = np.empty((rows, columns), dtype=np.float32)
    for k in range(planes):
        start = np.ascontiguousarray(steps[:3, 3] + k * steps[:3, 2])
        across, down = np.ascontiguousarray(steps[:3, 0]), np.ascontiguousarray(steps[:3, 1])
        sample_plane(image.hu, start, across, down, hu)
        signal = np.interp(np.nan_to_num(hu, nan=-1000.0), _HU, _SIGNAL)
        # The size of a complex signal: noise adds in two channels.
        real, other = rng.normal(0.0, NOISE, (2, rows, columns))
        out[k] = np.rint(np.hypot(signal + real, other))
    numbers = tuple(float(v) for v in affine.ravel()), tuple(float(v) for v in transform.ravel())
    return SecondImage("second", name, "MR", own_array(out), *numbers, origin="known", synthetic=True)
