"""The strength view: the load at its worst place with moment, shear and sag, and what each member uses of its
strength.
"""

from typing import Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QLabel, QTableWidget, QWidget

from rampdraft.app.document import Document
from rampdraft.app.furniture import across, chooser, column, fit_button, put_items, put_row, splitter, table
from rampdraft.app.views.following import DrawingView
from rampdraft.checks.demands.strength import MemberRow, member_rows
from rampdraft.checks.result import Result
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.strength import strength_picture, worst_load
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

COLUMNS: Final = ("Member", "Strength used", "Factor", "Verdict")
HINTS: Final = (
    "",
    "By limit states, loads raised and strengths lowered",
    "Safety factor on ultimate strength, loads as they are",
    "",
)
WORST: Final = -1
"""Stands for whichever load bends a rail most."""


class StrengthPanel(DrawingView):
    """Canvas, chooser of the load, and the table of members."""

    @property
    def waits(self) -> bool:
        """Return that all is worked out first."""
        return True

    chose = Signal(object)
    """Keys of the member of the chosen row, a frozenset."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, say("Strength"), parent)
        self._rows: tuple[MemberRow, ...] = ()
        self.load = chooser(say("Load"), self._redraw, self)
        name = QLabel(say("Load"), self)
        name.setBuddy(self.load)
        top = across((name, 0), (self.load, 1), (fit_button(self.canvas, self), 0), spacing=6)
        self.table = _table(self)
        self.table.itemSelectionChanged.connect(self._choose)
        parts = splitter(Qt.Orientation.Vertical, self, (self.canvas, 3), (self.table, 1))
        parts.setChildrenCollapsible(False)
        line = self.fontMetrics().lineSpacing()
        parts.setSizes([30 * line, 9 * line])
        column(self, (top, 0), (parts, 1))

    def _begin(self) -> None:
        self.load.setCurrentIndex(0)
        super()._begin()

    def _clear(self) -> None:
        self.load.clear()
        self.table.setRowCount(0)
        super()._clear()

    def _take(self, evaluation: Evaluation) -> None:
        self._list_loads(evaluation)
        self._list_members(evaluation)

    def _rescale(self) -> None:
        if self.canvas.fitted:  # made for the sheet's size, whatever the zoom
            self._redraw()

    def _draw(self, evaluation: Evaluation) -> None:
        self.table.setEnabled(not self._greyed)
        picture = self._picture(evaluation)
        self.canvas.set_box(picture.box)
        self.canvas.show_picture(picture, note=self._note)

    def _picture(self, evaluation: Evaluation) -> Picture:
        """Return the picture made for the sheet's size, so that it fills it and its words have their room."""
        chosen, room = self.load.currentData(), self.canvas.room_mm
        return strength_picture(evaluation, None if chosen in (None, WORST) else chosen, room)

    def _list_loads(self, evaluation: Evaluation) -> None:
        loads = evaluation.carried.loads
        items = [(say("The worst: {words}", words=loads[worst_load(evaluation)].words), WORST)]
        items += [(load.words, number) for number, load in enumerate(loads)]
        put_items(self.load, items)

    def _list_members(self, evaluation: Evaluation) -> None:
        self._rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
        with QSignalBlocker(self.table):
            self.table.setRowCount(len(self._rows))
            for row, member in enumerate(self._rows):
                tips = [member.why or member.load] * len(COLUMNS)
                put_row(self.table, row, _cells(member), right=(1, 2), tips=tips)

    def _choose(self) -> None:
        rows = {index.row() for index in self.table.selectedIndexes()}
        self.chose.emit(frozenset(self._rows[row].member for row in rows if self._rows[row].member))


def _table(parent: QWidget) -> QTableWidget:
    made = table(say("Strength of the members, worst first"), COLUMNS, parent)
    header, metrics = made.horizontalHeader(), made.fontMetrics()
    header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
    header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    for number, longest in ((1, COLUMNS[1]), (2, COLUMNS[2]), (3, Result.UNJUDGED)):
        made.setColumnWidth(number, metrics.horizontalAdvance(say(longest)) + 24)
    for number, hint in enumerate(HINTS):
        item = made.horizontalHeaderItem(number)
        if item is not None:
            item.setToolTip(say(hint))
    made.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    made.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    made.setTextElideMode(Qt.TextElideMode.ElideMiddle)  # the leaf, at the end of a name, stays in sight
    return made


def _cells(member: MemberRow) -> tuple[str, ...]:
    share = "" if member.share is None else fixed(100 * member.share, 0, "%")
    factor = "" if member.factor is None else fixed(member.factor, 1)
    return member.name, share, factor, say(member.result)
