"""Indices of a target: how even its dose is and how closely an isodose volume fits it. Each carries its formula."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.base.errors import EmptyVolume, GeometryError
from engine.base.values import FrozenArray, Value
from engine.base.words import say
from engine.dose.dose import Dose
from engine.evaluation.dvh import Dvh
from engine.evaluation.summing import inside_mask
from engine.volumes.coverage import Coverage

# TV: target volume; PIV: volume of the prescription isodose in the whole body; TVPIV: what they share.
FORMULAS = {
    "homogeneity": "(D2% - D98%) / D50% (ICRU 83)",
    "homogeneity_ratio": "D5% / D95%",
    "conformity_rtog": "PIV / TV (RTOG 1993)",
    "coverage": "TVPIV / TV",
    "selectivity": "TVPIV / PIV",
    "conformity_paddick": "TVPIV^2 / (TV x PIV) (Paddick 2000)",
    "gradient": "V(half prescription) / PIV (Paddick and Lippitz 2006)",
    "r50": "V(half prescription) / TV",
}


@dataclass(frozen=True, eq=False)
class Indices(Value):
    """Indices of one target at one isodose; None where a volume they divide by is zero. See FORMULAS."""

    homogeneity: float | None
    homogeneity_ratio: float | None
    conformity_rtog: float | None
    coverage: float | None
    selectivity: float | None
    conformity_paddick: float | None
    gradient: float | None
    r50: float | None


def homogeneity(dvh: Dvh) -> float | None:
    """Return (D2% - D98%) / D50%, ideal 0; None without dose."""
    return _ratio(dvh.d_gy(2) - dvh.d_gy(98), dvh.d_gy(50))


def indices_of_volumes(
    target_cm3: float, isodose_cm3: float, shared_cm3: float, half_cm3: float
) -> dict[str, float | None]:
    """Return the conformity indices of four volumes: target, isodose, what they share, half isodose.

    Raises
    ------
    GeometryError
        If more is shared than either holds.
    """
    if shared_cm3 > min(target_cm3, isodose_cm3) * (1 + 1e-9) or min(target_cm3, shared_cm3, half_cm3) < 0:
        raise GeometryError(
            say(
                "{shared_cm3:g} cm³ cannot be shared by {target_cm3:g} and {isodose_cm3:g} cm³",
                shared_cm3=shared_cm3,
                target_cm3=target_cm3,
                isodose_cm3=isodose_cm3,
            )
        )
    coverage, selectivity = _ratio(shared_cm3, target_cm3), _ratio(shared_cm3, isodose_cm3)
    both = None if coverage is None or selectivity is None else coverage * selectivity
    return {
        "conformity_rtog": _ratio(isodose_cm3, target_cm3),
        "coverage": coverage,
        "selectivity": selectivity,
        "conformity_paddick": both,
        "gradient": _ratio(half_cm3, isodose_cm3),
        "r50": _ratio(half_cm3, target_cm3),
    }


def target_indices(dvh: Dvh, dose: Dose, body: Coverage | None, isodose_gy: float) -> Indices:
    """Return the indices of a target at the isodose of `isodose_gy`, isodose volumes taken over the whole body.

    If several targets share one isodose the conformity is joint: the numbers of each alone mean little.

    Raises
    ------
    EmptyVolume
        If the isodose is zero or less, so that everything lies within it.
    """
    if not isodose_gy > 0:
        raise EmptyVolume("conformity needs an isodose above zero")
    isodose, half = volume_above(dose, body, (isodose_gy, isodose_gy / 2))
    shared = dvh.v_cm3(isodose_gy)
    # Two samplings: the isodose volume holds at least its own part in the target.
    isodose = max(isodose, shared)
    return Indices(
        homogeneity=homogeneity(dvh),
        homogeneity_ratio=_ratio(dvh.d_gy(5), dvh.d_gy(95)),
        **indices_of_volumes(dvh.volume_cm3, isodose, shared, max(half, isodose)),
    )


def volume_above(dose: Dose, body: Coverage | None, levels_gy: tuple[float, ...]) -> tuple[float, ...]:
    """Return the volumes in cm3 within the body that receive each level or more (within the grid without a body).

    Voxels that the surface passes are split 4 x 4 x 4 with trilinear dose; a voxel belongs to the body by its centre.
    """
    mask = inside_mask(body, dose.grid)
    return tuple(_above(dose.gy, mask, level) * dose.grid.voxel_cm3 for level in levels_gy)


def _above(gy: FrozenArray, mask: FrozenArray, level: float) -> float:
    from engine.evaluation.kernels import sort_voxels
    from engine.evaluation.sampling_kernels import gather

    sure, places = sort_voxels(gy, mask, np.float32(level))
    if len(places) == 0:
        return float(sure)
    sub = (np.arange(4) + 0.5) / 4 - 0.5
    cube = np.stack(np.meshgrid(sub, sub, sub, indexing="ij"), axis=-1).reshape(-1, 3)
    last = np.array(gy.shape) - 1
    inside = 0
    for start in range(0, len(places), 4096):
        at = np.clip(places[start : start + 4096, None, :] + cube, 0, last).reshape(-1, 3).astype(np.float32)
        found = np.empty(len(at), dtype=np.float32)
        gather(gy, at, found)
        inside += int(np.count_nonzero(found >= np.float32(level)))
    return sure + inside / len(cube)


def _ratio(a: float, b: float) -> float | None:
    return a / b if b > 0 else None
