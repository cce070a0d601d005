"""Numbers too small for fast arithmetic, in compiled loops: counted as nothing.

What fades out exponentially ends in numbers below 1e-38, for which processors leave their fast path: a hundred times the
time, for what nobody will ever see. ``let_vanish`` has this thread's arithmetic take them for 0 (the flush-to-zero and
denormals-are-zero marks of the x86 control register MXCSR); elsewhere it does nothing.
"""

from __future__ import annotations

import platform
from typing import Any

from llvmlite import ir
from numba.core import types
from numba.extending import intrinsic

_VANISH = 0x8040
_X86 = platform.machine().lower() in ("x86_64", "amd64")


def _call(builder: Any, name: str, place: Any) -> None:
    kind = ir.FunctionType(ir.VoidType(), [place.type])
    builder.call(builder.module.declare_intrinsic(f"llvm.x86.sse.{name}", (), kind), [place])


def _let_vanish(typing: Any) -> Any:
    """Return how this thread's arithmetic was set, for ``as_before``."""

    def generate(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        word = ir.IntType(32)
        if not _X86:
            return word(0)
        place = builder.alloca(word)
        raw = builder.bitcast(place, ir.IntType(8).as_pointer())
        _call(builder, "stmxcsr", raw)
        before = builder.load(place)
        builder.store(builder.or_(before, word(_VANISH)), place)
        _call(builder, "ldmxcsr", raw)
        return before

    return types.uint32(), generate


def _as_before(typing: Any, before: Any) -> Any:
    """Set this thread's arithmetic as ``let_vanish`` found it."""

    def generate(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        if _X86:
            place = builder.alloca(ir.IntType(32))
            builder.store(args[0], place)
            _call(builder, "ldmxcsr", builder.bitcast(place, ir.IntType(8).as_pointer()))
        return context.get_dummy_value()

    return types.void(types.uint32), generate


let_vanish: Any = intrinsic(_let_vanish)
as_before: Any = intrinsic(_as_before)
