"""No attribute of a Qt object bears the name of something of Qt's.

Qt's virtual functions are looked up by name in the Python object, in its attributes first: an attribute ``metric`` that is
no function is called when Qt next asks a widget for its resolution, and the program ends.
"""

from __future__ import annotations

import ast
import inspect
import pkgutil
from importlib import import_module
from textwrap import dedent
from types import FunctionType

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLineEdit, QWidget
from shiboken6 import Shiboken

import app

MODULES = sorted(m.name for m in pkgutil.walk_packages(app.__path__, "app.") if not m.name.endswith("__main__"))


def of_qt(kind: type) -> set[str]:
    """Return the names of Qt's own a class inherits."""
    return {name for base in kind.__mro__ if base.__module__.startswith("PySide6.") for name in vars(base)}


def taken(kind: type) -> set[str]:
    """Return the attributes of a class and of its objects, functions aside, that bear a name of Qt's."""
    names = {n for n, v in vars(kind).items() if not isinstance(v, FunctionType | staticmethod) and n[:2] != "__"}
    for node in ast.walk(ast.parse(dedent(inspect.getsource(kind)))):
        if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store) and ast.unparse(node.value) == "self":
            names.add(node.attr)
    return names & of_qt(kind) - {"staticMetaObject"}


def kinds(module: str) -> list[type]:
    """Return the classes of a module that Qt knows."""
    classes = (v for v in vars(import_module(module)).values() if isinstance(v, type))
    return [c for c in classes if c.__module__ == module and issubclass(c, Shiboken.Object)]


def test_an_attribute_is_taken_for_an_answer_to_qt(qapp):
    """Why this matters; if it fails, PySide has changed and so may this rule."""
    widget = QWidget()
    widget.sizeHint = lambda: QSize(71, 53)
    widget.adjustSize()
    assert widget.size() == QSize(71, 53)


class Bad(QWidget):
    """Has what must not be had."""

    font = 3

    def __init__(self) -> None:
        super().__init__()
        self.words, self.metric = QLineEdit(), QLineEdit()


def test_a_name_of_qt_is_found():
    assert taken(Bad) == {"font", "metric"}


def test_there_are_classes_to_look_at():
    assert sum(len(kinds(m)) for m in MODULES) > 50


@pytest.mark.parametrize("module", MODULES)
def test_no_attribute_bears_a_name_of_qt(module):
    found = {kind.__name__: taken(kind) for kind in kinds(module)}
    assert not {name: names for name, names in found.items() if names}
