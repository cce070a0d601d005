"""Which single dose is most like a mixture of several."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from engine.optimise.objective import Field, Floats


def nearest(field: Field, columns: NDArray[np.intp], x: Floats) -> tuple[int, float]:
    """Return which of some doses is most like their mixture, and the weight with which it is.

    Likeness is the mean square difference over the points of all volumes of the field, each volume counting the same, at
    the weight that makes it least.

    Parameters
    ----------
    columns : places of the doses in the field
    x : weight of each in the mixture, not negative; all zero gives (0, 0.0)
    """
    n = len(columns)
    inner = np.zeros((n, n))
    for key, rows in field.rows.items():
        mine = rows[:, columns].astype(np.float64)
        inner += (mine * field.shares[key][:, None]).T @ mine
    own, with_mixture, mixture = np.diag(inner), inner @ x, float(x @ inner @ x)
    if not mixture > 0:
        return 0, 0.0
    weight = np.divide(with_mixture, own, out=np.zeros(n), where=own > 0)
    off = np.where(own > 0, mixture - weight * with_mixture, np.inf)
    best = int(np.argmin(off))
    return best, float(weight[best])
