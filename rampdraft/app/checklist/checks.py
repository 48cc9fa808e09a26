"""What holds and what does not: the list of checks, the working and the ways out of the one chosen, and the
cautions.
"""

from html import escape
from typing import Final

from PySide6.QtCore import QModelIndex, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QListView, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.checklist.cautions import CautionsPanel
from rampdraft.app.checklist.check_list import (
    CheckDelegate,
    CheckModel,
    grey,
    source,
)
from rampdraft.app.checklist.mend import MendPanel
from rampdraft.app.checklist.ways_out import WaysOutPanel
from rampdraft.app.document import Document
from rampdraft.app.furniture import button, column, label, make, page, splitter
from rampdraft.app.kept_rolling import KeptRolling
from rampdraft.checks.result import Check, tally_words
from rampdraft.checks.steps import checks_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.say import say

JUDGING: Final = "The checks are being worked out."
WORKING: Final = "Rolling is being worked out."
WAITING: Final = "Rolling is worked out when you let go."
BROKEN: Final = "Rolling could not be worked out: a fault in the program."
LEAST_LINES: Final = 6
"""Of the working that are seen, however many ways out there are."""
SPARE_LINES: Final = 2
"""Between working, ways out and what closes them."""
_ROLLING: Final = {"there": "", "working": WORKING, "waiting": WAITING, "broken": BROKEN}


class CheckView(QListView):
    """A list that keeps its current row in sight when the working opens below it."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay rows out for the width, and scroll to the current one."""
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())


class ChecksPanel(QWidget):
    """Shows the checks of the last good evaluation, greyed while it is not of the design in hand."""

    chose = Signal(object)
    """The check that was chosen."""
    judged = Signal()
    """What is known of the checks is other than before."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._chosen = ""
        self._step = ""
        self.known: tuple[Check, ...] = ()
        """All checks known of the last good evaluation, whatever step is in hand."""
        self._awaited = False
        """The check that was open is not known again yet."""
        self._worked = ""
        """The working that the room is shared for."""
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
            accessibleName=say("Checks, worst first"),
        )
        self.list.setModel(self.model)
        self.list.setItemDelegate(CheckDelegate(self.list))
        self.list.selectionModel().currentChanged.connect(self._choose)
        self.list.clicked.connect(self._choose)
        self.working = page(say("Working of the check"), self)
        self.ways_out = WaysOutPanel(document, answers, self)
        self.ways_out.told.connect(self._take_focus)
        self._close = button(say("Close the working"), self._close_working, self)
        self._opened = QWidget(self)
        inside = column(self._opened, (self.working, 1), (self.ways_out, 1), margins=(0, 0, 0, 6), spacing=-1)
        inside.addWidget(self._close, 0, Qt.AlignmentFlag.AlignHCenter)
        self._opened.hide()
        self.cautions = CautionsPanel(self)
        self._split = splitter(Qt.Orientation.Vertical, self, (self.list, 1), (self._opened, 1))
        self._split.setChildrenCollapsible(False)
        self.ways_out.grown.connect(self._share_room)
        column(self, (self._count, 0), (self.mend, 0), (self._split, 1), (self.cautions, 0))
        self._rolling = KeptRolling(document, answers)
        self._rolling.line.came.connect(self._rolled)
        self._rolling.line.failed.connect(self._rolled)
        document.changed.connect(self.refresh)
        document.completed.connect(self.refresh)
        document.opened.connect(self._close_working)

    def refresh(self) -> None:
        """Show the checks as they are now, and keep the chosen one open."""
        evaluation, whole = self._document.judged, self._document.whole
        self.known = self._checks_of(evaluation) if evaluation is not None else ()
        checks = checks_of(self._step, self.known)
        self.model.set_checks(checks)
        # Wrapped between counts, not inside one.
        words = "; ".join(count.replace(" ", "\u00a0") for count in tally_words(checks).split("; "))
        if self._document.stale and checks:
            words = say("Of the last good ramp:\n{words}", words=words)
        if not self.known and self._document.design is not None:
            words = say("Nothing can be judged yet.") if self._document.stale else say(JUDGING)
        elif not checks:
            words = say("No check judges this step yet.")
        self._count.setText("\n".join(filter(None, (words, self._rolling_words()))))
        self.mend.offer(any(check.fails for check in self.known))
        self.cautions.tell(evaluation.notes if evaluation is not None else ())
        for part in (self._count, self.working, self.ways_out):
            part.setEnabled(whole)
        # Only while something is to be corrected is the list closed to the cursor, which would leave it.
        self.list.setEnabled(not self._document.stale)
        grey(self.list, not whole)
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
        self.judged.emit()

    def show_step(self, step: str) -> None:
        """Show the checks that judge a step of the job; all of them for none."""
        if step != self._step:
            self._step = step
            self._close_working()
            self.refresh()

    def open_check(self, check_id: str) -> None:
        """Choose a check of those shown."""
        index = self.model.row_of(check_id)
        if index.isValid():
            self.list.setFocus()
            self.list.setCurrentIndex(index)
            self._choose(index)

    @property
    def rolling_awaited(self) -> bool:
        """Return whether checks of rolling are still worked out, or cannot be."""
        return bool(self._rolling_words())

    def _share_room(self) -> None:
        """Give the ways out the height they need, then the working; the list keeps at least two rows."""
        room, row = self._split.height(), self.list.sizeHintForRow(0) if self.model.rowCount() else 0
        if self._opened.isHidden() or room <= 0:
            return
        working = self.working.document()
        working.setTextWidth(self.width() - 2)
        text = int(working.size().height()) + 4
        around = self._close.sizeHint().height() + SPARE_LINES * self.fontMetrics().lineSpacing()
        opened = min(text + self.ways_out.wanted_height + around, room - 2 * row)
        least = min(text, LEAST_LINES * self.fontMetrics().lineSpacing())
        self.working.setMaximumHeight(min(text, max(least, opened - around - self.ways_out.wanted_height)))
        self._split.setSizes([room - opened, opened])

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
        return say(_ROLLING[self._rolling.state])

    def _choose(self, index: QModelIndex) -> None:
        if not index.isValid():
            return
        check = self.model.check(index)
        if check.id == self._chosen and not self._opened.isHidden():
            return
        self._chosen = check.id
        self._opened.show()
        self._show(check)
        self.chose.emit(check)

    def _show(self, check: Check) -> None:
        heading = escape(f"{check.title}, {check.subject}" if check.subject else check.title)
        parts = [f"<b>{heading}</b>", f"{say(check.result).capitalize()}: {escape(check.against)}"]
        if check.why:
            parts.append(escape(check.why))
        if check.working:
            parts.append("<br>".join((say("Working:"), *map(escape, check.working))))
        parts.append(escape(f"{source(check)}. {check.source.publication}".strip()))
        html = "".join(f"<p style='margin: 0 0 6px 0'>{part}</p>" for part in parts)
        self.working.setHtml(html)
        self.ways_out.show_of(check)
        if html != self._worked:
            self._worked = html
            self._share_room()

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
