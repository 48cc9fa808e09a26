"""A small editor that stands on a canvas where a value is written."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QWidget

from rampdraft.app.canvas.knob import ENTER
from rampdraft.app.furniture import column, label, make

WIDTH_EM = 11
"""In widths of the letter m."""


class TypeOver(QFrame):
    """Takes a text: Enter gives it, Esc leaves what was. It goes when it is done, and gives the cursor back
    to who had it.
    """

    # many: keywords but for where it stands, each a thing that it needs
    def __init__(
        self,
        canvas: QWidget,
        at: QPointF,
        *,
        name: str,
        text: str,
        read: Callable[[str], Any],
        take: Callable[[Any], str],
    ) -> None:
        """`read` returns the value of a text, or raises ValueError with why it is none; `take` takes a value,
        and returns why it can't be, or nothing.
        """
        super().__init__(canvas)
        self.setAutoFillBackground(True)
        self.setProperty("role", "sheet")
        self._before, self._text, self._read, self._take = canvas.window().focusWidget(), text, read, take
        self.line = make(QLineEdit, text, self, accessibleName=name, toolTip=name)
        self.line.setFixedWidth(WIDTH_EM * self.fontMetrics().horizontalAdvance("m"))
        self.reason = label("", self, role="reason")
        self.reason.hide()
        column(self, (self.line, 0), (self.reason, 0), margins=(2, 2, 2, 2))
        self.line.installEventFilter(self)
        self.adjustSize()
        x = min(max(at.x() - self.width() / 2, 2), canvas.width() - self.width() - 2)
        y = min(max(at.y() - self.height() / 2, 2), canvas.height() - self.height() - 2)
        self.move(round(x), round(y))
        self.show()
        self.raise_()
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.line.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take with Enter, leave with Esc; when the cursor leaves, take what can be taken."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() in ENTER:
                self._finish(stay=True)
                return True
            if event.key() == Qt.Key.Key_Escape:
                self._close(back=True)
                return True
        elif event.type() == QEvent.Type.FocusOut:
            self._finish(stay=False)
        return False

    def _finish(self, *, stay: bool) -> None:
        """Take the text, and close; where it is no value say why, and `stay`."""
        text, why = self.line.text(), ""
        if text != self._text:
            try:
                value = self._read(text)
            except ValueError as wrong:
                why = str(wrong)
            else:
                why = self._take(value)
        if why and stay:
            self.reason.setText(why)
            self.reason.setFixedWidth(self.line.width())
            self.reason.show()
            self.line.setAccessibleDescription(why)
            self.adjustSize()
        else:
            self._close(back=stay)

    def _close(self, *, back: bool) -> None:
        self.line.removeEventFilter(self)
        self.hide()
        self.deleteLater()
        if back and self._before is not None:
            self._before.setFocus(Qt.FocusReason.OtherFocusReason)
