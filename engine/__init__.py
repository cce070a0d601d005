"""Everything that is true without a screen: images, volumes, beams, dose, evaluation, records.

The engine knows no Qt and no user settings. Its thread settings must be in the environment before numpy or numba
are first imported, so they are set here, where every import of the engine passes: a spinning worker pool on shared
cores stalls for milliseconds, and a second pool inside BLAS fights with ours. Where compiled kernels are kept is said
here for the same reason.
"""

import os
from pathlib import Path

from engine.base.kernel_store import keep_kernels

for _name, _value in (
    ("OMP_WAIT_POLICY", "passive"),
    ("KMP_BLOCKTIME", "0"),
    ("OPENBLAS_NUM_THREADS", "1"),
    ("MKL_NUM_THREADS", "1"),
):
    os.environ.setdefault(_name, _value)
keep_kernels(Path(__file__).parent)

__version__ = "0.1.0"
