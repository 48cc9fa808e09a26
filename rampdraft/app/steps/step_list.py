"""The steps of the job as a narrow list: each with its mark and what fails or is not judged in it."""

from dataclasses import dataclass
from typing import Any, Final

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSignalBlocker,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from rampdraft.app import theme
from rampdraft.app.checklist.check_list import MARK_PX, is_greyed, paint_mark
from rampdraft.checks.result import Result
from rampdraft.checks.steps import BY_KEY, STEPS, Standing
from rampdraft.words.say import say

WAITING: Final = "working…"
EVERYTHING: Final = "Everything"
ROLE: Final = Qt.ItemDataRole.UserRole
PAD: Final = 7
_NOTHING: Final = Standing(wrong=0, fails=0, unjudged=0, close=0, passes=0)

Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What one row tells."""

    step: str
    """Key; empty for everything."""
    title: str
    result: Result
    lines: tuple[str, ...]

    @property
    def told(self) -> str:
        """Return the row as it is read out."""
        return f"{self.title}: {', '.join(self.lines)}"


class StepModel(QAbstractListModel):
    """Holds how each step stands, and last how everything does."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.rows: tuple[Row, ...] = tuple(
            _row(step, _NOTHING, ()) for step in (*(step.key for step in STEPS), "")
        )

    def show(self, rows: tuple[Row, ...]) -> None:
        """Tell other things of the steps."""
        before, most, self.rows = self.rows, self.most_lines, rows
        for at, (old, new) in enumerate(zip(before, rows, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(at), self.index(at))
        if most != self.most_lines:
            self.layoutChanged.emit()

    @property
    def most_lines(self) -> int:
        """Return how many lines the step with most of them has."""
        return max(len(row.lines) for row in self.rows)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  Qt's own signature
        """Return the count of rows."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a row says."""
        row = self.rows[index.row()]
        if role == ROLE:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return row.told
        if role == Qt.ItemDataRole.ToolTipRole:
            about = f": {say(BY_KEY[row.step].about)}" if row.step else say(": all values, views and checks")
            return f"{row.title}{about}"
        return None


class StepDelegate(QStyledItemDelegate):
    """Paints a step: its mark, its name, and below it what is to be told."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return room for the name and as many lines as any step has."""
        font: QFont = option.font  # type: ignore[attr-defined]
        rows = (index.model().index(at, 0).data(ROLE) for at in range(index.model().rowCount()))
        below = max(len(row.lines) for row in rows) * QFontMetrics(_small(font)).lineSpacing()
        return QSize(100, QFontMetrics(font).lineSpacing() + below + 2 * PAD)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the row."""
        row: Row = index.data(ROLE)
        colours = theme.current()
        rect, state, font = option.rect, option.state, option.font  # type: ignore[attr-defined]
        painter.save()
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(rect, QColor(colours.paper))
            painter.fillRect(rect.left(), rect.top(), 3, rect.height(), QColor(colours.accent))
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QColor(colours.accent))
            painter.drawRect(rect.adjusted(0, 0, -1, -1))
        if not row.step:
            painter.setPen(QColor(colours.rule))
            painter.drawLine(rect.left(), rect.top(), rect.right(), rect.top())
        if is_greyed(option):
            painter.setOpacity(0.4)
        metrics, below = QFontMetrics(font), QFontMetrics(_small(font))
        high = metrics.lineSpacing() + len(row.lines) * below.lineSpacing()
        top = rect.top() + (rect.height() - high) // 2
        middle = top + (metrics.lineSpacing() - MARK_PX) / 2
        paint_mark(painter, row.result, QRectF(rect.left() + PAD + 1, middle, MARK_PX, MARK_PX), colours)
        left = rect.left() + 2 * PAD + MARK_PX
        bold = QFont(font)
        bold.setBold(chosen)
        painter.setFont(bold)
        painter.setPen(QColor(colours.ink))
        painter.drawText(left, top + metrics.ascent(), row.title)
        painter.setFont(_small(font))
        painter.setPen(QColor(colours.accent if row.result is Result.FAILS else colours.quiet))
        top += metrics.lineSpacing()
        for words in row.lines:
            painter.drawText(left, top + below.ascent(), words)
            top += below.lineSpacing()
        painter.restore()


class StepList(QListView):
    """The steps, of which one is in hand."""

    chose = Signal(str)
    """Key of the step that was chosen; empty for everything."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setUniformItemSizes(True)
        self.setAccessibleName(say("Steps of the job"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setProperty("role", "steps")
        self._model = StepModel(self)
        self.setModel(self._model)
        self.setItemDelegate(StepDelegate(self))
        self.selectionModel().currentChanged.connect(self._choose)
        self._widen()

    @property
    def step(self) -> str:
        """Return the key of the step in hand."""
        return self._model.rows[self.currentIndex().row()].step if self.currentIndex().isValid() else ""

    @property
    def rows(self) -> tuple[Row, ...]:
        """Return what is told of each step, last of everything."""
        return self._model.rows

    def show_step(self, step: str) -> None:
        """Take another step into hand, without telling."""
        row = next(at for at, row in enumerate(self._model.rows) if row.step == step)
        with QSignalBlocker(self.selectionModel()):
            self.setCurrentIndex(self._model.index(row))
        self.viewport().update()

    def show_standing(self, of: dict[str, Standing], waiting: frozenset[str]) -> None:
        """Tell how each step stands, by its key; some wait for what is still worked out."""
        self._model.show(
            tuple(
                _row(row.step, of[row.step], (say(WAITING),) if row.step in waiting else ())
                for row in self._model.rows
            )
        )

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger letters."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._widen()

    def _widen(self) -> None:
        bold = QFont(self.font())
        bold.setBold(True)
        titles = (QFontMetrics(bold).horizontalAdvance(row.title) for row in self._model.rows)
        small = QFontMetrics(_small(self.font()))
        words = max(map(small.horizontalAdvance, (say("10 not judged"), say("no check yet"))))
        bar = self.verticalScrollBar().sizeHint().width()
        self.setFixedWidth(max(*titles, words) + 3 * PAD + MARK_PX + bar // 2)

    def _choose(self) -> None:
        self.chose.emit(self.step)


def _row(step: str, found: Standing, waits: tuple[str, ...]) -> Row:
    lines = found.words
    if waits and not (found.wrong or found.fails):
        lines = waits
    lines = lines if step else lines[:1]  # what is not judged is told of its step
    result = Result.UNJUDGED if waits and found.result is Result.PASSES else found.result
    return Row(step=step, title=BY_KEY[step].name if step else say(EVERYTHING), result=result, lines=lines)


def _small(font: QFont) -> QFont:
    smaller = QFont(font)
    if font.pointSizeF() > 0:
        smaller.setPointSizeF(0.88 * font.pointSizeF())
    else:
        smaller.setPixelSize(max(1, round(0.88 * font.pixelSize())))
    return smaller
