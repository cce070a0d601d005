"""A CT image fits its grid or cannot exist."""

import numpy as np
import pytest

from engine.base.errors import GeometryError
from engine.base.values import frozen_array
from engine.image.ct import CtImage
from engine.space.grid import Grid

GRID = Grid((0, 0, 0), (1, 1, 1), (2, 3, 4))


def test_shape_type_and_identities_must_fit():
    good = frozen_array(np.zeros((2, 3, 4), "<i2"))
    assert CtImage(good, GRID, sop_uids=("1.2", "1.3")).patient_position == "HFS"
    with pytest.raises(GeometryError):
        CtImage(frozen_array(np.zeros((2, 3, 5), "<i2")), GRID)
    with pytest.raises(GeometryError):
        CtImage(frozen_array(np.zeros((2, 3, 4), np.float32)), GRID)
    with pytest.raises(GeometryError, match="one SOP"):
        CtImage(good, GRID, sop_uids=("1.2",))
