from __future__ import annotations

import numpy as np

from engine.evaluation.tracing import trace


def test_many_lines_outgrow_the_first_room() -> None:
    """A checkerboard of hills: 400 closed lines of four points and their return."""
    plane = np.zeros((41, 41), np.float32)
    plane[1::2, 1::2] = 1
    points, starts, owner = trace(plane, np.array([0.5, 0.25], np.float32))
    assert len(owner) == 800
    assert (owner == np.repeat([0, 1], 400)).all()
    assert (np.diff(starts) == 5).all()
    assert starts[-1] == len(points)
