"""Whether a beam is one its machine can deliver, in one sentence for each thing it cannot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from engine.base.errors import InputError
from engine.base.words import say
from engine.beams.beam import Aperture, Beam
from engine.beams.machine import Machine
from engine.beams.wedge import toe_direction

# Files round positions to 0.1 mm and planners read them so.
TOLERANCE_MM = 0.5


@dataclass(frozen=True)
class Misfit:
    """One thing a machine cannot do.

    Parameters
    ----------
    code : which, stable ("jaw-range")
    words : one sentence with the numbers
    computable : whether a dose would still mean something; if not, computing is refused
    """

    code: str
    words: str
    computable: bool = True


def misfits(beam: Beam, machine: Machine) -> tuple[Misfit, ...]:
    """Return everything about a beam that its machine cannot do, once for all its apertures; () if it fits."""
    found: dict[str, Misfit] = {}
    for aperture in beam.apertures:
        for misfit in (*_jaws(aperture, machine), *_leaves(aperture, machine), *_wedge(beam, aperture, machine)):
            known = found.setdefault(misfit.code, misfit)
            if known.computable and not misfit.computable:
                found[misfit.code] = misfit
    return tuple(found.values())


def refuse_nonsense(beam: Beam, machine: Machine) -> None:
    """Refuse a beam of which no dose would mean anything.

    Raises
    ------
    InputError
        With the first of its misfits that cannot be computed.
    """
    for misfit in misfits(beam, machine):
        if not misfit.computable:
            where = say("beam {beam}", beam=beam.name) if beam.name else say("a beam")
            raise InputError(misfit.words, where, "Correct the beam or choose another machine.")


def _jaws(aperture: Aperture, machine: Machine) -> Iterator[Misfit]:
    limit = machine.field_limit_mm + TOLERANCE_MM
    for axis, jaws, reach in (("X", aperture.x_mm, machine.jaw_x_mm), ("Y", aperture.y_mm, machine.jaw_y_mm)):
        if max(abs(v) for v in jaws) > limit:
            words = say(
                "the {axis} jaws stand at {low:.0f} and {high:.0f} mm; {machine} opens to {limit:.0f} mm",
                axis=axis,
                low=jaws[0],
                high=jaws[1],
                machine=machine.name,
                limit=machine.field_limit_mm,
            )
            yield Misfit("field-too-wide", words, max(abs(v) for v in jaws) <= 2 * machine.field_limit_mm)
        elif jaws[0] < reach[0] - TOLERANCE_MM or jaws[1] > reach[1] + TOLERANCE_MM:
            words = say(
                "the {axis} jaws stand at {low:.0f} and {high:.0f} mm; {machine} moves them between {least:.0f} and "
                "{most:.0f} mm",
                axis=axis,
                low=jaws[0],
                high=jaws[1],
                machine=machine.name,
                least=reach[0],
                most=reach[1],
            )
            yield Misfit("jaw-range", words)


def _leaves(aperture: Aperture, machine: Machine) -> Iterator[Misfit]:
    if not aperture.leaves_mm:
        return
    edges = aperture.leaf_edges_mm
    known = machine.leaf_edges_mm
    if len(edges) != len(known) or any(abs(a - b) > 0.01 for a, b in zip(edges, known)):
        words = say(
            "it has {count} leaf pairs from {low:g} to {high:g} mm, {machine} has {known}",
            count=len(edges) - 1,
            low=edges[0],
            high=edges[-1],
            machine=machine.name,
            known=say("{count} of other widths", count=machine.leaf_pairs) if machine.leaf_pairs else say("none"),
        )
        yield Misfit("leaf-layout", words)
        return
    seen = [n for n, (low, high) in enumerate(pairwise(edges)) if high > aperture.y_mm[0] and low < aperture.y_mm[1]]
    gaps = np.array([aperture.leaves_mm[n] for n in seen]).reshape(-1, 2)
    if gaps.size == 0:
        return
    # The bank at -X moves up to +travel, that at +X down to -travel.
    over = max(float(gaps[:, 0].max()), float(-gaps[:, 1].min()))
    if over > machine.leaf_travel_mm + TOLERANCE_MM:
        words = say(
            "a leaf reaches {over:.0f} mm across the axis; {machine} lets it reach {travel:.0f} mm",
            over=over,
            machine=machine.name,
            travel=machine.leaf_travel_mm,
        )
        yield Misfit("leaf-travel", words)
    narrow = np.flatnonzero(gaps[:, 1] - gaps[:, 0] < machine.min_leaf_gap_mm - 0.05)
    if narrow.size:
        words = say(
            "leaf pair {pair} leaves {gap:.1f} mm; {machine} needs {least:.1f} mm",
            pair=seen[int(narrow[0])] + 1,
            gap=float(gaps[narrow[0], 1] - gaps[narrow[0], 0]),
            machine=machine.name,
            least=machine.min_leaf_gap_mm,
        )
        yield Misfit("leaf-gap", words)
    span = float(np.ptp(gaps, axis=0).max())
    if machine.leaf_span_mm and span > machine.leaf_span_mm + TOLERANCE_MM:
        words = say(
            "leaves of one bank are {span:.0f} mm apart; {machine} allows {most:.0f} mm",
            span=span,
            machine=machine.name,
            most=machine.leaf_span_mm,
        )
        yield Misfit("leaf-span", words)


def _wedge(beam: Beam, aperture: Aperture, machine: Machine) -> Iterator[Misfit]:
    if not beam.wedge:
        return
    wedge = machine.wedge(beam.wedge)
    if wedge is None:
        yield Misfit("no-wedge", say("{machine} has no wedge {wedge}", machine=machine.name, wedge=beam.wedge), False)
        return
    angle = beam.wedge_orientation_deg
    if angle not in wedge.orientations_deg:
        words = say("wedge {wedge} cannot stand at {angle:g} degrees", wedge=wedge.name, angle=angle)
        yield Misfit("wedge-orientation", words, False)
        return
    x = max(abs(v) for v in aperture.x_mm)
    y = max(abs(v) for v in aperture.y_mm)
    along, across = (x, y) if toe_direction(angle)[0] else (y, x)
    if along > wedge.field_mm[0] + TOLERANCE_MM or across > wedge.field_mm[1] + TOLERANCE_MM:
        words = say(
            "the field reaches {along:.0f} mm along wedge {wedge} and {across:.0f} mm across it; "
            "it covers {most_along:.0f} and {most_across:.0f} mm",
            along=along,
            across=across,
            wedge=wedge.name,
            most_along=wedge.field_mm[0],
            most_across=wedge.field_mm[1],
        )
        yield Misfit("wedge-field", words)
