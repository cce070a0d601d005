"""Radiographs stand the right way up: IEC 61217 +Y of the beam limiting device axes is up in every picture of a beam."""

from __future__ import annotations

import numpy as np
import pytest

from app.report.beam_picture import draw_beam, radiograph_of
from app.views.beam_view import _grey
from engine.review.sheet import Item
from tests.gui.sign_desk import stub_radiograph
from tests.support.cases import planned_case

pytestmark = pytest.mark.gui


def test_the_signed_picture_has_plus_y_at_the_top(qapp):
    """The stub brightens with y, and row 0 of a radiograph is its lowest y."""
    case = planned_case()
    draft = case.drafts[0]
    found = stub_radiograph(radiograph_of(case, draft.beams[0]))
    image = draw_beam(Item("beam", "View", beam_key="a"), case, draft, 960, 720, found)
    assert image.pixelColor(40, 70).lightness() > image.pixelColor(40, 690).lightness() + 100


def test_the_beams_eye_view_has_plus_y_at_the_top(qapp):
    rows = np.linspace(0, 1, 32, dtype=np.float32)[:, None] * np.ones((1, 32), dtype=np.float32)
    image = _grey(rows)
    assert image.pixelColor(5, 0).lightness() > image.pixelColor(5, 31).lightness() + 100
