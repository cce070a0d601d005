"""Reads and writes of compiled loops that never touch the same memory, and say so.

A loop that reads from computed places (``a[i]`` with ``i`` worked out from the loop's own values) is carried out one by
one, because the compiler must expect its writes to change what it reads next. ``fetch`` and ``put`` carry the standard
mark of the compiler's language (LLVM's scoped noalias metadata) that they do not, and such loops work on eight or sixteen
numbers at once. Results are the same to the last bit. Whoever uses them sees to it that no array is read by ``fetch`` and
written by ``put`` in one loop; ``read_back`` is for what ``put`` replaces. ``send_for`` has memory brought near before it
is read.
"""

from __future__ import annotations

from typing import Any

from llvmlite import ir
from numba.core import types
from numba.extending import intrinsic


def _marks(builder: Any) -> tuple[Any, Any]:
    """Return the marks of what is read and of what is written."""
    module = builder.module
    domain = module.add_metadata([ir.MetaDataString(module, "halfshade")])
    read, written = (module.add_metadata([ir.MetaDataString(module, name), domain]) for name in ("read", "written"))
    return module.add_metadata([read]), module.add_metadata([written])


def _place(context: Any, builder: Any, array_type: Any, array: Any, index: Any) -> Any:
    data = context.make_array(array_type)(context, builder, array).data
    return builder.gep(data, [index], inbounds=True)


def _load(own: bool) -> Any:
    def generate(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        read, written = _marks(builder)
        value = builder.load(_place(context, builder, signature.args[0], *args))
        value.set_metadata("alias.scope", written if own else read)
        value.set_metadata("noalias", read if own else written)
        return value

    return generate


def _fetch(typing: Any, array: Any, index: Any) -> Any:
    """Return ``array[index]`` of a contiguous (n,) array; 0 <= index < n is not checked."""
    return array.dtype(array, index), _load(False)


def _read_back(typing: Any, array: Any, index: Any) -> Any:
    """Return ``array[index]`` of a contiguous (n,) array that ``put`` writes at the same `index`; else as ``fetch``."""
    return array.dtype(array, index), _load(True)


def _fetch_pair(typing: Any, array: Any, index: Any) -> Any:
    """Return ``array[index]`` and ``array[index + 1]`` of a contiguous (n,) array as float32; the index is not checked.

    Two whole numbers of 16 bits come in one read.
    """
    pair: Any = types.UniTuple(types.float32, 2)  # type: ignore[no-untyped-call]

    def both(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        values = []
        for step in (0, 1):
            place = builder.add(args[1], args[1].type(step))
            values.append(_load(False)(context, builder, signature, (args[0], place)))
        return context.make_tuple(builder, pair, values)

    def packed(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        read, written = _marks(builder)
        word, number = ir.IntType(32), ir.FloatType()
        place = builder.bitcast(_place(context, builder, signature.args[0], *args), word.as_pointer())
        value = builder.load(place, align=2)
        value.set_metadata("alias.scope", read)
        value.set_metadata("noalias", written)
        # The first of two lies in the lower half on every machine that is in use.
        halves = builder.and_(value, word(0xFFFF)), builder.lshr(value, word(16))
        return context.make_tuple(builder, pair, [builder.sitofp(half, number) for half in halves])

    return pair(array, index), packed if array.dtype == types.uint16 else both


def _put(typing: Any, array: Any, index: Any, value: Any) -> Any:
    """Do ``array[index] = value`` in a contiguous (n,) array; 0 <= index < n is not checked."""

    def generate(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        read, written = _marks(builder)
        store = builder.store(args[2], _place(context, builder, signature.args[0], *args[:2]))
        store.set_metadata("alias.scope", written)
        store.set_metadata("noalias", read)
        return context.get_dummy_value()

    return types.void(array, index, array.dtype), generate


def _send_for(typing: Any, array: Any, index: Any) -> Any:
    """Have ``array[index]`` of a contiguous (n,) array brought near, without waiting for it; nothing else happens."""

    def generate(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        small = ir.IntType(32)
        place = builder.bitcast(_place(context, builder, signature.args[0], *args), ir.IntType(8).as_pointer())
        kind = ir.FunctionType(ir.VoidType(), [place.type, small, small, small])
        prefetch = builder.module.declare_intrinsic("llvm.prefetch", (place.type,), kind)
        # To read, of middling locality, data.
        builder.call(prefetch, [place, small(0), small(2), small(1)])
        return context.get_dummy_value()

    return types.void(array, index), generate


fetch: Any = intrinsic(_fetch)
fetch_pair: Any = intrinsic(_fetch_pair)
put: Any = intrinsic(_put)
read_back: Any = intrinsic(_read_back)
send_for: Any = intrinsic(_send_for)
