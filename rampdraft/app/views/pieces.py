"""Pieces: the part list, and below it the cutting plan."""

from itertools import groupby
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.shop.results import CuttingPlan, Part

COLUMNS: Final = ("Part", "Name", "Pieces", "Hand", "Section", "Material", "Length, mm", "Mass, kg", "Ends")
NUMBERS: Final = (2, 6, 7)


class PiecesPanel(QWidget):
    """Shows what is to be cut."""

    chose = Signal(object)
    """Keys of the members of the chosen part, a frozenset."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shown: object = None
        self._note = QLabel("Of the last good ramp.", self)
        self._note.setProperty("role", "reason")
        self._note.setContentsMargins(10, 6, 10, 0)
        self.table = QTableWidget(0, len(COLUMNS), self)
        self.table.setHorizontalHeaderLabels(list(COLUMNS))
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(self.fontMetrics().lineSpacing() + 10)
        self.table.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setShowGrid(False)
        self.table.setAccessibleName("Part list")
        self.table.setTabKeyNavigation(False)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.table.itemSelectionChanged.connect(self._choose)
        self.plan = QTextBrowser(self)
        self.plan.setAccessibleName("Cutting plan")
        self.plan.document().setDocumentMargin(10)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._note)
        column.addWidget(self.table, 3)
        column.addWidget(self.plan, 2)
        document.changed.connect(self.refresh)

    def refresh(self) -> None:
        """Show the parts as they are now."""
        evaluation = self._document.evaluation
        if not self.isVisible():
            return
        if evaluation is None:
            self._shown = None
            self.table.setRowCount(0)
            self.plan.clear()
            return
        self._note.setVisible(self._document.stale)
        self.table.setEnabled(not self._document.stale)
        self.plan.setEnabled(not self._document.stale)
        if evaluation is self._shown:
            return
        self._shown = evaluation
        self.table.setRowCount(len(evaluation.parts))
        for row, part in enumerate(evaluation.parts):
            for at, text in enumerate(_cells(part)):
                item = QTableWidgetItem(text)
                if at in NUMBERS:
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                item.setToolTip(
                    "; ".join(f"{format.number(mark.at_mm, 1)}: {mark.what}" for mark in part.piece.marks)
                )
                self.table.setItem(row, at, item)
        self.plan.setPlainText(_plan_text(evaluation.plan))

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def _choose(self) -> None:
        evaluation = self._document.evaluation
        rows = {index.row() for index in self.table.selectedIndexes()}
        members = (
            {key for row in rows for key in evaluation.parts[row].members}
            if evaluation is not None
            else set()
        )
        self.chose.emit(frozenset(members))


def _cells(part: Part) -> tuple[str, ...]:
    ends = " | ".join(dict.fromkeys(end.text for end in part.piece.ends))
    return (
        part.number, part.name, str(part.quantity), part.hand, part.piece.section.text, part.piece.material,
        format.number(part.piece.length_mm, 1), format.number(part.mass_kg, 2), ends,
    )  # fmt: skip


def _plan_text(plan: CuttingPlan) -> str:
    lines = [plan.words, ""]
    for number, bar in enumerate(plan.bars, start=1):
        runs = [(cut, len(tuple(same))) for cut, same in groupby(bar.cuts)]
        cuts = ", ".join(f"{count} × {cut.part} at {format.number(cut.length_mm, 1)}" for cut, count in runs)
        whole, left = format.number(bar.stock_mm), format.number(bar.offcut_mm, 1)
        lines.append(f"{number}. {bar.section}, {bar.material}, {whole} mm: {cuts}; offcut {left}")
    lines += [f"{part}: {why}" for part, why in plan.unplaced]
    return "\n".join(lines)
