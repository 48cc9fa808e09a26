"""Starts the window."""

import sys
from pathlib import Path

from PySide6.QtCore import QLocale, QTimer
from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QApplication

from rampdraft.app import theme
from rampdraft.drawing.style import FONT, FONT_BOLD, font_path


def run(path: Path | str | None, *, show_for_ms: int | None = None) -> int:
    """Show the window, with the design in `path` or a new one, until it is closed; return the exit code.

    `show_for_ms` closes it by itself after that time: for tests, pictures and benchmarks.
    """
    from rampdraft.app.failures import Failures
    from rampdraft.app.window import Window

    app = application()
    window = Window()
    failures = Failures(window.tell_failure)
    failures.install()
    window.show()
    # The window stands before the design is read and worked out: it is never waited for.
    start = window.start_with(Path(path) if path is not None else None)
    QTimer.singleShot(0, window, start)
    if show_for_ms is not None:
        QTimer.singleShot(show_for_ms, window, window.close_unasked)
    try:
        return app.exec()
    finally:
        failures.remove()


def application() -> QApplication:
    """Return the application, dressed in this program's palette and fonts."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setApplicationName("rampdraft")
    app.setApplicationDisplayName("Rampdraft")
    app.setStyle("Fusion")
    locale = QLocale()
    locale.setNumberOptions(QLocale.NumberOption.OmitGroupSeparator)
    QLocale.setDefault(locale)
    for name in (FONT, FONT_BOLD):
        QFontDatabase.addApplicationFont(str(font_path(name)))
    dress(app)
    app.styleHints().colorSchemeChanged.connect(_redress)
    return app


def dress(app: QApplication) -> None:
    """Put on the light or the dark palette."""
    colours = theme.current()
    app.setPalette(theme.palette(colours))
    app.setStyleSheet(theme.style_sheet(colours))


def _redress() -> None:
    app = QApplication.instance()
    if isinstance(app, QApplication):
        dress(app)
