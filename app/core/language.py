"""The person's language: Qt's translator where there is one, and the way words of the engine go through it.

The engine makes sentences as templates with values (``engine.base.words``). ``translated`` tells them in the language
that is installed, and every place that shows a word of the engine to a person calls it. Without a translation file
nothing is loaded; without Qt (a subcommand) the words stay English.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from engine.base.words import told

CONTEXT = "Words"
_loaded: list[Any] = []


def translated(text: object) -> str:
    """Return words of the engine (a sentence, an error, a plain word) in the person's language."""
    return told(text, _look_up)


def install(folder: Path, names: tuple[str, ...] = ()) -> bool:
    """Load the translation for the system's languages, or for `names` such as ("de",); return whether one was found.

    Translations are files ``halfshade_<language>.qm`` in `folder`. An application object that exists gets the translator;
    without one the words of the engine are translated all the same.
    """
    files = {p.stem.removeprefix("halfshade_"): p for p in folder.glob("halfshade_*.qm")}
    if not files:
        return False
    try:
        from PySide6.QtCore import QCoreApplication, QLocale, QTranslator
    except ImportError:  # whoever needs Qt says in words what is missing
        return False
    wanted = names or tuple(QLocale.system().uiLanguages())
    for name in wanted:
        name = name.replace("-", "_")
        if name.partition("_")[0] == "en":
            return False
        file = files.get(name) or files.get(name.partition("_")[0])
        if file is None:
            continue
        translator = QTranslator()
        if not translator.load(str(file)):
            continue
        _loaded[:] = [translator]
        if QCoreApplication.instance() is not None:
            QCoreApplication.installTranslator(translator)
        return True
    return False


def _look_up(template: str, count: int) -> str:
    core = sys.modules.get("PySide6.QtCore")
    if core is None:
        return template
    if core.QCoreApplication.instance() is not None:
        return str(core.QCoreApplication.translate(CONTEXT, template, None, count))
    found = (translator.translate(CONTEXT, template, None, count) for translator in _loaded)
    return next((text for text in found if text), template)
