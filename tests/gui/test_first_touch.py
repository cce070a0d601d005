"""Nothing under the hand is compiled when it is first touched: the rehearsal knows every kernel it will call."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.gui

ROOT = Path(__file__).resolve().parents[2]
# Made offline, asked for by commands or a making of demonstration patients, which take their time anyway.
NEVER_UNDER_THE_HAND = ("engine.dose.kernel_factory.", "engine.evaluation.gamma.", "engine.phantoms.")


@pytest.fixture(scope="module")
def touched() -> subprocess.CompletedProcess[str]:
    """A process of its own that rehearses and then touches everything: here other tests have called kernels already."""
    command = [sys.executable, "-m", "tests.support.first_touch"]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_no_first_touch_meets_a_kernel_that_was_not_rehearsed(touched):
    assert touched.returncode == 0, touched.stdout + touched.stderr
    assert "107 touches" in touched.stdout


def test_every_kernel_that_is_called_is_rehearsed(touched):
    rehearsed = {line.removeprefix("rehearsed: ") for line in touched.stdout.splitlines()}
    called = {kernel for kernel in kernels_called() if not kernel.startswith(NEVER_UNDER_THE_HAND)}
    assert len(called) > 50
    assert called <= rehearsed, f"engine.rehearsal leaves out: {', '.join(sorted(called - rehearsed))}"


def kernels_called() -> set[str]:
    """Return the compiled functions of the engine that its Python functions call, by full name."""
    files = sorted((ROOT / "engine").rglob("*.py"))
    trees = {".".join(p.relative_to(ROOT).with_suffix("").parts): ast.parse(p.read_text(encoding="utf-8")) for p in files}
    kernels = {
        f"{module}.{f.name}" for module, tree in trees.items() for f in tree.body if _is_function(f) and _is_compiled(f)
    }
    called: set[str] = set()
    for module, tree in trees.items():
        known = {k.rpartition(".")[2]: k for k in kernels if k.rpartition(".")[0] == module}
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom):
                known |= {a.asname or a.name: f"{node.module}.{a.name}" for a in node.names}
        for function in (f for f in ast.walk(tree) if _is_function(f) and not _is_compiled(f)):
            for node in ast.walk(function):
                if isinstance(node, ast.Name):
                    called.add(known.get(node.id, ""))
                elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                    called.add(f"{known.get(node.value.id, '')}.{node.attr}")
    return called & kernels


def _is_function(node: ast.AST) -> bool:
    return isinstance(node, ast.FunctionDef)


def _is_compiled(function: ast.AST) -> bool:
    return isinstance(function, ast.FunctionDef) and any("njit" in ast.unparse(d) for d in function.decorator_list)
