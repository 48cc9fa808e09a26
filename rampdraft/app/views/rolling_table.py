"""All users over all sites, each way: the worst of each in a word and a sign, once rolling is worked out."""

from itertools import groupby
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.app.furniture import column, label, put_row, table
from rampdraft.app.kept_rolling import KeptRolling
from rampdraft.drawing.rolling_words import ALL_WAYS, SIGNS, Row, Told, rows_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

COLUMNS: Final = ("User and site", *(way.capitalize() for way in ALL_WAYS))
WORKING: Final = "The table is being worked out for this ramp"
WAITING: Final = "The table is worked out when you let go."
BROKEN: Final = "The table could not be worked out: a fault in the program."
_WORDS: Final = {"waiting": WAITING, "broken": BROKEN}


class RollingTable(QWidget):
    """Shows the table of the ramp in hand; an old one is greyed until the newest comes."""

    chose = Signal(int, int, str, object)
    """User, site, way, and what is told there."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.rolling = KeptRolling(document, answers)
        self.rolling.line.progressed.connect(self._tell_progress)
        self._shown: object = None
        """The rolls whose table stands here."""
        self.lines: tuple[str | Row, ...] = ()
        """Under the name of each user its rows."""
        self._bold = QFont(self.font())
        self._bold.setBold(True)
        self.words = label("", self, role="quiet", margins=(10, 4, 10, 4))
        self.table = table(say("Users over sites, each way"), COLUMNS, self)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        longest = f"{SIGNS['grounds']} {say('grounds')}, {say('ground')}"
        for number in range(1, len(COLUMNS)):
            self.table.setColumnWidth(number, self.table.fontMetrics().horizontalAdvance(longest) + 8)
        self.table.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.table.cellClicked.connect(self._choose)
        self.table.cellActivated.connect(self._choose)
        column(self, (self.words, 0), (self.table, 1))

    @property
    def working(self) -> bool:
        """Return whether the table of the ramp in hand is being worked out, or still to be shown."""
        evaluation, state = self._document.evaluation, self.rolling.state
        if state == "there" and evaluation is not None:
            return evaluation.rolling is not self._shown
        return state == "working"

    def follow(self) -> None:
        """Show the table of the ramp in hand as soon as it is worked out; nothing is asked while something is
        dragged: the user that is shown needs the processor.
        """
        evaluation = self._document.evaluation
        if evaluation is None:
            return
        self.rolling.want()
        state = self.rolling.state
        if state == "there" and evaluation.rolling is not self._shown:
            self._shown = evaluation.rolling
            self._show(evaluation)
        self.table.setEnabled(state == "there" and not self._document.stale)
        self.words.setText(_words(state))

    def clear(self) -> None:
        """Show none."""
        self._shown = None
        self.lines = ()
        self.table.setRowCount(0)
        self.words.clear()

    def _tell_progress(self, share: float, words: str) -> None:
        if self.rolling.state == "working":
            self.words.setText(f"{say(WORKING)}: {fixed(100 * share, 0, '%')}")

    def _show(self, evaluation: Evaluation) -> None:
        design = evaluation.design
        numbers = tuple(dict.fromkeys(pose.site_number for pose in evaluation.sites if pose.site_number > 0))
        rows = rows_of(evaluation.rolling, len(design.use.users), numbers)
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

    def _choose(self, row: int, at: int) -> None:
        line, way = self.lines[row], ALL_WAYS[max(at - 1, 0)]
        if isinstance(line, Row):
            self.chose.emit(line.user, line.site_number, way, line.told[way])


def _tip(told: Told) -> str:
    deck = say(", deck {state}", state=say(told.state)) if told.worst is not None else ""
    return f"{told.words}{deck}"


def _words(state: str) -> str:
    """Return what stands over the table: what its signs mean, or why it is not there."""
    if state == "there":
        left_out = ("not reached", "too wide")
        return "   ".join(f"{sign} {say(one)}" for one, sign in SIGNS.items() if one not in left_out)
    return f"{say(WORKING)}…" if state == "working" else say(_WORDS[state])
