"""Edits of the second images of a case."""

from __future__ import annotations

from engine.case.case import Case
from engine.image.second_image import SecondImage


def with_second_image(case: Case, image: SecondImage) -> Case:
    """Add a second image; one of the same series takes its place."""
    others = tuple(
        i for i in case.second_images if i.key != image.key and (not i.series_uid or i.series_uid != image.series_uid)
    )
    return case.but(second_images=(*others, image))


def without_second_image(case: Case, key: str) -> Case:
    """Remove a second image."""
    return case.but(second_images=tuple(i for i in case.second_images if i.key != key))
