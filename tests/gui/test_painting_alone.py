"""The screen thread paints alone: a pool that it would wait for stands in the way of the compute threads."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.gui

CODE = """
{first}
from pathlib import Path
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter, QPolygonF
app = QGuiApplication(["-", "-platform", "offscreen"])
image = QImage(1200, 1200, QImage.Format.Format_ARGB32_Premultiplied)
image.fill(0)
for _ in range(5):
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(QColor(200, 40, 40, 90))
    painter.drawPolygon(QPolygonF([QPointF(3, 5), QPointF(1190, 30), QPointF(1100, 1180), QPointF(40, 1100)]))
    painter.end()
print(sum("pooled" in (task / "comm").read_text() for task in Path("/proc/self/task").iterdir()))
"""


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="threads are counted as Linux tells them")
@pytest.mark.parametrize(("first", "pool"), [("import app", False), ("", True)])
def test_a_large_shape_is_filled_without_a_pool_of_threads(first, pool):
    bare = {k: v for k, v in os.environ.items() if k != "QT_NO_GUI_THREADPOOL"}
    code = [sys.executable, "-c", CODE.format(first=first)]
    done = subprocess.run(code, capture_output=True, text=True, check=True, env=bare)
    threads = int(done.stdout)
    if pool and threads == 0:
        pytest.skip("this Qt fills alone anyway")
    assert (threads > 0) == pool
