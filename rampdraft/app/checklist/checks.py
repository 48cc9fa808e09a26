"""What holds and what does not: the list of checks, the working and the ways out of the one chosen, and the
cautions.
"""

from html import escape
from typing import Final

from PySide6.QtCore import QModelIndex, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QListView, QTextBrowser, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.checklist.check_list import (
    CheckDelegate,
    CheckModel,
    source,
)
from rampdraft.app.checklist.mend import MendPanel
from rampdraft.app.checklist.ways_out import WaysOutPanel
from rampdraft.app.document import Document
from rampdraft.app.furniture import button, column, label, make, page, splitter
from rampdraft.app.kept_rolling import KeptRolling
from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Check, tally_words
from rampdraft.evaluation.evaluate import Evaluation

JUDGING: Final = "The checks are being worked out."
WORKING: Final = "Rolling is being worked out."
WAITING: Final = "Rolling is worked out when you let go."
BROKEN: Final = "Rolling could not be worked out: a fault in the program."
_ROLLING: Final = {"there": "", "working": WORKING, "waiting": WAITING, "broken": BROKEN}


class CheckView(QListView):
    """A list that keeps its current row in sight when the working opens below it."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Scroll to the current row."""
        super().resizeEvent(event)
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())


class ChecksPanel(QWidget):
    """Shows the checks of the last good evaluation, greyed while it is not of the design in hand."""

    chose = Signal(object)
    """The check that was chosen."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._chosen = ""
        self._awaited = False
        """The check that was open is not known again yet."""
        self._told = ""
        self._count = label("", self, margins=(10, 0, 10, 6))
        self.mend = MendPanel(document, answers, self)
        self.mend.told.connect(self._take_focus)
        self.model = CheckModel(self)
        self.list = make(
            CheckView,
            self,
            uniformItemSizes=True,
            verticalScrollMode=QListView.ScrollMode.ScrollPerPixel,
            horizontalScrollBarPolicy=Qt.ScrollBarPolicy.ScrollBarAlwaysOff,
            accessibleName="Checks, worst first",
        )
        self.list.setModel(self.model)
        self.list.setItemDelegate(CheckDelegate(self.list))
        self.list.selectionModel().currentChanged.connect(self._choose)
        self.list.clicked.connect(self._choose)
        self.working = page("Working of the check", self)
        self.ways_out = WaysOutPanel(document, answers, self)
        self.ways_out.told.connect(self._take_focus)
        self._close = button("Close the working", self._close_working, self)
        self._opened = QWidget(self)
        inside = column(self._opened, (self.working, 1), (self.ways_out, 1), margins=(0, 0, 0, 6), spacing=-1)
        inside.addWidget(self._close, 0, Qt.AlignmentFlag.AlignHCenter)
        self._opened.hide()
        self.cautions = _cautions(self)
        split = splitter(Qt.Orientation.Vertical, self, (self.list, 5), (self._opened, 4), (self.cautions, 2))
        split.setChildrenCollapsible(False)
        column(self, (self._count, 0), (self.mend, 0), (split, 1))
        self._tell(())
        self._rolling = KeptRolling(document, answers)
        self._rolling.line.came.connect(self._rolled)
        self._rolling.line.failed.connect(self._rolled)
        document.changed.connect(self.refresh)
        document.completed.connect(self.refresh)
        document.opened.connect(self._close_working)

    def refresh(self) -> None:
        """Show the checks as they are now, and keep the chosen one open."""
        evaluation = self._document.judged
        checks = self._checks_of(evaluation) if evaluation is not None else ()
        self.model.set_checks(checks)
        # Wrapped between counts, not inside one.
        words = "; ".join(count.replace(" ", "\u00a0") for count in tally_words(checks).split("; "))
        if self._document.stale and checks:
            words = f"Of the last good ramp:\n{words}"
        if not checks and self._document.design is not None:
            words = "Nothing can be judged yet." if self._document.stale else JUDGING
        self._count.setText("\n".join(filter(None, (words, self._rolling_words()))))
        self.mend.offer(any(check.fails for check in checks))
        self._tell(evaluation.notes if evaluation is not None else ())
        for part in (self._count, self.working, self.ways_out):
            part.setEnabled(self._document.whole)
        # Only while something is to be mended is the list closed to the cursor, which would leave it.
        self.list.setEnabled(not self._document.stale)
        self.model.set_greyed(not self._document.whole)
        index, opened = self.model.row_of(self._chosen), not self._opened.isHidden() or self._awaited
        self._awaited = not index.isValid() and opened and bool(self._rolling_words())
        if self._awaited:  # it may be a check of rolling, and come back
            self._opened.hide()
            self.ways_out.show_of(None)
        elif not index.isValid():
            self._close_working()
        elif opened:
            self._opened.show()
            self.list.setCurrentIndex(index)
            self._show(self.model.check(index))

    def _checks_of(self, evaluation: Evaluation) -> tuple[Check, ...]:
        """Return all checks of an evaluation; without those of rolling while they are worked out, and none of
        an earlier one in their place.
        """
        self._rolling.want()
        return evaluation.all_checks if evaluation.stands(Evaluation.rolled) else evaluation.checks

    def _rolled(self, about: object, _: object) -> None:
        if about == self._document.made:
            self.refresh()

    def _rolling_words(self) -> str:
        """Return what is to be said while checks of rolling are missing."""
        return _ROLLING[self._rolling.state]

    def _choose(self, index: QModelIndex) -> None:
        if not index.isValid():
            return
        check = self.model.check(index)
        if check.id == self._chosen and not self._opened.isHidden():
            return
        self._chosen = check.id
        self._show(check)
        self._opened.show()
        self.chose.emit(check)

    def _show(self, check: Check) -> None:
        heading = escape(f"{check.title}, {check.subject}" if check.subject else check.title)
        parts = [f"<b>{heading}</b>", f"{check.result.capitalize()}: {escape(check.against)}"]
        if check.why:
            parts.append(escape(check.why))
        if check.working:
            parts.append("<br>".join(("Working:", *map(escape, check.working))))
        parts.append(escape(f"{source(check)}. {check.source.publication}".strip()))
        self.working.setHtml("".join(f"<p style='margin: 0 0 6px 0'>{part}</p>" for part in parts))
        self.ways_out.show_of(check)

    def _tell(self, notes: tuple[str, ...]) -> None:
        """Say the cautions, the notes of the ramp in hand, and what no check judges."""
        parts = (("Cautions", CAUTIONS), ("Notes", notes), ("Not judged", UNJUDGED))
        html = "".join(
            f"<p><b>{heading}</b><br>{'<br>'.join(map(escape, lines))}</p>"
            for heading, lines in parts
            if lines
        )
        if html != self._told:
            self._told = html
            self.cautions.setHtml(html)

    def _take_focus(self) -> None:
        """Take the cursor from a button that goes away with what it changed. A list without a current row
        makes its first one current then: that opens nothing while the check that was open is awaited.
        """
        with QSignalBlocker(self.list.selectionModel()):
            self.list.setFocus()

    def _close_working(self) -> None:
        self._opened.hide()
        self._chosen, self._awaited = "", False
        self.ways_out.show_of(None)
        self.list.selectionModel().clear()
        self.chose.emit(None)


def _cautions(parent: QWidget) -> QTextBrowser:
    line = parent.fontMetrics().lineSpacing()
    return page(
        "Cautions, notes, what is not judged", parent, minimumHeight=5 * line, maximumHeight=13 * line
    )
