"""The walls of the house: who may import whom, how long a file may grow, that tests mirror the engine.

The table is shown in DEVELOPERS.md; `python tests/test_architecture.py` prints it for pasting.
"""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
CEILING = 400

_SPACE = ("engine.base", "engine.space")
_IMAGE = (*_SPACE, "engine.image")
_BELOW_CASE = (
    *_IMAGE,
    "engine.volumes",
    "engine.beams",
    "engine.dose",
    "engine.evaluation",
    "engine.optimise",
)

# area -> areas it may use (itself always). The longest area that matches a module's name is its area.
MAY_USE: dict[str, tuple[str, ...]] = {
    "engine.base": (),
    "engine.space": ("engine.base",),
    "engine.image": (*_SPACE, "engine.beams.beam"),
    "engine.volumes": (*_IMAGE, "assets"),
    "engine.beams": (*_SPACE, "engine.volumes", "assets"),
    "engine.dose": (*_IMAGE, "engine.beams", "assets"),
    "engine.commission": (*_IMAGE, "engine.beams", "engine.dose", "assets"),
    "engine.evaluation": (*_SPACE, "engine.volumes", "engine.dose", "assets"),
    "engine.optimise": (*_SPACE, "engine.volumes", "engine.beams", "engine.dose", "engine.evaluation"),
    "engine.case": _BELOW_CASE,
    "engine.review": (*(a for a in _BELOW_CASE if a != "engine.optimise"), "engine.case"),
    "engine.dicom": (*_BELOW_CASE, "engine.case", "engine.review"),
    "engine.store": (*_BELOW_CASE, "engine.case", "engine.review"),
    "engine.align": _IMAGE,
    "engine.phantoms": (*_IMAGE, "engine.volumes", "assets"),
    "engine.compute": ("engine",),
    "engine.rehearsal": ("engine",),
    "engine": (),
    "app.core": ("engine",),
    "app.views": ("app.core", "engine"),
    "app.models": ("app.core", "engine"),
    "app.tools": ("app.core", "app.views", "engine"),
    "app.panels": ("app.core", "app.models", "engine"),
    # Sign shows the very pictures that the record holds, so it draws them with app.report.
    "app.stations": (
        "app.core",
        "app.views",
        "app.tools",
        "app.models",
        "app.panels",
        "app.dialogs",
        "app.report",
        "engine",
    ),
    "app.report": ("app.core", "app.views", "engine", "assets"),
    "app.commands": ("app.core", "app.report", "engine", "assets"),
    "app.dialogs": ("app.core", "app.models", "engine"),
    "app": ("app", "engine", "assets"),
    "assets": (),
}

# Reached by the screens only through engine.compute, whatever the table above allows.
NOT_FROM_APP = ("engine.dicom", "engine.dose.kernels", "engine.dose.kernel_factory", "engine.optimise")
STORE_USERS = ("app.core.keeper", "app.commands", "engine.store")

PACKAGES: dict[str, tuple[str, ...]] = {
    "PySide6": ("app",),
    "pyqtgraph": ("app",),
    "pydicom": ("engine.dicom",),
    "sqlite3": ("engine.store",),
    "numba": ("engine",),
    "scipy": ("engine",),
    "skimage": ("engine",),
    "cryptography": ("engine.review",),
}


def modules() -> Iterator[tuple[str, Path]]:
    for folder in ("engine", "app", "assets"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            yield ".".join(parts[:-1] if parts[-1] == "__init__" else parts), path


def imports(name: str, path: Path) -> Iterator[tuple[str, int]]:
    """Yield every imported module (from-imports with each name appended, since it may be a module) and its line."""
    package = name.split(".") if path.name == "__init__.py" else name.split(".")[:-1]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            start = package[: len(package) - node.level + 1] if node.level else []
            module = ".".join([*start, *([node.module] if node.module else [])])
            for alias in node.names:
                yield f"{module}.{alias.name}", node.lineno


def area(name: str) -> str:
    return max((a for a in MAY_USE if name == a or name.startswith(a + ".")), key=len)


def within(name: str, areas: tuple[str, ...]) -> bool:
    return any(name == a or name.startswith(a + ".") for a in areas)


def violations(name: str, path: Path) -> list[str]:
    found = []
    home = area(name)
    for target, line in imports(name, path):
        top = target.split(".")[0]
        where = f"{path.relative_to(ROOT)}:{line} {name} imports {target}"
        if top in ("engine", "app", "assets"):
            bare = target.split(".")[:2] in (["engine", "__version__"], ["assets", "path"])
            if not bare and target != home and not within(target, (home, *MAY_USE[home])):
                found.append(f"{where}: {home} may not")
            if name.startswith("app") and not name.startswith("app.commands") and within(target, NOT_FROM_APP):
                found.append(f"{where}: only through engine.compute")
            if within(target, ("engine.store",)) and not within(name, STORE_USERS):
                found.append(f"{where}: only the keeper and commands use the store")
        elif top in PACKAGES and not within(name, PACKAGES[top]):
            found.append(f"{where}: {top} belongs to {', '.join(PACKAGES[top])}")
    return found


def test_every_import_is_in_the_table():
    found = [v for name, path in modules() for v in violations(name, path)]
    assert not found, "\n".join(found)


def test_a_planted_violation_is_caught(tmp_path):
    planted = ROOT / "engine" / "base" / "values.py"
    bad = tmp_path / "bad.py"
    bad.write_text("import PySide6.QtCore\nfrom engine.case import case\nfrom ..dose import dose\n")
    lines = []
    for target, _ in imports("engine.base.bad", bad):
        lines.append(target)
    assert lines == ["PySide6.QtCore", "engine.case.case", "engine.dose.dose"]
    assert not within("engine.case.case", ("engine.base", *MAY_USE["engine.base"]))
    assert planted.is_file()


@pytest.mark.parametrize("folder", ["engine", "app", "assets", "tests"])
def test_no_file_grows_beyond_the_ceiling(folder):
    long = {
        str(p.relative_to(ROOT)): n
        for p in sorted((ROOT / folder).rglob("*.py"))
        if (n := len(p.read_text(encoding="utf-8").splitlines())) > CEILING
    }
    assert not long


def test_every_engine_module_has_its_mirror_test():
    missing = []
    for name, path in modules():
        if not name.startswith("engine.") or path.name in ("__init__.py", "__main__.py"):
            continue
        folder = ROOT / "tests" / path.relative_to(ROOT).parent
        if not (folder / f"test_{path.stem}.py").is_file():
            missing.append(name)
    assert not missing, f"no mirror test for: {', '.join(missing)}"


def test_importing_the_engine_brings_no_qt():
    code = (
        "import sys, engine.compute, engine.case.case, engine.case.requests, engine.evaluation.goals;"
        "print([m for m in sys.modules if m.startswith(('PySide6', 'numba', 'pydicom', 'scipy', 'skimage'))])"
    )
    out = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_the_guide_shows_this_table():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert table() in guide, "paste the output of `python tests/test_architecture.py` into DEVELOPERS.md"


LEFT = {"build", "dist", "demo", "__pycache__"}


def test_the_top_level_is_as_agreed():
    if shutil.which("git") and (ROOT / ".git").exists():
        kept = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\n")
        tops = {k.split("/")[0] for k in kept if k and not k.startswith(".")}
    else:
        # Unpacked somewhere without git: what stands there, but for what building and running leave.
        tops = {p.name for p in ROOT.iterdir() if not p.name.startswith(".") and p.suffix != ".egg-info"} - LEFT
    assert tops <= {"README.md", "DEVELOPERS.md", "pyproject.toml", "app", "engine", "tests", "assets"}


def table() -> str:
    rows = ["| area | may use |", "| --- | --- |"]
    for name, may in MAY_USE.items():
        rows.append(f"| `{name}` | {', '.join(f'`{m}`' for m in may) or 'nothing of ours'} |")
    return "\n".join(rows)


if __name__ == "__main__":
    print(table())
