"""How volumes look on the stage: fill and line of each, remembered by name, and which are shown."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from app.core.settings import Settings
from app.core.workspace import Workspace

KEY = "stage/looks"
MOST = 300


@dataclass(frozen=True)
class Look:
    """Fill in per cent of the colour and width of the line in pixels; None is as usual."""

    fill_percent: int | None = None
    line_px: float | None = None

    def alpha(self, usual: int) -> int:
        """Return the opacity of the fill, 0..255; `usual` is what it is without a choice."""
        return usual if self.fill_percent is None else round(2.55 * self.fill_percent)

    def width(self, usual: float) -> float:
        """Return the width of the line in pixels, whatever the magnification."""
        return usual if self.line_px is None else self.line_px


USUAL = Look()


def looks(settings: Settings) -> dict[str, Look]:
    """Return the looks that were chosen, by name in small letters."""
    return _read(tuple(settings.get(KEY)))


def look_of(settings: Settings, name: str) -> Look:
    """Return how the volumes of a name look."""
    return looks(settings).get(name.lower(), USUAL)


def choose_look(settings: Settings, name: str, look: Look) -> None:
    """Remember how the volumes of a name look, in every case."""
    kept = {n: v for n, v in looks(settings).items() if n != name.lower()}
    if look != USUAL:
        kept[name.lower()] = look
    text = [f"{'' if v.fill_percent is None else v.fill_percent}|{v.line_px or ''}|{n}" for n, v in kept.items()]
    settings.set(KEY, text[-MOST:])


@lru_cache(maxsize=4)
def _read(rows: tuple[str, ...]) -> dict[str, Look]:
    found = {}
    for row in rows:
        fill, _, rest = str(row).partition("|")
        line, _, name = rest.partition("|")
        try:
            look = Look(int(fill) if fill else None, float(line) if line else None)
        except ValueError:
            continue
        if 0 <= (look.fill_percent or 0) <= 100 and 0.5 <= (look.line_px or 1.0) <= 8.0:
            found[name] = look
    return found


def is_alone(workspace: Workspace) -> bool:
    """Whether the active volume is the only one that is shown, though there are others."""
    case, v = workspace.case, workspace.volume
    if case is None or v is None or len(case.volumes) < 2:
        return False
    return {o.key for o in case.volumes} - workspace.hidden == {v.key}


def show_alone(workspace: Workspace) -> None:
    """Show only the active volume; shown alone already, show all again."""
    case, v = workspace.case, workspace.volume
    if case is not None and v is not None:
        alone = is_alone(workspace)
        workspace.hide(frozenset() if alone else frozenset(o.key for o in case.volumes if o.key != v.key))


def show_all(workspace: Workspace, shown: bool = True) -> None:
    """Show every volume, or none."""
    case = workspace.case
    workspace.hide(frozenset() if shown or case is None else frozenset(v.key for v in case.volumes))
