"""Loads the slow parts (compiled kernels) after the window stands, so that the first stroke does not wait for them."""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, QProcess

# In a process of its own: compiling would hold the interpreter and with it the screen. What it compiles is kept on disk,
# so that this process only loads it.
CODE = (
    "import numpy as np\n"
    "from engine.volumes import outline, paint\n"
    "paint.warm_up()\n"
    "outline.outlines(np.full((4, 4), 255, np.uint8), 0, 0)\n"
)


def begin(parent: QObject) -> QProcess:
    """Compile what is not yet on disk, in the background."""
    process = QProcess(parent)
    process.setProgram(sys.executable)
    process.setArguments(["-c", CODE])
    process.setStandardOutputFile(QProcess.nullDevice())
    process.setStandardErrorFile(QProcess.nullDevice())
    process.start()
    return process
