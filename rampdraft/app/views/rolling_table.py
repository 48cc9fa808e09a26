"""All users over all sites, each way: the worst of each in a word and a sign, worked out off the UI
thread.
"""

from itertools import groupby
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.furniture import column, label, put_row, table
from rampdraft.app.views.kept_map import parts_read
from rampdraft.drawing.rolling_words import ALL_WAYS, SIGNS, Row, Told, rows_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.mechanics.rolling.roll import roll_everywhere
from rampdraft.model.design import Design
from rampdraft.progress import Progress

COLUMNS: Final = ("User and site", *(way.capitalize() for way in ALL_WAYS))
WORKING: Final = "The table is being worked out for this ramp"
WAITING: Final = "The table is worked out when you let go."
BROKEN: Final = "The table could not be worked out: a fault in the program."
KEY: Final = "   ".join(f"{SIGNS[one]} {one}" for one in SIGNS if one not in ("not reached", "too wide"))


class RollingTable(QWidget):
    """Shows the table of one evaluation; the newest wins, and an old one is greyed until it comes."""

    chose = Signal(int, int, str, object)
    """User, site, way, and what is told there."""

    def __init__(self, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line = answers.line("rolling")
        self._line.came.connect(self._show)
        self._line.failed.connect(self._tell_broken)
        self._line.progressed.connect(self._tell_progress)
        self.lines: tuple[str | Row, ...] = ()
        """Under the name of each user its rows."""
        self._bold = QFont(self.font())
        self._bold.setBold(True)
        self.words = label("", self, role="quiet", margins=(10, 4, 10, 4))
        self.table = table("Users over sites, each way", COLUMNS, self)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        longest = f"{SIGNS['grounds']} grounds, ground"
        for number in range(1, len(COLUMNS)):
            self.table.setColumnWidth(number, self.table.fontMetrics().horizontalAdvance(longest) + 8)
        self.table.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.table.cellClicked.connect(self._choose)
        self.table.cellActivated.connect(self._choose)
        column(self, (self.words, 0), (self.table, 1))

    @property
    def working(self) -> bool:
        """Return whether the table of the ramp in hand is being worked out."""
        return self._line.asked is not None

    def ask(self, evaluation: Evaluation) -> None:
        """Show the table of an evaluation as soon as it is worked out."""
        self._line.want(parts_read(evaluation.design, Evaluation.rolling), work_out, evaluation)
        broken = self._line.broken is not None
        self.table.setEnabled(not self.working and not broken)
        self.words.setText(f"{WORKING}…" if self.working else BROKEN if broken else KEY)

    def wait(self) -> None:
        """Ask for nothing while something is dragged: the user that is shown needs the processor."""
        self._line.call_off()
        self.table.setEnabled(False)
        self.words.setText(WAITING)

    def clear(self) -> None:
        """Show none."""
        self._line.call_off()
        self.lines = ()
        self.table.setRowCount(0)
        self.words.clear()

    def _tell_progress(self, share: float, words: str) -> None:
        self.words.setText(f"{WORKING}: {words}")

    def _tell_broken(self) -> None:
        self.table.setEnabled(False)
        self.words.setText(BROKEN)

    def _show(self, about: object, found: tuple[Design, tuple[Row, ...]]) -> None:
        design, rows = found
        self.lines = tuple(
            line
            for user, own in groupby(rows, lambda row: row.user)
            for line in (design.use.users[user - 1].name, *own)
        )
        self.table.setRowCount(len(self.lines))
        self.table.clearSpans()
        number = 0
        for at, line in enumerate(self.lines):
            if isinstance(line, str):
                number += 1
                name = f"{number}  {line}"
                put_row(self.table, at, (name, "", "", "", ""), right=(), tips=(name, "", "", "", ""))
                self.table.setSpan(at, 0, 1, len(COLUMNS))
                head = self.table.item(at, 0)
                if head is not None:
                    head.setFont(self._bold)
                continue
            site = f"     {line.site_number}  {design.sites[line.site_number - 1].name}"
            told = [line.told[way] for way in ALL_WAYS]
            cells = (site, *(one.words for one in told))
            put_row(self.table, at, cells, right=(), tips=(site.strip(), *map(_tip, told)))
        self.table.setEnabled(True)
        self.words.setText(KEY)

    def _choose(self, row: int, at: int) -> None:
        line, way = self.lines[row], ALL_WAYS[max(at - 1, 0)]
        if isinstance(line, Row):
            self.chose.emit(line.user, line.site_number, way, line.told[way])


def work_out(evaluation: Evaluation, progress: Progress) -> tuple[Design, tuple[Row, ...]]:
    """Return the table of an evaluation, with the design that it is of. It goes site by site, so that it can
    be called off.
    """
    design, sites = evaluation.design, [pose for pose in evaluation.sites if pose.site_number > 0]
    found: list[Roll | CannotRoll] = []
    for number, pose in enumerate(sites):
        progress(number / len(sites), f"{number} of {len(sites)} sites and deck states")
        found += roll_everywhere(design, evaluation.assembly, (pose,))
    numbers = tuple(dict.fromkeys(pose.site_number for pose in sites))
    return design, rows_of(found, len(design.use.users), numbers)


def _tip(told: Told) -> str:
    deck = f", deck {told.state}" if told.worst is not None else ""
    return f"{told.words}{deck}"
