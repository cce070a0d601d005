"""Values to bytes and back. A value's bytes are its canonical bytes, so the store and memory cannot disagree."""

from __future__ import annotations

import dataclasses
import hashlib
import json
import zlib
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

import engine.case.case
import engine.dose.dose
import engine.review.record  # noqa: F401  (their kinds must be known before anything is read)
from engine.base.errors import StoreError
from engine.base.values import Fingerprint, FrozenArray, Value, array_digest, canonical_bytes, own_array, parts
from engine.base.words import say

ARRAY = "array"
Row = tuple[Fingerprint, str, int, bytes]

# (kind, layout found) -> fields of the next layout. Content is read upward here and never rewritten in the file.
UPGRADES: dict[tuple[str, int], Callable[[dict[str, Any]], dict[str, Any]]] = {
    ("Machine", 1): lambda fields: fields | _planes_of(fields["collimator_mm"]) | {"calibration_ssd_mm": fields["sad_mm"]},
    ("Beam", 1): lambda fields: fields,  # wedge and bolus came; without them a beam is what it was
}


def _planes_of(collimator_mm: float) -> dict[str, float]:
    """Return the planes of jaws and leaves of a machine that knew one edge for all."""
    return dict.fromkeys(("upper_jaw_mm", "lower_jaw_mm", "leaf_distance_mm"), collimator_mm)


def rows(value: Value, stored: Callable[[Fingerprint], bool]) -> Iterator[Row]:
    """Yield the rows of `value` and of everything below it that is not stored yet, parts before wholes.

    A stored value's parts are stored too, so a whole branch is skipped at its top.
    """
    seen: set[Fingerprint] = set()

    def walk(item: Value | FrozenArray) -> Iterator[Row]:
        if isinstance(item, np.ndarray):
            digest = array_digest(item)
            if digest not in seen and not stored(digest):
                seen.add(digest)
                yield digest, ARRAY, 1, zlib.compress(np.ascontiguousarray(item).tobytes(), 1)
            return
        if item.fingerprint in seen or stored(item.fingerprint):
            return
        for inner in parts(item):
            yield from walk(inner)
        seen.add(item.fingerprint)
        yield item.fingerprint, type(item).__name__, item.content()[0], canonical_bytes(item)

    yield from walk(value)


class Reader:
    """Builds values from rows; a fingerprint asked twice gives the same object."""

    def __init__(self, fetch: Callable[[Fingerprint], tuple[str, int, bytes]]) -> None:
        self._fetch = fetch
        self._known: dict[Fingerprint, Value] = {}

    def value(self, fingerprint: Fingerprint) -> Value:
        """Return the value of a fingerprint.

        Raises
        ------
        StoreError
            If the content is damaged, or was written by a newer program.
        """
        found = self._known.get(fingerprint)
        if found is not None:
            return found
        kind, layout, data = self._fetch(fingerprint)
        if hashlib.sha256(data).hexdigest() != fingerprint:
            raise StoreError(
                say("content {fingerprint} ({kind}) is damaged", fingerprint=fingerprint[:12], kind=kind),
                do="Open a copy of the case.",
            )
        cls = Value.KINDS.get(kind)
        if cls is None or layout > cls.newest_layout():
            raise StoreError(
                say("this case holds {kind!r} in a form of a newer program", kind=kind), do="Update Halfshade."
            )
        fields = json.loads(data)["fields"]
        for step in range(layout, cls.LAYOUT):
            fields = UPGRADES[kind, step](fields)
        names = {f.name for f in dataclasses.fields(cls)}
        value = cls(**{name: self._decode(item) for name, item in fields.items() if name in names})
        if layout >= cls.LAYOUT:  # read as it was written; an upgraded value is another one
            object.__setattr__(value, "_fingerprint", fingerprint)
        self._known[fingerprint] = value
        return value

    def _decode(self, item: Any) -> Any:
        if isinstance(item, list):
            return tuple(self._decode(i) for i in item)
        if isinstance(item, dict):
            if "$" in item:
                return self.value(item["$"])
            if "#" in item:
                return self._array(item["#"], item["dtype"], tuple(item["shape"]))
            return float(item["f"])
        return item

    def _array(self, digest: Fingerprint, dtype: str, shape: tuple[int, ...]) -> FrozenArray:
        _, _, data = self._fetch(digest)
        try:
            array = np.frombuffer(zlib.decompress(data), dtype=np.dtype(dtype)).reshape(shape)
        except (zlib.error, ValueError) as error:
            raise StoreError(say("array {digest} is damaged", digest=digest[:12]), do="Open a copy of the case.") from error
        if array_digest(array) != digest:
            raise StoreError(say("array {digest} is damaged", digest=digest[:12]), do="Open a copy of the case.")
        return own_array(array)
