"""The style sheet of the window, made from the tokens."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

import assets
from app.core.tokens import TEXT_PX, Tokens, tabular, use

ART = (Path(assets.__file__).parent / "theme").as_posix()

SHEET = """
QWidget {{ color: {text}; }}
QMainWindow, QDialog, #rail {{ background: {ground}; }}
QScrollArea#panel, QScrollArea#panel > QWidget > QWidget {{ background: {panel}; }}
QScrollArea#page, QScrollArea#page > QWidget > QWidget {{ background: {panel}; }}
QLabel#heading {{ font-weight: 600; font-size: 14px; padding: 0; }}
QLabel#title {{ font-weight: 600; font-size: 22px; }}
QLabel#quiet, QLabel#caution {{ color: {quiet}; }}
QLabel#caution {{ font-size: 12px; padding: 3px 12px; border-top: 1px solid {line}; }}
QLabel#readout {{ background: {stage_shade}; color: {stage_quiet}; padding: 3px 10px; min-height: 18px; }}
#stage {{ background: {stage_shade}; }}
#stage QSplitter::handle {{ background: {stage_shade}; }}
#messages {{ background: {ground}; border-top: 1px solid {line}; }}
QLabel[level="warning"] {{ color: {warn}; font-weight: 600; }}
QLabel[level="error"], QLabel#quiet[level="error"] {{ color: {bad}; font-weight: 600; }}
QSplitter::handle {{ background: {line}; }}
QSplitter::handle:hover {{ background: {accent}; }}

QPushButton, QToolButton {{
    background: {raised}; border: 1px solid {line}; border-radius: 4px; padding: 5px 12px; min-height: 18px;
}}
QPushButton:hover, QToolButton:hover {{ border-color: {quiet}; }}
QPushButton:pressed, QToolButton:pressed {{ background: {selected}; }}
QPushButton:checked, QToolButton:checked {{ background: {selected}; border-color: {accent}; color: {text}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {accent}; padding: 4px 11px; }}
QPushButton:disabled, QToolButton:disabled {{ color: {quiet}; background: {panel}; border-color: {line}; }}
QPushButton[tight="true"] {{ padding: 5px 7px; }}
QPushButton[tight="true"]:focus {{ padding: 4px 6px; }}
QPushButton[main="true"] {{ background: {accent}; color: {on_accent}; border-color: {accent}; font-weight: 600; }}
QPushButton[main="true"]:hover {{ border-color: {text}; }}
QPushButton[main="true"]:focus {{ border: 2px solid {text}; }}
QPushButton[main="true"]:disabled {{ background: {panel}; color: {quiet}; border-color: {line}; }}

QLineEdit, QSpinBox, QDoubleSpinBox, QComboBox, QPlainTextEdit, QTextEdit {{
    background: {raised}; border: 1px solid {line}; border-radius: 4px; padding: 3px 6px; min-height: 20px;
    selection-background-color: {accent}; selection-color: {on_accent};
}}
QLineEdit:focus, QSpinBox:focus, QDoubleSpinBox:focus, QComboBox:focus, QPlainTextEdit:focus, QTextEdit:focus {{
    border: 2px solid {accent}; padding: 2px 5px;
}}
QLineEdit:disabled, QSpinBox:disabled, QDoubleSpinBox:disabled, QComboBox:disabled {{ color: {quiet}; }}
QAbstractSpinBox QLineEdit, QComboBox QLineEdit {{
    border: 0; background: transparent; padding: 0; min-height: 0;
}}
QComboBox {{ combobox-popup: 0; }}
QComboBox::drop-down {{ border: 0; width: 22px; }}
QComboBox::down-arrow {{ image: url("{art}/down-{name}.svg"); width: 12px; height: 12px; }}
QComboBox QAbstractItemView {{ background: {raised}; border: 1px solid {line}; selection-background-color: {selected};
    selection-color: {text}; }}
QComboBox QAbstractItemView::item {{ min-height: 24px; padding: 0 8px; }}
QAbstractItemView {{
    background: {panel}; alternate-background-color: {panel}; border: 1px solid {line}; border-radius: 4px;
    selection-background-color: {selected}; selection-color: {text}; gridline-color: {line}; outline: 0;
}}
QAbstractItemView:focus {{ border: 2px solid {accent}; }}
QAbstractItemView QLineEdit, QAbstractItemView QComboBox {{ border-radius: 0; padding: 0 4px; min-height: 0; }}
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{
    width: 0; border: 0; subcontrol-origin: border; subcontrol-position: top left; left: 6px;
}}
QHeaderView {{ background: {panel}; border: 0; }}
QHeaderView::section {{
    background: {panel}; color: {quiet}; border: 0; border-bottom: 1px solid {line}; padding: 4px 6px; font-weight: 400;
}}
QTableCornerButton::section {{ background: {panel}; border: 0; }}
QProgressBar {{ background: {raised}; border: 1px solid {line}; border-radius: 3px; max-height: 8px; min-height: 8px; }}
QProgressBar::chunk {{ background: {accent}; border-radius: 2px; }}
QScrollArea {{ border: 0; }}
QScrollBar:vertical {{ background: transparent; width: 12px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 12px; margin: 0; }}
QScrollBar::handle {{ background: {line}; border-radius: 4px; margin: 2px; min-height: 24px; min-width: 24px; }}
QScrollBar::handle:hover {{ background: {quiet}; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QMenuBar {{ background: {ground}; border-bottom: 1px solid {line}; padding: 2px 6px; }}
QMenuBar::item {{ padding: 4px 10px; background: transparent; border-radius: 3px; }}
QMenuBar::item:selected {{ background: {raised}; }}
QMenu {{ background: {raised}; border: 1px solid {line}; padding: 4px; }}
QMenu::item {{ padding: 5px 28px 5px 20px; border-radius: 3px; }}
QMenu::item:selected {{ background: {selected}; }}
QMenu::item:disabled {{ color: {quiet}; }}
QMenu::separator {{ height: 1px; background: {line}; margin: 4px 8px; }}
QToolTip {{ background: {raised}; color: {text}; border: 1px solid {line}; padding: 4px 6px; }}
QTabBar::tab {{ background: transparent; color: {quiet}; padding: 6px 12px; border-bottom: 2px solid transparent; }}
QTabBar::tab:selected {{ color: {text}; border-bottom-color: {accent}; }}
QTabBar::tab:focus {{ color: {accent}; }}
QTabWidget::pane {{ border: 0; border-top: 1px solid {line}; }}
QGroupBox {{ border: 0; margin-top: 20px; font-weight: 600; }}
QGroupBox::title {{ subcontrol-origin: margin; left: 0; }}
QCheckBox::indicator, QAbstractItemView::indicator {{
    width: 14px; height: 14px; border: 1px solid {quiet}; border-radius: 3px; background: {raised};
}}
QCheckBox::indicator:checked {{
    background: {accent}; border-color: {accent}; image: url("{art}/tick-{name}.svg");
}}
QAbstractItemView::indicator:checked {{ image: url("{art}/mark-{name}.svg"); }}
QCheckBox::indicator:disabled {{ border-color: {line}; }}
QCheckBox:focus, QRadioButton:focus {{ color: {accent}; }}
QRadioButton::indicator {{
    width: 12px; height: 12px; border: 1px solid {quiet}; border-radius: 7px; background: {raised};
}}
QRadioButton::indicator:checked {{
    width: 6px; height: 6px; border: 4px solid {accent}; background: {on_accent};
}}
QFileDialog QToolButton {{ padding: 2px; min-height: 0; min-width: 20px; }}
QFileDialog QToolButton:focus {{ padding: 1px; }}
QFrame#line {{ background: {line}; max-height: 1px; border: 0; }}
"""


def apply(app: QApplication, name: str) -> Tokens:
    """Give the whole program a theme: palette, font and style sheet."""
    t = use(name)
    if not app.property("styled"):
        # Once: the style is the same in every theme, and to set it anew polishes every widget. Qt owns it, being named.
        app.setStyle("Fusion")
        app.setProperty("styled", True)
    app.setFont(tabular(app.font(), TEXT_PX))
    palette = QPalette()
    roles = QPalette.ColorRole
    for role, value in (
        (roles.Window, t.ground),
        (roles.WindowText, t.text),
        (roles.Base, t.panel),
        (roles.AlternateBase, t.panel),
        (roles.Text, t.text),
        (roles.Button, t.raised),
        (roles.ButtonText, t.text),
        (roles.ToolTipBase, t.raised),
        (roles.ToolTipText, t.text),
        (roles.PlaceholderText, t.quiet),
        (roles.Highlight, t.accent),
        (roles.HighlightedText, t.on_accent),
        (roles.Link, t.accent),
    ):
        palette.setColor(role, QColor(value))
    for role in (roles.WindowText, roles.Text, roles.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(t.quiet))
    app.setPalette(palette)
    app.setStyleSheet(SHEET.format(**vars(t), art=ART))
    return t
