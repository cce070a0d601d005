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


def test_memory_that_comes_back_is_kept_where_the_c_library_can():
    import subprocess
    import sys

    # In a process of its own, because it is for good. Fresh pages are counted while the same array comes and goes.
    code = """
import resource, numpy as np
from engine.dose.threads import keep_memory
kept = keep_memory()
def faults():
    before = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
    for _ in range(20):
        np.empty(4_000_000, np.float32).fill(1)
    return resource.getrusage(resource.RUSAGE_SELF).ru_minflt - before
faults()
print(kept, faults())
"""
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert out[0] == "False" or int(out[1]) < 4000
