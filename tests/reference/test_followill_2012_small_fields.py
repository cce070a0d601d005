"""Output of small fields at 10 cm depth against the means over many machines of one design.

What was read does not say whether the jaws stood at 10 cm or followed the leaves; they differ by 2 %, for much of the
head's scatter is cut by the jaws. The check is held with jaws that follow; the other is shown.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from engine.beams.beam import Aperture
from engine.beams.machine_file import load_machine
from tests.reference.table import held, shown
from tests.support.dose import at_depth, axis, beam, dose, water

SUBJECT = "Small fields, leaves and penumbra, typical beams"
SOURCE = "Followill et al., J. Appl. Clin. Med. Phys. 13(5) (2012) 282, Table 2"
SIDES = (60.0, 40.0, 30.0, 20.0)
MEASURED = {
    "generic-6": ((0.930, 0.878, 0.842, 0.790), (0.010, 0.015, 0.012, 0.007)),
    "generic-10": ((0.937, 0.890, 0.857, 0.796), (0.004, 0.009, 0.003, 0.006)),
}


def leaf_square(side, machine, jaws):
    leaves = tuple(
        (-side / 2, side / 2) if low >= -side / 2 and high <= side / 2 else (-side / 2, -side / 2)
        for low, high in pairwise(machine.leaf_edges_mm)
    )
    return Aperture((-jaws / 2, jaws / 2), (-jaws / 2, jaws / 2), machine.leaf_edges_mm, leaves)


@pytest.mark.parametrize("name", MEASURED)
def test_output_of_small_leaf_fields(name):
    machine, phantom = load_machine(name), water((200.0, 160.0, 200.0), 2.5)
    reference = at_depth(axis(dose(phantom, beam(100.0), name)), 100.0)
    mean, spread = MEASURED[name]
    names = [f"{side / 10:g} cm" for side in SIDES]

    def output(fixed):
        shapes = [leaf_square(s, machine, fixed or s) for s in SIDES]
        return np.array([at_depth(axis(dose(phantom, beam(shape), name)), 100.0) / reference for shape in shapes])

    # Twice the spread of one design, and one per cent for depth and set-up, which the table does not tell.
    held(
        SUBJECT,
        f"6, 4, 3, 2 cm leaf fields to 10 cm, jaws follow, {name}",
        output(None),
        mean,
        tol=2 * np.array(spread) + 0.01,
        source=SOURCE,
        known="read",
        at=names,
    )
    apart = output(100.0) - mean
    text = f"{apart.min():+.3f} to {apart.max():+.3f}"
    shown(SUBJECT, f"the same, jaws at 10 cm, less the table, {name}", text, "0", source=SOURCE, known="read")
