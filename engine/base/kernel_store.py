"""Where compiled kernels are kept between runs: a folder for each state of the sources they are made of.

The compiler keeps a kernel beside its own file and asks only whether *that* file has changed. But a kernel takes in the
kernels and numbers it uses from other files, so after an update of those an old dose would be computed by new code.
Here the folder's name is a digest of every file that kernels are made of: one changed, and all are compiled anew.
"""

from __future__ import annotations

import os
import re
import shutil
import sys
from contextlib import suppress
from hashlib import blake2b
from pathlib import Path

_USED = re.compile(r"^(?:from|import) (engine(?:\.\w+)+)", re.MULTILINE)
_KEPT = 3


def sources(package: Path) -> list[Path]:
    """Return the files of a package (the folder `engine`) that hold compiled kernels, and those they take things from."""
    texts = {path: path.read_text(encoding="utf-8") for path in sorted(package.rglob("*.py"))}
    found = {path for path, text in texts.items() if "@njit" in text or "intrinsic(" in text}
    waiting = list(found)
    while waiting:
        for module in _USED.findall(texts[waiting.pop()]):
            place = package.parent.joinpath(*module.split("."))
            for path in (place.with_suffix(".py"), place / "__init__.py"):
                if path in texts and path not in found:
                    found.add(path)
                    waiting.append(path)
    return sorted(found)


def folder_of(package: Path, root: Path) -> Path:
    """Return the folder in `root` for kernels made of a package's files as they are now; `root` if it is that already."""
    digest = blake2b(digest_size=8)
    for path in sources(package):
        digest.update(path.relative_to(package).as_posix().encode())
        digest.update(path.read_bytes())
    # A process inherits what the one that started it has set.
    return root if root.name == digest.hexdigest() else root / digest.hexdigest()


def keep_kernels(package: Path) -> None:
    """Have kernels kept in their folder, made at need; call it before numba is imported.

    ``NUMBA_CACHE_DIR`` says in which root, else the user's folder for what can be made again. Folders of earlier states
    are removed but for the last few. Where nothing can be written kernels are compiled in every run.
    """
    given = os.environ.get("NUMBA_CACHE_DIR")
    folder = folder_of(package, Path(given) if given else _users_cache() / "halfshade" / "kernels")
    os.environ["NUMBA_CACHE_DIR"] = str(folder)
    if not folder.exists():
        try:
            folder.mkdir(parents=True)
            old = sorted((f for f in folder.parent.iterdir() if _is_state(f)), key=lambda f: f.stat().st_mtime)
        except OSError:
            return
        for one in old[:-_KEPT]:
            shutil.rmtree(one, ignore_errors=True)


def mark(name: str) -> None:
    """Note beside the kept kernels that all those a name stands for are there."""
    with suppress(OSError):
        Path(os.environ["NUMBA_CACHE_DIR"], name).touch()


def is_marked(name: str) -> bool:
    """Return whether ``mark`` was called for the kernels in use."""
    return Path(os.environ["NUMBA_CACHE_DIR"], name).exists()


def _is_state(folder: Path) -> bool:
    return folder.is_dir() and re.fullmatch(r"[0-9a-f]{16}", folder.name) is not None


def _users_cache() -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
