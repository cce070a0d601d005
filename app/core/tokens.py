"""Colours, sizes and rhythm of the window: the tokens from which the style sheet and every painter draw."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QFont

RHYTHM_PX = 8
TEXT_PX = 13
SMALL_PX = 12


@dataclass(frozen=True)
class Tokens:
    """One set of colours, as #rrggbb. `stage_*` are the same in every theme: grey levels are judged against dark."""

    name: str
    ground: str
    panel: str
    raised: str
    line: str
    text: str
    quiet: str
    accent: str
    on_accent: str
    selected: str
    good: str
    warn: str
    bad: str
    stage_ground: str = "#0d0f11"
    stage_text: str = "#e8eaed"
    stage_quiet: str = "#a9b0b8"
    stage_accent: str = "#62c3d9"
    stage_shade: str = "#16191d"


DARK = Tokens(
    name="dark",
    ground="#1c1f23",
    panel="#23272c",
    raised="#2e3339",
    line="#3a4048",
    text="#e4e7ea",
    quiet="#a3abb4",
    accent="#62c3d9",
    on_accent="#0e2329",
    selected="#2b4149",
    good="#7cc9a2",
    warn="#e3b75f",
    bad="#ee8377",
)
LIGHT = Tokens(
    name="light",
    ground="#eceef0",
    panel="#f8f9fa",
    raised="#ffffff",
    line="#c3c9cf",
    text="#1d2226",
    quiet="#56606a",
    accent="#0f6a80",
    on_accent="#ffffff",
    selected="#d2e6eb",
    good="#1c7148",
    warn="#865700",
    bad="#b0342a",
)
THEMES = {"dark": DARK, "light": LIGHT}

_current = [DARK]


def tokens() -> Tokens:
    """Return the tokens of the theme in use."""
    return _current[0]


def use(name: str) -> Tokens:
    """Choose a theme by name; unknown names give the dark one."""
    _current[0] = THEMES.get(name, DARK)
    return _current[0]


def colour(name: str, alpha: int = 255) -> QColor:
    """Return a token as QColor."""
    out = QColor(getattr(tokens(), name))
    out.setAlpha(alpha)
    return out


def tabular(font: QFont, pixels: int | None = None, strong: bool = False) -> QFont:
    """Return a copy of `font` whose figures all have one width."""
    out = QFont(font)
    if pixels is not None:
        out.setPixelSize(pixels)
    if strong:
        out.setWeight(QFont.Weight.DemiBold)
    out.setFeature(QFont.Tag("tnum"), 1)
    return out
