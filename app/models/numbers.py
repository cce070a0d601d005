"""Numbers as people type and read them."""

from __future__ import annotations

import math
import re

_FORM = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+))\s*([^\d\s].*)?$")


def typed(text: str, units: tuple[str, ...] = ()) -> float | None:
    """Return the number a text means, or None; a decimal comma, a true minus sign and one of `units` are understood."""
    found = _FORM.match(text.replace("−", "-").replace(",", "."))
    if found is None or (found[2] and found[2].strip().lower() not in [u.lower() for u in units]):
        return None
    value = float(found[1])
    return value if math.isfinite(value) else None


def shown(value: float, digits: int = 1) -> str:
    """Return a number with at most so many decimals, without needless zeros, with a true minus sign."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "−")
