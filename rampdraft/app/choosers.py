"""Lists to choose from, and the row of them over a drawing. A row that is too narrow for its words becomes
several; what has no room even then ends in an ellipsis, and a tip tells it.
"""

from itertools import combinations, pairwise
from typing import Final

from PySide6.QtCore import QEvent, QMargins, QRect, QSize, Qt
from PySide6.QtGui import QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QComboBox, QSizePolicy, QStyle, QStyleOptionComboBox, QStylePainter, QWidget

_MARGIN_X: Final = 10
_MARGIN_Y: Final = 8
_SPACING: Final = 4
_AROUND: Final = 2
"""Pixels of air beside the words of a list."""


class Chooser(QComboBox):
    """A list whose long items do not widen it."""

    @property
    def wanted(self) -> int:
        """Return the width that shows its item whole."""
        option = self._option()
        words = QSize(self.fontMetrics().horizontalAdvance(option.currentText) + _AROUND, 1)
        kind = QStyle.ContentsType.CT_ComboBox
        return self.style().sizeFromContents(kind, option, words, self).width()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint it, with an ellipsis where its item is longer than it is wide."""
        painter, option = QStylePainter(self), self._option()
        words = option.currentText
        option.currentText = self.fontMetrics().elidedText(
            words, Qt.TextElideMode.ElideRight, self._room(option).width() - _AROUND
        )
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
        self.setToolTip(words if option.currentText != words else "")

    def _option(self) -> QStyleOptionComboBox:
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        return option

    def _room(self, option: QStyleOptionComboBox) -> QRect:
        part = QStyle.SubControl.SC_ComboBoxEditField
        return self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, self)


class ChooserRow(QWidget):
    """Lists and buttons side by side, in as many lines as they need; lists take what room is left."""

    def __init__(
        self,
        parts: tuple[QWidget, ...],
        parent: QWidget,
        margins: tuple[int, int, int, int] = (_MARGIN_X, _MARGIN_Y, _MARGIN_X, _MARGIN_Y),
    ) -> None:
        """Put parts side by side; `margins` are left, top, right and bottom."""
        super().__init__(parent)
        self._margins = QMargins(*margins)
        self._parts: tuple[QWidget, ...] = ()
        for part in parts:
            self.add(part)

    def add(self, part: QWidget) -> None:
        """Put another part at the end."""
        self._parts = (*self._parts, part)
        part.setParent(self)
        if isinstance(part, Chooser):
            part.currentTextChanged.connect(self._lay)

    def event(self, event: QEvent) -> bool:
        """Make room for other words on a button."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._lay()
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the lines out again."""
        self._lay()

    def showEvent(self, event: QShowEvent) -> None:
        """Take as many lines as are needed."""
        self._lay()

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger letters."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._lay()

    def _lay(self) -> None:
        room, top = self.width() - self._margins.left() - self._margins.right(), self._margins.top()
        high = max(part.sizeHint().height() for part in self._parts)
        for line in self._lines(room):
            x = self._margins.left()
            for part, wide in line:
                part.setGeometry(x, top, wide, high)
                x += wide + _SPACING
            top += high + _SPACING
        self.setFixedHeight(top - _SPACING + self._margins.bottom())

    def _lines(self, room: int) -> list[list[tuple[QWidget, int]]]:
        """Return the parts of each line with their widths, in as few lines as cut off nothing: of the ways to
        part them in so many, the one that lacks least.
        """
        found: list[tuple[list[tuple[QWidget, int]], tuple[int, int]]] = []
        # Its width means nothing before it is seen, and a tall row would make the whole window tall.
        most = len(self._parts) if self.isVisible() else min(2, len(self._parts))
        for count in range(1, most + 1):
            ways = combinations(range(1, len(self._parts)), count - 1)
            splits = (
                [self._line(self._parts[a:b], room) for a, b in pairwise((0, *cuts, len(self._parts)))]
                for cuts in ways
            )
            found = min(
                splits, key=lambda lines: [sum(max(0, lacks[at]) for _, lacks in lines) for at in (0, 1)]
            )
            if all(lacks[0 if count > 1 else 1] <= 0 for _, lacks in found):
                break
        return [line for line, _ in found]

    def _line(
        self, parts: tuple[QWidget, ...], room: int
    ) -> tuple[list[tuple[QWidget, int]], tuple[int, int]]:
        """Return the parts of a line with their widths, and by how much it lacks room: for what cannot be
        narrower, and for all.
        """
        wanted = [part.wanted if isinstance(part, Chooser) else part.sizeHint().width() for part in parts]
        lacks = sum(wanted) + _SPACING * (len(parts) - 1) - room
        lists = sum(wide for part, wide in zip(parts, wanted, strict=True) if _grows(part))
        share = max(lists - lacks, 0) / lists if lists else 1.0
        widths = [
            max(int(wide * share), 1) if _grows(part) else wide
            for part, wide in zip(parts, wanted, strict=True)
        ]
        return list(zip(parts, widths, strict=True)), (lacks - lists, lacks)


def _grows(part: QWidget) -> bool:
    """Return whether a part takes what room is left, and gives up what lacks."""
    return isinstance(part, Chooser) or part.sizePolicy().horizontalPolicy() == QSizePolicy.Policy.Expanding
