import numpy as np
import pytest

import engine.dose.threads as threads
from engine.base.errors import Cancelled


@pytest.mark.parametrize("pieces", [0, 1, 7, 500])
def test_every_index_is_worked_once(pieces):
    seen = np.zeros(41, dtype=int)
    said = []

    def work(start, stop):
        seen[start:stop] += 1

    threads.share_out(41, pieces, work, lambda f, w="": said.append((f, w)), "Counting")
    assert np.all(seen == 1)
    assert said[-1] == (1.0, "Counting")


def test_stopping_ends_the_work_and_failures_come_through():
    def stop(fraction, words=""):
        raise Cancelled

    with pytest.raises(Cancelled):
        threads.share_out(100, 50, lambda a, b: None, stop)
    with pytest.raises(ZeroDivisionError):
        threads.share_out(4, 1, lambda a, b: 1 // 0)
