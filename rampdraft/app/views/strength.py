"""The strength view: the load at its worst place with moment, shear and sag, and what each member uses of its
strength.
"""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.canvas.canvas import MARGIN_PX, Canvas
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.views.following import NOTHING_NOTE, STALE_NOTE

if TYPE_CHECKING:
    from rampdraft.checks.member_table import MemberRow
    from rampdraft.drawing.ink import Picture
    from rampdraft.evaluation.evaluate import Evaluation

COLUMNS: Final = ("Member", "Strength used", "Factor", "Verdict")
HINTS: Final = (
    "",
    "By limit states, loads raised and strengths lowered",
    "Overall factor on ultimate strength, loads as they are",
    "",
)
WORST: Final = -1
"""Stands for whichever load bends a rail most."""


class StrengthPanel(QWidget):
    """Canvas, chooser of the load, and the table of members; they follow the document while anybody sees
    them.
    """

    chose = Signal(object)
    """Keys of the member of the chosen row, a frozenset."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._tabled: Evaluation | None = None
        self._rows: tuple[MemberRow, ...] = ()
        self.canvas = Canvas("Strength", self)
        self.canvas.scaled.connect(self._rescale)
        self.load = QComboBox(self)
        self.load.setAccessibleName("Load")
        self.load.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.load.setMinimumContentsLength(16)
        self.load.activated.connect(self._draw)
        self._fit = QPushButton("Fit", self)
        self._fit.setToolTip("Show the whole (double click, or 0 on the drawing)")
        self._fit.clicked.connect(self.canvas.fit)
        name = QLabel("Load", self)
        name.setBuddy(self.load)
        top = QHBoxLayout()
        top.setContentsMargins(10, 8, 10, 8)
        top.setSpacing(6)
        top.addWidget(name)
        top.addWidget(self.load, 1)
        top.addWidget(self._fit)
        self.table = _table(self)
        self.table.itemSelectionChanged.connect(self._choose)
        parts = QSplitter(Qt.Orientation.Vertical, self)
        parts.setHandleWidth(1)
        parts.setChildrenCollapsible(False)
        for widget, share in ((self.canvas, 3), (self.table, 1)):
            parts.addWidget(widget)
            parts.setStretchFactor(parts.count() - 1, share)
        line = self.fontMetrics().lineSpacing()
        parts.setSizes([30 * line, 9 * line])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(top)
        column.addWidget(parts, 1)
        document.changed.connect(self.refresh)
        document.opened.connect(self._begin)

    def refresh(self) -> None:
        """Show what the ramp carries now, if anybody sees it."""
        evaluation = self._document.evaluation
        if not self.isVisible():
            return
        if evaluation is None:
            self._tabled = None
            self.load.clear()
            self.table.setRowCount(0)
            self.canvas.show_picture(None, note=NOTHING_NOTE if self._document.design is not None else "")
            return
        if evaluation is not self._tabled:
            self._tabled = evaluation
            self._list_loads(evaluation)
            self._list_members(evaluation)
        self.table.setEnabled(not self._document.stale)
        self._draw()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def _begin(self) -> None:
        self.load.setCurrentIndex(0)
        self.canvas.fit()

    def _rescale(self) -> None:
        if self.canvas.fitted:
            self._draw()

    def _draw(self) -> None:
        if self._tabled is None:
            return
        picture = self._picture(self._tabled)
        self.canvas.set_box(picture.box)
        self.canvas.show_picture(picture, note=STALE_NOTE if self._document.stale else "")

    def _picture(self, evaluation: "Evaluation") -> "Picture":
        """Return the picture made for the sheet's size, so that it fills it and its words have their room."""
        from rampdraft.drawing.strength import strength_picture

        per_px = 25.4 / self.canvas.logicalDpiX()
        size = self.canvas.size()
        room = (size.width() - 2 * MARGIN_PX) * per_px, (size.height() - 2 * MARGIN_PX) * per_px
        chosen = self.load.currentData()
        return strength_picture(evaluation, None if chosen in (None, WORST) else chosen, room)

    def _list_loads(self, evaluation: "Evaluation") -> None:
        from rampdraft.drawing.strength import worst_load

        loads = evaluation.carried.loads
        items = [(f"The worst: {loads[worst_load(evaluation)].words}", WORST)]
        items += [(load.words, number) for number, load in enumerate(loads)]
        if items == [(self.load.itemText(row), self.load.itemData(row)) for row in range(self.load.count())]:
            return
        before = max(self.load.currentIndex(), 0)
        with QSignalBlocker(self.load):
            self.load.clear()
            for words, number in items:
                self.load.addItem(words, number)
            self.load.setCurrentIndex(before if before < len(items) else 0)

    def _list_members(self, evaluation: "Evaluation") -> None:
        from rampdraft.checks.member_table import member_rows

        self._rows = member_rows(evaluation.verdicts, evaluation.checks)
        with QSignalBlocker(self.table):
            self.table.setRowCount(len(self._rows))
            for row, member in enumerate(self._rows):
                for number, words in enumerate(_cells(member)):
                    self._write(row, number, words, member.why or member.load)

    def _write(self, row: int, column: int, words: str, tip: str) -> None:
        item = self.table.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            if column in (1, 2):
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.table.setItem(row, column, item)
        if item.text() != words:
            item.setText(words)
        if item.toolTip() != tip:
            item.setToolTip(tip)

    def _choose(self) -> None:
        rows = {index.row() for index in self.table.selectedIndexes()}
        self.chose.emit(frozenset(self._rows[row].member for row in rows if self._rows[row].member))


def _table(parent: QWidget) -> QTableWidget:
    table = QTableWidget(0, len(COLUMNS), parent)
    table.setHorizontalHeaderLabels(list(COLUMNS))
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(table.fontMetrics().lineSpacing() + 8)
    table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    header, metrics = table.horizontalHeader(), table.fontMetrics()
    header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
    header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    for number, longest in ((1, COLUMNS[1]), (2, COLUMNS[2]), (3, "exceeds the limit")):
        table.setColumnWidth(number, metrics.horizontalAdvance(longest) + 24)
    for number, hint in enumerate(HINTS):
        item = table.horizontalHeaderItem(number)
        if item is not None:
            item.setToolTip(hint)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # the leaf, at the end of a name, stays in sight
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)
    table.setAccessibleName("Strength of the members, worst first")
    return table


def _cells(member: "MemberRow") -> tuple[str, ...]:
    share = "" if member.share is None else f"{format.number(100 * member.share, 0)} %"
    factor = "" if member.factor is None else format.number(member.factor, 1)
    return member.name, share, factor, str(member.status)
