"""Files the program ships: machines, physics tables, kernels, goals, theme, help, pictures."""

from importlib.resources import files
from pathlib import Path


def path(name: str) -> Path:
    """Return the path of a shipped file or folder, e.g. ``path("machines/generic-6.toml")``."""
    return Path(str(files(__name__))) / name
