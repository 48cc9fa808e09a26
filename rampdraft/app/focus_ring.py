"""The frame round what has the cursor, alike on every control: two pixels of the accent inside its edge."""

from typing import Final

from PySide6.QtCore import QEvent, QObject, QRect, Qt
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent, QRegion
from PySide6.QtWidgets import QApplication, QWidget

from rampdraft.app import theme

WIDE_PX: Final = 2
"""So a line all round changes by 3 : 1 or more (WCAG 2.2, 1.4.11) where the edge is dark already, too."""


class FocusRings(QObject):
    """Puts a ring on whatever takes the cursor, unless that paints one of its own (`shows_focus`)."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        app.focusChanged.connect(self._follow)

    def _follow(self, _: QWidget | None, now: QWidget | None) -> None:
        if now is None or getattr(now, "shows_focus", False):
            return
        if now.window().windowType() != Qt.WindowType.Popup and not now.findChildren(FocusRing):
            FocusRing(now)


class FocusRing(QWidget):
    """The ring on one widget, as long as that has the cursor."""

    def __init__(self, around: QWidget) -> None:
        super().__init__(around)
        self._around = around
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        around.installEventFilter(self)
        self._fit()
        self.show()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep to the widget's size, and go with the cursor."""
        if event.type() == QEvent.Type.Resize:
            self._fit()
        elif isinstance(event, QFocusEvent) and event.lostFocus():
            if event.reason() != Qt.FocusReason.PopupFocusReason:  # after which it is back untold
                self.hide()
                self.deleteLater()
        elif event.type() == QEvent.Type.ChildAdded:
            self.raise_()
        return False

    def _fit(self) -> None:
        """Cover the edge and nothing else: what moves within is painted without it."""
        place = QRect(self._around.rect())
        self.setGeometry(place)
        inner = place.adjusted(WIDE_PX, WIDE_PX, -WIDE_PX, -WIDE_PX)
        self.setMask(QRegion(place).subtracted(QRegion(inner)))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ring."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(theme.current().accent))
        painter.end()
