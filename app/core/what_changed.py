"""Words for what makes a dose old: which input differs between the plan it was computed for and the present one."""

from __future__ import annotations

from functools import reduce

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from engine.beams.beam import Beam
from engine.case.case import Case, Draft
from engine.case.requests import patient_density

_PARTS = (
    ("machine", QT_TRANSLATE_NOOP("Changes", "machine")),
    ("isocentre_mm", QT_TRANSLATE_NOOP("Changes", "isocentre")),
    ("gantry_deg", QT_TRANSLATE_NOOP("Changes", "gantry")),
    ("collimator_deg", QT_TRANSLATE_NOOP("Changes", "collimator")),
    ("couch_deg", QT_TRANSLATE_NOOP("Changes", "couch")),
    ("aperture", QT_TRANSLATE_NOOP("Changes", "aperture")),
    ("wedge", QT_TRANSLATE_NOOP("Changes", "wedge")),
    ("wedge_orientation_deg", QT_TRANSLATE_NOOP("Changes", "direction of the wedge")),
    ("bolus", QT_TRANSLATE_NOOP("Changes", "bolus")),
)
_MOST = 3


def _tr(text: str) -> str:
    return QCoreApplication.translate("Changes", text)


def what_changed(before_case: Case, before: Draft, case: Case, draft: Draft) -> list[str]:
    """Return short phrases ("Beam 2 gantry changed") for every input of the dose that differs; [] when none does."""
    parts = [_parts(b, _same_key(before, b.key)) for b in draft.beams]
    if len(parts) > 1 and parts[0] and all(p == parts[0] for p in parts):
        words = [_tr("{0} of all beams changed").format(reduce(_and, parts[0]))]
    else:
        words = [_beam_words(b, p) for b, p in zip(draft.beams, parts, strict=True)]
    words += [_tr("{0} removed").format(b.name) for b in before.beams if _same_key(draft, b.key) is None]
    old, new = patient_density(before_case), patient_density(case)
    if before_case.image is not case.image and before_case.image != case.image:
        words.append(_tr("CT image changed"))
    if old.curve != new.curve:
        words.append(_tr("CT-number-to-density curve changed"))
    if old.inside != new.inside:
        words.append(_tr("body outline changed"))
    if old.overrides != new.overrides:
        words.append(_tr("density override changed"))
    if before_case.machines != case.machines and not any(words):
        words.append(_tr("machine data changed"))
    if before.dose_spacing_mm != draft.dose_spacing_mm or before.report_to != draft.report_to:
        words.append(_tr("dose grid changed"))
    return [w for w in words if w]


def _and(one: str, other: str) -> str:
    return _tr("{0} and {1}").format(one, other)


def in_one_line(words: list[str]) -> str:
    """Join the first few phrases; the rest are counted."""
    shown = ", ".join(words[:_MOST])
    return shown if len(words) <= _MOST else _tr("{0} and {1} more").format(shown, len(words) - _MOST)


def _same_key(draft: Draft, key: str) -> Beam | None:
    return next((b for b in draft.beams if b.key == key), None)


def _parts(beam: Beam, before: Beam | None) -> list[str] | None:
    """Return what of a beam differs in words; None for a beam that was not there before."""
    if before is None:
        return None
    if before is beam:
        return []
    return [_tr(word) for field, word in _PARTS if getattr(beam, field) != getattr(before, field)]


def _beam_words(beam: Beam, parts: list[str] | None) -> str:
    if parts is None:
        return _tr("{0} added").format(beam.name)
    return _tr("{0} {1} changed").format(beam.name, reduce(_and, parts)) if parts else ""
