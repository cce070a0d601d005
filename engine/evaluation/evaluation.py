"""The dose report of volumes as plain data, with the keys of the command ``evaluate``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from engine.base.errors import GeometryError, InputError, UserError
from engine.base.progress import Report, part, quiet
from engine.base.words import as_words, listed, say
from engine.dose.dose import Dose
from engine.evaluation.dvh import Dvh
from engine.evaluation.goals import Goal
from engine.evaluation.indices import FORMULAS, target_indices
from engine.evaluation.live import LiveRequest, Prescribed, judged, prepare
from engine.evaluation.metrics import COVERED_ENOUGH, parse
from engine.volumes.volume import Volume

SLAB_RULE = "each slice fills the slab of one plane spacing about its plane; dose trilinear between voxel centres"
_D_PERCENT = (2, 5, 50, 95, 98)


def report(
    dose: Dose,
    volumes: Sequence[Volume],
    metrics: Sequence[str] = (),
    prescription: Prescribed | None = None,
    progress: Report = quiet,
    goals: Sequence[Goal] = (),
) -> dict[str, Any]:
    """Return what every volume receives.

    Parameters
    ----------
    dose : total dose, absolute Gy over all fractions
    metrics : ``"name:metric"`` ("Lung_L:V20Gy[%]"); a bare metric is asked of every volume
    prescription : for metrics in percent and the indices of targets; else those are left out
    goals : demands to be judged (``engine.evaluation.goal_file`` reads them from a file)

    Returns
    -------
    dict
        ``volumes``: {name: {volume_cm3, covered, min_gy, max_gy, mean_gy, median_gy, d_gy, metrics, indices, note}}.
        Numbers that cannot be had are None and `note` says why. ``rule``, ``formulas`` say how they are made.
        With goals ``goals``: [{volume, metric, comparator, limit, tolerance, unit, priority, source, value, state, note}].

    Raises
    ------
    InputError
        If a metric is outside the grammar or names a volume that is not there.
    """
    asked = _asked(metrics, volumes)
    basis = prepare(LiveRequest((dose,), tuple(volumes)), part(progress, 0.0, 0.7))
    plan = basis.evaluate((1.0 / 100.0,), "None", None)
    body = next((v.coverage for v in volumes if v.role == "EXTERNAL" and not v.coverage.is_empty), None)
    prescribed = prescription.dose_gy if prescription else None
    out: dict[str, Any] = {}
    for i, volume in enumerate(volumes):
        progress(0.7 + 0.3 * i / len(volumes), volume.name)
        dvh = plan.dvhs.get(volume.key)
        entry = _entry(volume, dvh)
        if dvh is not None:
            _add_metrics(entry, dvh, asked[volume.key], prescribed)
            if volume.is_target and prescribed:
                entry["indices"] = asdict(target_indices(dvh, dose, body, prescribed))
        out[volume.name] = entry
    progress(1.0)
    result: dict[str, Any] = {"volumes": out, "rule": SLAB_RULE, "formulas": dict(FORMULAS)}
    if goals:
        names = {v.key: v.name for v in volumes}
        result["goals"] = [_goal(g, names, plan.dvhs, prescribed) for g in goals]
    if prescription:
        result["prescription"] = {"dose_gy": prescription.dose_gy, "fractions": prescription.fractions}
    return result


def _goal(goal: Goal, names: Mapping[str, str], dvhs: Mapping[str, Dvh], prescribed: float | None) -> dict[str, Any]:
    value, state = judged(goal, dvhs, prescribed)[1:]
    note = say("there is no such volume") if goal.waits_for else ""
    if value is None and goal.volume_key in dvhs:
        try:
            parse(goal.metric).value(dvhs[goal.volume_key], prescribed)
        except UserError as error:
            note = as_words(error.what)
    named = {"volume": names.get(goal.volume_key, goal.waits_for), "unit": parse(goal.metric).unit}
    fields = ("metric", "comparator", "limit", "tolerance", "priority", "source")
    return named | {f: getattr(goal, f) for f in fields} | {"value": value, "state": state, "note": note}


def _entry(volume: Volume, dvh: Dvh | None) -> dict[str, Any]:
    entry: dict[str, Any] = {"role": volume.role, "volume_cm3": volume.coverage.volume_cm3, "metrics": {}, "note": ""}
    if dvh is None:
        empty = volume.coverage.is_empty
        entry["note"] = say("the volume is empty") if empty else say("no part of the volume lies inside the dose grid")
        entry |= {"covered": 0.0, "min_gy": None, "max_gy": None, "mean_gy": None, "median_gy": None, "d_gy": {}}
        return entry
    if dvh.covered < COVERED_ENOUGH:
        entry["note"] = say(
            "doses are of the {covered:.1f} % of the volume inside the dose grid", covered=100 * dvh.covered
        )
    return entry | {
        "covered": dvh.covered,
        "min_gy": dvh.min_gy,
        "max_gy": dvh.max_gy,
        "mean_gy": dvh.mean_gy,
        "median_gy": dvh.median_gy,
        "d_gy": {str(v): dvh.d_gy(v) for v in _D_PERCENT},
    }


def _asked(metrics: Sequence[str], volumes: Sequence[Volume]) -> dict[str, list[str]]:
    asked: dict[str, list[str]] = {v.key: [] for v in volumes}
    for text in metrics:
        name, _, wanted = text.rpartition(":")
        parse(wanted)
        if name:
            found = [v.key for v in volumes if v.name.lower() == name.strip().lower()]
            if not found:
                raise InputError(
                    say("there is no volume {name!r}", name=name.strip()),
                    say("metric {text!r}", text=text),
                    say("There are {volumes}.", volumes=", ".join(v.name for v in volumes)),
                )
        for key in found if name else asked:
            asked[key].append(wanted)
    return asked


def _add_metrics(entry: dict[str, Any], dvh: Dvh, wanted: Sequence[str], prescribed: float | None) -> None:
    for text in wanted:
        metric = parse(text)
        try:
            entry["metrics"][str(metric)] = metric.value(dvh, prescribed)
        except GeometryError:
            entry["metrics"][str(metric)] = metric.value(dvh, prescribed, accept_partial=True)
        except UserError as error:
            entry["metrics"][str(metric)] = None
            entry["note"] = listed(filter(None, (entry["note"], error)), "; ")
