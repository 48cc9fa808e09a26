"""The checks as a list: worst first, each with its mark, value, limit and source."""

from typing import Any, Final

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from rampdraft.app import theme
from rampdraft.checks.result import Check, Result
from rampdraft.words.say import say

CHECK_ROLE: Final = Qt.ItemDataRole.UserRole
PAD: Final = 8
MARK_PX: Final = 14
NARROW_EM: Final = 17
"""A list that is less wide, in widths of the letter m, wraps its words."""
_TOLD: Final = (Result.FAILS, Result.ADVICE, Result.CLOSE)

Index = QModelIndex | QPersistentModelIndex


class CheckModel(QAbstractListModel):
    """Holds the checks of the last good evaluation."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._checks: tuple[Check, ...] = ()

    def set_checks(self, checks: tuple[Check, ...]) -> None:
        """Take other checks. While they are as many, only rows that say something else are painted again."""
        before = self._checks
        if len(checks) == len(before):
            self._checks = checks
            for row, (old, new) in enumerate(zip(before, checks, strict=True)):
                if old != new:
                    self.dataChanged.emit(self.index(row), self.index(row))
            return
        self.beginResetModel()
        self._checks = checks
        self.endResetModel()

    def check(self, index: Index) -> Check:
        """Return the check of a row."""
        return self._checks[index.row()]

    def row_of(self, check_id: str) -> QModelIndex:
        """Return the row of a check, invalid when it is gone."""
        rows = (row for row, check in enumerate(self._checks) if check.id == check_id)
        row = next(rows, -1)
        return self.index(row) if row >= 0 else QModelIndex()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  Qt's own signature
        """Return the count of checks."""
        return 0 if parent.isValid() else len(self._checks)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a row says: whole sentences for screen readers, the check itself for the painter."""
        check = self._checks[index.row()]
        if role == CHECK_ROLE:
            return check
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return f"{check.title}{_of(check)}: {say(check.result)}. {check.against}. {source(check)}"
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{say(check.result).capitalize()}. {check.why}".strip()
        return None


class CheckDelegate(QStyledItemDelegate):
    """Paints a check in four lines; in eight where the list is narrow for its letters."""

    def __init__(self, shown: QListView) -> None:
        super().__init__(shown)
        self._list = shown

    @property
    def _is_narrow(self) -> bool:
        return self._list.width() < NARROW_EM * self._list.fontMetrics().horizontalAdvance("m")

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return room for its lines."""
        lines = 8 if self._is_narrow else 4
        return QSize(100, lines * QFontMetrics(option.font).lineSpacing() + 2 * PAD)  # type: ignore[attr-defined]

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint title and subject, value against limit, and the source."""
        check: Check = index.data(CHECK_ROLE)
        colours = theme.current()
        rect, state, font = option.rect, option.state, option.font  # type: ignore[attr-defined]
        painter.save()
        if is_greyed(option):
            painter.setOpacity(0.4)
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(rect, QColor(colours.wash))
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QColor(colours.accent))
            painter.drawRect(rect.adjusted(0, 0, -1, -2))
        painter.setPen(QColor(colours.rule))
        painter.drawLine(rect.left() + PAD, rect.bottom(), rect.right() - PAD, rect.bottom())
        line = QFontMetrics(font).lineSpacing()
        top = rect.top() + PAD
        paint_mark(
            painter,
            check.result,
            QRectF(rect.left() + PAD, top + (line - MARK_PX) / 2, MARK_PX, MARK_PX),
            colours,
        )
        left = rect.left() + 2 * PAD + MARK_PX
        room = rect.right() - PAD - left
        bold = QFont(font)
        bold.setBold(True)
        if self._is_narrow:
            self._wrapped(painter, check, QRect(left, top, room, rect.bottom() - top), font, bold)
            painter.restore()
            return
        self._line(painter, bold, colours.ink, left, top, room, check.title)
        status = say(check.result)
        width = QFontMetrics(font).horizontalAdvance(status)
        self._line(painter, font, colours.ink, left, top + line, room, check.value_text or check.why)
        at = rect.right() - PAD - width
        self._line(
            painter,
            font,
            colours.accent if check.fails else colours.quiet,
            at,
            top + 2 * line,
            width + 1,
            status,
        )
        self._line(painter, font, colours.quiet, left, top + 2 * line, room - width - 8, check.limit_words)
        self._line(painter, font, colours.quiet, left, top + 3 * line, room, place(check))
        painter.restore()

    def _wrapped(self, painter: QPainter, check: Check, room: QRect, font: QFont, bold: QFont) -> None:
        """Write title, value, limit and place in two lines each at most, one below the other."""
        colours = theme.current()
        flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        said = (
            (bold, colours.ink, check.title),
            (font, colours.accent if check.fails else colours.ink, f"{say(check.result)}: {check.against}"),
            (font, colours.quiet, place(check)),
        )
        top, line = room.top(), QFontMetrics(font).lineSpacing()
        for (shown, colour, text), lines in zip(said, (2, 4, 2), strict=True):
            painter.setFont(shown)
            painter.setPen(QColor(colour))
            box = QRect(room.left(), top, room.width(), lines * line)
            used = painter.drawText(box, flags, text)
            top += min(used.height(), lines * line)

    def _line(
        self, painter: QPainter, font: QFont, colour: str, left: int, top: int, room: int, text: str
    ) -> None:
        metrics = QFontMetrics(font)
        painter.setFont(font)
        painter.setPen(QColor(colour))
        painter.drawText(
            left, top + metrics.ascent(), metrics.elidedText(text, Qt.TextElideMode.ElideRight, room)
        )


def grey(view: QListView, greyed: bool) -> None:
    """Grey a list, or show it as it is, without closing it to the cursor, which would leave it."""
    if view.property("greyed") != greyed:
        view.setProperty("greyed", greyed)
        view.viewport().update()


def is_greyed(option: QStyleOptionViewItem) -> bool:
    """Return whether an item is painted grey."""
    enabled, view = option.state & QStyle.StateFlag.State_Enabled, option.widget  # type: ignore[attr-defined]
    return not enabled or bool(view is not None and view.property("greyed"))


def source(check: Check) -> str:
    """Return where the limit comes from."""
    return ", ".join(part for part in (check.source.title, check.source.clause) if part)


def place(check: Check) -> str:
    """Return what was judged, and by which rule."""
    return " · ".join(part for part in (check.subject, source(check)) if part)


def _of(check: Check) -> str:
    return f", {check.subject}" if check.subject else ""


def paint_mark(painter: QPainter, result: Result, box: QRectF, colours: theme.Theme) -> None:
    """Paint the mark of a result: a full lozenge, a half-filled one for what is close and for advice, an open
    ring with a dot, or a dashed ring.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    colour = QColor(colours.accent if result in _TOLD else colours.quiet)
    pen = QPen(colour, 1.5)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    inside = box.adjusted(1.5, 1.5, -1.5, -1.5)
    middle = inside.center()
    if result in _TOLD:
        lozenge = _closed(
            QPointF(middle.x(), inside.top()),
            QPointF(inside.right(), middle.y()),
            QPointF(middle.x(), inside.bottom()),
            QPointF(inside.left(), middle.y()),
        )
        half = _closed(
            QPointF(inside.left(), middle.y()),
            QPointF(inside.right(), middle.y()),
            QPointF(middle.x(), inside.bottom()),
        )
        painter.fillPath(lozenge if result is Result.FAILS else half, colour)
        painter.strokePath(lozenge, pen)
    elif result is Result.PASSES:
        painter.setPen(pen)
        painter.drawEllipse(inside)
        painter.setBrush(colour)
        painter.drawEllipse(middle, 1.6, 1.6)
    else:
        pen.setStyle(Qt.PenStyle.DotLine)
        painter.setPen(pen)
        painter.drawEllipse(inside)
    painter.restore()


def _closed(*points: QPointF) -> QPainterPath:
    path = QPainterPath(points[0])
    for point in points[1:]:
        path.lineTo(point)
    path.closeSubpath()
    return path
