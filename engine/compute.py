"""One table from request type to the function that answers it: the only door between screens and heavy work.

Functions are named as text and imported when first asked, so that starting the window does not import numba.
Tests replace entries of TABLE by stubs.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any

from engine.base.progress import Report, quiet
from engine.base.values import Value

TABLE: dict[str, str | Callable[[Any, Report], Any]] = {
    "DoseRequest": "engine.dose.calculate:calculate",
    "FindSeries": "engine.dicom.read_ct:find_series",
    "OpenSeries": "engine.dicom.read_ct:open_series",
    "ReadSecondImage": "engine.dicom.second_image:read_second_image",
    "ReadStructures": "engine.dicom.structures:read_structures",
    "ExportCase": "engine.dicom.export:export_case",
    "ReviewDraft": "engine.review.ask:review",
    "LiveRequest": "engine.evaluation.live:prepare",
    "BalanceRequest": "engine.optimise.balance:balance",
    "CourseSumRequest": "engine.evaluation.course_sum:sum_courses",
    "FindBody": "engine.volumes.outer:find_body",
    "FindInside": "engine.volumes.seeds:find_inside",
    "Radiograph": "engine.image.projection:radiograph",
    "CoarseRequest": "engine.image.quick_view:coarse_box",
    "ArcRequest": "engine.beams.conformal_arc:make_arc",
    "ShellRequest": "engine.volumes.shell:make_shell",
    "CollimatorRequest": "engine.beams.collimator:best_collimator",
    "MakeDemonstration": "engine.phantoms.demonstration:make_demonstration",
    "PlanDemonstration": "engine.dicom.demonstration:plan_demonstration",
    "GrowRegion": "engine.volumes.region:grow_region",
    "ShapeVolume": "engine.volumes.shape:shape_volume",
    "BeamDataRequest": "engine.commission.beam_data:beam_data",
    "FitRequest": "engine.commission.fit:fit",
    "CompareVolumes": "engine.volumes.likeness:compare_volumes",
    "CheckVolumes": "engine.volumes.shape:check_volumes",
}
_HOMES = {kind: str(entry).partition(":")[0] for kind, entry in TABLE.items()}


def request(kind: str, **fields: Any) -> Value:
    """Return a request by the name of its type; imports the module it lives in, so that screens need not."""
    import_module(_HOMES[kind])
    return Value.KINDS[kind](**fields)


def run(request: Value, report: Report = quiet) -> Any:
    """Answer a request; raises what the function raises (UserError, Cancelled)."""
    entry = TABLE[type(request).__name__]
    if isinstance(entry, str):
        module, _, name = entry.partition(":")
        entry = getattr(import_module(module), name)
    return entry(request, report)
