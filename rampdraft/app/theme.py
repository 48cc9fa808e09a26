"""How the window looks: paper and ink, one accent; a light and a dark table, as chosen or as the system
has it.
"""

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QGuiApplication, QPalette


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """Colours by what they are for."""

    desk: str
    """Behind everything."""
    paper: str
    """Under the drawing, lists and fields."""
    ink: str
    quiet: str
    """Second-rank text; still 4.5 : 1 against desk and paper (WCAG 2.1, 1.4.3)."""
    rule: str
    """Hairlines."""
    wash: str
    """Behind what is selected or stands apart."""
    accent: str
    on_accent: str


LIGHT: Final = Theme(
    desk="#edeae2",
    paper="#fbfaf6",
    ink="#20292e",
    quiet="#566268",
    rule="#d0ccc1",
    wash="#f0e4d8",
    accent="#a83f1b",
    on_accent="#ffffff",
)

DARK: Final = Theme(
    desk="#1c2022",
    paper="#24292b",
    ink="#e3e1da",
    quiet="#a3adb0",
    rule="#3d4447",
    wash="#3a322c",
    accent="#e39468",
    on_accent="#20160f",
)


LOOK: Final = "rampdraft_look"
TEXT_SIZE: Final = "rampdraft_text_size"
"""Properties of the application: `light`, `dark` or `system`, and the size of letters in per cent."""


def text_scale() -> float:
    """Return how much larger than usual letters are."""
    app = QGuiApplication.instance()
    chosen = app.property(TEXT_SIZE) if app is not None else None
    return chosen / 100 if isinstance(chosen, int) else 1.0


def is_dark() -> bool:
    """Return whether a dark screen is chosen, or asked for by the system; where nothing is said, light."""
    app = QGuiApplication.instance()
    chosen = app.property(LOOK) if app is not None else None
    if chosen in ("light", "dark"):
        return chosen == "dark"
    return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark


def current() -> Theme:
    """Return the table in use."""
    return DARK if is_dark() else LIGHT


def palette(theme: Theme) -> QPalette:
    """Return the palette of ordinary widgets."""
    roles = QPalette.ColorRole
    colours = {
        roles.Window: theme.desk,
        roles.WindowText: theme.ink,
        roles.Base: theme.paper,
        roles.AlternateBase: theme.desk,
        roles.Text: theme.ink,
        roles.PlaceholderText: theme.quiet,
        roles.Button: theme.desk,
        roles.ButtonText: theme.ink,
        roles.BrightText: theme.accent,
        roles.Highlight: theme.accent,
        roles.HighlightedText: theme.on_accent,
        roles.Link: theme.accent,
        roles.ToolTipBase: theme.paper,
        roles.ToolTipText: theme.ink,
        roles.Mid: theme.rule,
        roles.Light: theme.paper,
        roles.Midlight: theme.rule,
        roles.Dark: theme.rule,
        roles.Shadow: theme.rule,
        roles.Accent: theme.accent,
    }
    made = QPalette()
    for role, colour in colours.items():
        made.setColor(role, QColor(colour))
    for role in (roles.WindowText, roles.Text, roles.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.quiet))
    return made


# long: one text, with nothing in it that is worked out
def style_sheet(theme: Theme) -> str:
    """Return the few rules that a palette cannot say."""
    return f"""
    QLineEdit, QPlainTextEdit {{ border: 1px solid {theme.rule}; border-radius: 2px; padding: 2px 4px;
        background: {theme.paper};
        selection-background-color: {theme.accent}; selection-color: {theme.on_accent}; }}
    QLineEdit[wrong="true"], QPlainTextEdit[wrong="true"] {{ border: 2px solid {theme.accent};
        padding: 1px 3px; }}
    QLineEdit[follows="true"] {{ color: {theme.quiet}; font-style: italic; }}
    QLabel[role="area"] {{ font-weight: bold; padding: 7px 10px 5px 10px; }}
    QLabel[role="step"] {{ font-weight: bold; }}
    QPushButton[role="need"] {{ text-align: left; border: none; background: transparent;
        color: {theme.accent}; padding: 3px 6px; }}
    QPushButton[role="need"]:hover {{ background: {theme.wash}; }}
    QPushButton[role="need"]:disabled {{ color: {theme.quiet}; }}
    QListView[role="steps"] {{ background: transparent; }}
    QLabel[role="quiet"] {{ color: {theme.quiet}; }}
    QLabel[role="reason"] {{ color: {theme.accent}; }}
    QLabel[role="letter"] {{ color: {theme.quiet}; font-style: italic; }}
    Field[lit="true"] {{ background: {theme.wash}; border-left: 3px solid {theme.accent}; }}
    QLabel[role="told"] {{ background: {theme.paper}; color: {theme.ink}; border: 1px solid {theme.quiet};
        padding: 3px 5px; }}
    QFrame#tour_card {{ background: {theme.paper}; border: 1px solid {theme.accent}; border-radius: 3px; }}
    QFrame#tour_around {{ background: transparent; border: 3px solid {theme.accent}; border-radius: 3px; }}
    QFrame#notice {{ background: {theme.wash}; border: none; border-bottom: 1px solid {theme.rule}; }}
    QFrame#notice QScrollArea, QFrame#notice QScrollArea > QWidget > QWidget {{ background: transparent; }}
    QProgressBar {{ border: 1px solid {theme.rule}; border-radius: 2px; background: {theme.paper}; }}
    QProgressBar::chunk {{ background: {theme.accent}; }}
    QFrame[role="hairline"] {{ background: {theme.rule}; border: none; }}

           QFrame[role="sheet"], QScrollArea[role="sheet"], QListView, QTableView, QTextBrowser {{
        background: {theme.paper};
        border: none; }}
    QToolButton[role="section"] {{ border: none; padding: 6px 4px; font-weight: bold; text-align: left;
        background: transparent; }}
    QToolButton[role="line"] {{ border: none; padding: 6px 6px; text-align: left; background: transparent; }}
    QToolButton[role="line"]:hover {{ color: {theme.accent}; }}
    QToolButton[role="section"]:hover {{ color: {theme.accent}; }}
    QPushButton {{ border: 1px solid {theme.rule}; border-radius: 2px; padding: 3px 9px;
        background: {theme.paper}; }}
    QPushButton:hover {{ border-color: {theme.accent}; }}
    QPushButton:checked {{ background: {theme.wash}; border-color: {theme.accent}; }}
    QPushButton:disabled {{ color: {theme.quiet}; }}
    QTabBar::tab {{ padding: 6px 10px; border: none; border-bottom: 2px solid transparent;
        background: transparent; }}
    QTabBar::tab:selected {{ border-bottom: 2px solid {theme.accent}; font-weight: bold; }}
    QHeaderView::section {{ background: {theme.desk}; border: none; border-bottom: 1px solid {theme.rule};
        padding: 4px 6px; }}
    QSplitter::handle {{ background: {theme.rule}; }}
    QStatusBar::item {{ border: none; }}
    QSlider {{ min-height: 20px; }}
    QSlider::groove:horizontal {{ height: 4px; background: {theme.rule}; border-radius: 2px; }}
    QSlider::sub-page:horizontal {{ background: {theme.accent}; border-radius: 2px; }}
    QSlider::handle:horizontal {{ width: 12px; margin: -6px 0; background: {theme.paper};
        border: 1px solid {theme.quiet};
        border-radius: 3px; }}
    QSlider::handle:horizontal:hover {{ border-color: {theme.accent}; }}
    QScrollBar {{ background: transparent; border: none; }}
    QScrollBar:vertical {{ width: 11px; }}
    QScrollBar:horizontal {{ height: 11px; }}
    QScrollBar::handle {{ background: {theme.rule}; border-radius: 3px; margin: 2px; min-height: 30px;
        min-width: 30px; }}
    QScrollBar::handle:hover {{ background: {theme.quiet}; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QToolTip {{ background: {theme.paper}; color: {theme.ink}; border: 1px solid {theme.rule};
        padding: 4px; }}
    """
