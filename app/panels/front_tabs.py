"""Tabs that are as high as the page in front."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QTabWidget, QWidget


class FrontTabs(QTabWidget):
    """A QTabWidget asks for the room of its largest page; this one leaves what the page in front does not need."""

    def sizeHint(self) -> QSize:
        page = self.currentWidget()
        return super().sizeHint() if page is None else self._around(page.sizeHint())

    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        return super().minimumSizeHint() if page is None else self._around(page.minimumSizeHint())

    def hasHeightForWidth(self) -> bool:
        return self.currentWidget() is not None

    def heightForWidth(self, width: int) -> int:
        page = self.currentWidget()
        if page is None:
            return super().heightForWidth(width)
        return self._around(QSize(width, _high(page, width))).height()

    def _around(self, size: QSize) -> QSize:
        bar = self.tabBar().sizeHint()
        return QSize(max(size.width(), bar.width()), size.height() + bar.height())


def _high(page: QWidget, width: int) -> int:
    layout = page.layout()
    if layout is None or not layout.hasHeightForWidth():
        return page.sizeHint().height()
    return max(page.minimumSizeHint().height(), layout.totalHeightForWidth(width))
