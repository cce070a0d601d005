"""What the window remembers. Every key is declared here; nothing here can change a number of a plan."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QObject, QSettings, Signal

# key -> default; the type of the default is the type of the setting
DECLARED: dict[str, Any] = {
    "theme": "dark",
    "window/geometry": QByteArray(),
    "window/state": "",
    "station": "intake",
    "folder/images": "",
    "recent": [],
    "stage/level": 40.0,
    "stage/width": 400.0,
    "stage/link_zoom": False,
    "stage/fill": True,
    "stage/crosshair": True,
    "stage/ring": True,
    "second/blend": 50.0,
    "second/curtain": False,
    "second/curtain_at": 0.5,
    "stage/looks": [],
    "brush/radius_mm": 6.0,
    "brush/ball": False,
    "brush/pressure": True,
    "range/low_hu": -100.0,
    "range/high_hu": 200.0,
    "grow/tolerance_hu": 60.0,
    "grow/all_slices": False,
    "grow/neck_mm": 4.0,
    "grow/reach_mm": 250.0,
    "grow/most_cm3": 5000.0,
    "findings/skin_mm": 5.0,
    "compare/tolerance_mm": 1.0,
}
RECENT_COUNT = 8


class Settings(QObject):
    """Typed access to QSettings; keys below ``sizes/`` (splitters, columns) are free, all others are declared.

    Signals
    -------
    changed(key) : a setting has a new value
    """

    changed = Signal(str)

    def __init__(self, store: QSettings | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._store = store or QSettings("Halfshade", "Halfshade")
        # A view asks for some in every frame, and the store reads and parses text.
        self._known: dict[str, Any] = {}

    def get(self, key: str) -> Any:
        """Return a setting in its declared type, or its default."""
        if key not in self._known:
            self._known[key] = self._read(key)
        value = self._known[key]
        return list(value) if isinstance(value, list) else value

    def _read(self, key: str) -> Any:
        default = DECLARED[key]
        value = self._store.value(key, default)
        try:
            if isinstance(default, bool):
                return value in (True, "true", "1", 1)
            if isinstance(default, float):
                return float(value)
            if isinstance(default, list):
                return [value] if isinstance(value, str) else list(value or [])
        except (TypeError, ValueError):
            return default
        return value if isinstance(value, type(default)) else default

    def set(self, key: str, value: Any) -> None:
        """Remember a declared setting."""
        if key not in DECLARED:
            raise KeyError(key)
        if self.get(key) != value:
            self._store.setValue(key, value)
            self._known.pop(key, None)
            self.changed.emit(key)

    def sizes(self, name: str) -> QByteArray:
        """Return the remembered state of a splitter or header, maybe empty."""
        value = self._store.value(f"sizes/{name}", QByteArray())
        return value if isinstance(value, QByteArray) else QByteArray()

    def keep_sizes(self, name: str, state: QByteArray) -> None:
        """Remember the state of a splitter or header."""
        self._store.setValue(f"sizes/{name}", state)

    @property
    def folder(self) -> Path:
        """The folder the settings lie in; what one makes for oneself (sets of volumes) lies beside them."""
        return Path(self._store.fileName()).parent

    def recent(self) -> list[Path]:
        """Return case files opened lately that still exist, newest first."""
        return [p for p in map(Path, self.get("recent")) if p.is_file()]

    def add_recent(self, path: Path) -> None:
        """Put a case file at the head of the recent ones."""
        text = str(Path(path).absolute())
        self.set("recent", [text, *(p for p in self.get("recent") if p != text)][:RECENT_COUNT])

    def sync(self) -> None:
        """Write what is remembered to disk."""
        self._store.sync()
