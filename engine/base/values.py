"""Immutable values with a fingerprint.

A ``Value`` is a frozen dataclass whose fields are plain scalars, strings, tuples, read-only arrays or other values.
Its *fingerprint* is the SHA-256 of its canonical bytes; a nested value enters by its own fingerprint, so that two
values that share a part share its hash (and the store writes that part once).
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Self, dataclass_transform

import numpy as np
from numpy.typing import ArrayLike, DTypeLike, NDArray

Fingerprint = str
FrozenArray = NDArray[Any]


def frozen_array(data: ArrayLike, dtype: DTypeLike | None = None) -> FrozenArray:
    """Return `data` as a C-contiguous array that nobody can write to; copies only if it must."""
    array = np.asarray(data, dtype=dtype, order="C")
    if array.flags.writeable:
        if array is data or array.base is not None:
            array = array.copy(order="C")
        array.flags.writeable = False
    return array


def own_array(array: FrozenArray) -> FrozenArray:
    """Freeze an array that the caller hands over for good, without a copy."""
    array = np.ascontiguousarray(array)
    array.flags.writeable = False
    return array


def read_only(array: NDArray[Any]) -> FrozenArray:
    """Return a C-contiguous view (or copy) that cannot be written to; the caller's own array stays as it is.

    Compiled kernels are made once for arrays that may be written to and once for others: what only reads takes one kind.
    """
    view = np.ascontiguousarray(array).view()
    view.flags.writeable = False
    return view


def array_digest(array: FrozenArray) -> Fingerprint:
    """Return the hash of an array's dtype, shape and bytes."""
    digest = hashlib.sha256(f"{array.dtype.str}{array.shape}".encode())
    if array.size:
        digest.update(np.ascontiguousarray(array).view(np.uint8).data)
    return digest.hexdigest()


@dataclass_transform(frozen_default=True)
@dataclasses.dataclass(frozen=True, eq=False)
class Value:
    """Base of all values. Subclass with ``@dataclass(frozen=True, eq=False)``.

    Two values are equal when their fingerprints are. Fields annotated ``float`` or ``tuple[float, ...]`` accept ints
    and numpy scalars and hold Python floats, so that 90 and 90.0 are one value. A subclass that defines
    ``__post_init__`` calls ``super().__post_init__()`` first. ``LAYOUT`` is raised when fields change meaning.

    A field that joins a kind later has a default and its name in ``LATER``, with the layout it came with. It is not part
    of the content while it holds the default: values made before it keep their bytes and fingerprints, so what was
    signed about them still holds, and an older program reads what it can understand and refuses what it cannot.
    """

    LAYOUT: ClassVar[int] = 1
    LATER: ClassVar[Mapping[str, int]] = {}
    KINDS: ClassVar[dict[str, type[Value]]] = {}
    _annotated: ClassVar[tuple[tuple[str, str], ...]] = ()

    def __init_subclass__(cls, **kwargs: Any) -> None:
        super().__init_subclass__(**kwargs)
        Value.KINDS[cls.__name__] = cls

    def __post_init__(self) -> None:
        for name, annotation in _annotations(type(self)):
            value = getattr(self, name)
            clean = _clean(annotation, value)
            if clean is not value:
                object.__setattr__(self, name, clean)
            if isinstance(clean, np.ndarray) and clean.flags.writeable:
                raise TypeError(f"{type(self).__name__}.{name} is writable; pass frozen_array(...)")

    @property
    def fingerprint(self) -> Fingerprint:
        """Hash of the whole content, computed once."""
        cached = self.__dict__.get("_fingerprint")
        if cached is None:
            cached = hashlib.sha256(canonical_bytes(self)).hexdigest()
            object.__setattr__(self, "_fingerprint", cached)
        return cached

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        if not isinstance(other, Value) or type(self) is not type(other):
            return False
        # What a hand moves on differs somewhere at nearly every move: then nothing need be hashed.
        return not _surely_differ(self, other) and self.fingerprint == other.fingerprint

    def __hash__(self) -> int:
        return hash(self.fingerprint)

    def content(self) -> tuple[int, dict[str, Any]]:
        """Return the layout this value needs and its fields by name, without later ones that hold their default."""
        fields = {f.name: (f, getattr(self, f.name)) for f in dataclasses.fields(self)}
        used = {n: layout for n, layout in self.LATER.items() if fields[n][1] != fields[n][0].default}
        body = {n: value for n, (_, value) in fields.items() if n not in self.LATER or n in used}
        return max((self.LAYOUT, *used.values())), body

    @classmethod
    def newest_layout(cls) -> int:
        """Return the highest layout this program understands."""
        return max((cls.LAYOUT, *cls.LATER.values()))

    def but(self, **changes: Any) -> Self:
        """Return a copy with some fields replaced."""
        return dataclasses.replace(self, **changes)


def _surely_differ(a: Any, b: Any) -> bool:
    """Whether two fields, or values, certainly have other bytes; False where only hashing can tell."""
    kind = type(a)
    if a is b or kind is not type(b):
        return False
    if kind in (str, int, bool):
        return bool(a != b)
    if kind is float:
        return bool(a < b or a > b)
    if kind is tuple:
        return len(a) != len(b) or any(map(_surely_differ, a, b))
    if not isinstance(a, Value):
        return False
    known = a.__dict__.get("_fingerprint"), b.__dict__.get("_fingerprint")
    if None not in known:
        return bool(known[0] != known[1])
    return any(_surely_differ(getattr(a, name), getattr(b, name)) for name, _ in _annotations(kind))


def _annotations(kind: type[Value]) -> tuple[tuple[str, str], ...]:
    known = kind.__dict__.get("_annotated")
    if known is None:
        known = tuple((field.name, str(field.type)) for field in dataclasses.fields(kind))
        kind._annotated = known
    return known


def _clean(annotation: str, value: Any) -> Any:
    """Coerce numbers by annotation so that equal numbers have equal bytes."""
    if annotation.startswith("float") and isinstance(value, (int, float, np.generic)):
        if type(value) is not float:
            return float(value)
    elif annotation.startswith("int") and type(value) is not int and isinstance(value, (int, np.integer)):
        return int(value)
    elif annotation.startswith("tuple[") and not isinstance(value, tuple) and value is not None:
        return _clean(annotation, tuple(value))
    elif annotation.startswith("tuple[") and "float" in annotation and isinstance(value, tuple):
        return _floats(value)
    return value


def _floats(value: tuple[Any, ...]) -> tuple[Any, ...]:
    """Turn every number inside (nested) tuples into a Python float; return the same object if nothing changed."""
    out = tuple(
        _floats(tuple(v)) if isinstance(v, (tuple, list)) else float(v) if isinstance(v, (int, np.generic)) else v
        for v in value
    )
    return value if all(a is b for a, b in zip(out, value, strict=True)) else out


def encode(value: Any) -> Any:
    """Return the JSON form of a field: nested values as {"$": fingerprint}, arrays as {"#": digest, ...}."""
    if isinstance(value, Value):
        return {"$": value.fingerprint}
    if isinstance(value, np.ndarray):
        return {"#": array_digest(value), "dtype": value.dtype.str, "shape": list(value.shape)}
    if isinstance(value, (tuple, list)):
        return [encode(v) for v in value]
    if isinstance(value, float) and not math.isfinite(value):
        return {"f": repr(value)}
    if value is None or isinstance(value, (str, bool, int, float)):
        return value
    raise TypeError(f"a value cannot hold {type(value).__name__}")


def canonical_bytes(value: Value) -> bytes:
    """Return the bytes whose hash is the fingerprint: JSON with sorted keys and exact floats."""
    layout, fields = value.content()
    document = {"kind": type(value).__name__, "layout": layout, "fields": {n: encode(v) for n, v in fields.items()}}
    return json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=True, allow_nan=False).encode()


def parts(value: Any) -> Iterator[Value | FrozenArray]:
    """Yield the values and arrays held directly by `value` (through tuples, not through nested values)."""
    if isinstance(value, Value):
        for field in dataclasses.fields(value):
            yield from _held(getattr(value, field.name))


def _held(item: Any) -> Iterator[Value | FrozenArray]:
    if isinstance(item, (Value, np.ndarray)):
        yield item
    elif isinstance(item, (tuple, list)):
        for inner in item:
            yield from _held(inner)
