"""What fewer springs and ballast do to the carrier: a table below its picture, worked out off the UI
thread.
"""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.form import format
from rampdraft.app.jobs import Jobs
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.mechanics.carrier.results import Cure, Cures

COLUMNS: Final = ("Fewer springs, or ballast", "Left on twist", "Left in climb", "Edge drops")
HINTS: Final = (
    "",
    "Least share left on a wheel on twisted ground",
    "Least share left on a support as users climb",
    "How far the loaded deck edge sinks",
)
BROKEN: Final = "They could not be worked out: a fault in the program."
NO_TWIST: Final = (
    "Give the twist of the ground under Carrier's weight to see what fewer springs or ballast do to the"
    " wheels."
)


class CuresTable(QWidget):
    """Shows the cures of one evaluation; the newest wins, and an old one is greyed until it comes."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.jobs = Jobs(self)
        self._asked: Evaluation | None = None
        self.words = QLabel(NO_TWIST, self)
        self.words.setWordWrap(True)
        self.words.setProperty("role", "quiet")
        self.words.setContentsMargins(10, 6, 10, 6)
        self.table = _table(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table)
        column.addWidget(self.words)

    def ask(self, evaluation: "Evaluation") -> None:
        """Show the cures of an evaluation as soon as they are worked out."""
        if evaluation is self._asked:
            return
        self._asked = evaluation
        self.table.setEnabled(False)
        job = self.jobs.new(_Work(evaluation))
        job.done.connect(self._show)
        job.failed.connect(self._failed)
        self.jobs.start(job)

    def close_jobs(self) -> None:
        """Cancel and wait."""
        self.jobs.close()

    def _failed(self, fault: Exception) -> None:
        self.table.hide()
        self.words.setText(BROKEN)
        self.words.show()
        raise fault

    def _show(self, found: "Cures | None") -> None:
        rows = found.rows if found is not None else ()
        self.table.setRowCount(len(rows))
        for row, cure in enumerate(rows):
            for number, words in enumerate(_cells(cure)):
                item = QTableWidgetItem(words)
                item.setToolTip(HINTS[number] or words)
                if number:
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(row, number, item)
        lines = self.table.verticalHeader().defaultSectionSize() * len(rows)
        self.table.setFixedHeight(lines + self.table.horizontalHeader().sizeHint().height() + 4)
        self.table.setVisible(bool(rows))
        self.table.setEnabled(True)
        self.words.setText(_note(found))
        self.words.setVisible(bool(self.words.text()))


class _Work:
    def __init__(self, evaluation: "Evaluation") -> None:
        self._evaluation = evaluation

    def __call__(self, progress: Progress) -> "Cures | None":
        from rampdraft.explore.carrier_cures import cures

        return cures(self._evaluation.design, self._evaluation.assembly)


def _note(found: "Cures | None") -> str:
    if found is None:
        return NO_TWIST
    asked = f"{format.number(100 * found.limit, 0)} % is to be left on every wheel."
    missing = f" {'; '.join(found.missing).capitalize()}." if found.missing else ""
    return asked + missing


def _cells(cure: "Cure") -> tuple[str, ...]:
    climbing = "tips" if cure.climb_share is None else f"{format.number(100 * cure.climb_share, 0)} %"
    drop = "tips" if cure.edge_drop_mm is None else f"{format.number(cure.edge_drop_mm, 1)} mm"
    times = "" if cure.rate_factor in (1.0, 0.5) else f", rate × {format.number(cure.rate_factor, 2)}"
    words = f"{cure.words[0].upper()}{cure.words[1:]}{times}"
    return words, f"{format.number(100 * cure.twist_share, 0)} %", climbing, drop


def _table(parent: QWidget) -> QTableWidget:
    table = QTableWidget(0, len(COLUMNS), parent)
    table.setHorizontalHeaderLabels(list(COLUMNS))
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(table.fontMetrics().lineSpacing() + 8)
    header, metrics = table.horizontalHeader(), table.fontMetrics()
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    for number in range(1, len(COLUMNS)):
        table.setColumnWidth(number, metrics.horizontalAdvance(COLUMNS[number]) + 24)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
    table.setShowGrid(False)
    table.setTabKeyNavigation(False)
    table.setAccessibleName("What fewer springs and ballast do")
    table.hide()
    return table
