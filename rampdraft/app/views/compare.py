"""Compare: what the kept ramp and the one in hand have otherwise, values and checks; and all edits by name,
a click on one going there.
"""

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QCheckBox, QHeaderView, QLabel, QUndoView, QWidget

from rampdraft.app.choosers import ChooserRow
from rampdraft.app.differences import Differing, differing
from rampdraft.app.document import Document
from rampdraft.app.furniture import LOW_LIST_PX, button, column, label, make, put_row, splitter, table
from rampdraft.app.variant import Variant
from rampdraft.app.views.following import FAULT_NOTE, FollowingView
from rampdraft.checks.compared import Changed, Turn, changed_checks
from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.say import say

NOTHING_KEPT: Final = (
    "Keep the ramp as it is now, then go on changing it: what differs stands here, and the kept one on the"
    " views as a thin line of dashes and dots."
)
ALIKE: Final = "The ramp in hand is as the one kept."
NOT_ROLLED: Final = " The checks of rolling are left out: they are not there of both."
COLUMNS: Final = ("", "Kept", "Now", "Change")
TURNS: Final[dict[Turn, str]] = {
    "worse": "▼ worse", "better": "▲ better", "new": "new", "gone": "gone", "other": "other",
}  # fmt: skip


class ComparePanel(FollowingView):
    """Buttons, the table of differences, and the list of edits."""

    chose = Signal(str, str)
    """Kind and key of what was chosen: a value by its path, a check by its id."""

    def __init__(self, document: Document, variant: Variant, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._variant = variant
        self._rows: list[tuple[str, str]] = []
        self.keep = button(say("Keep this ramp"), variant.keep, self, say("Keep it beside the one in hand"))
        self.take = button(say("Go back to it"), variant.take, self, say("An edit that can be undone"))
        self.forget = button(say("Forget it"), variant.forget, self)
        self.ghost = make(QCheckBox, say("On the views"), self, checked=True)
        self.ghost.toggled.connect(variant.show_ghost)
        self._told = label(say(NOTHING_KEPT), self, margins=(12, 8, 12, 8))
        self.table = table(say("Differences"), COLUMNS, self)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(3, QHeaderView.ResizeMode.ResizeToContents)
        self.table.itemActivated.connect(self._go)
        self.table.itemClicked.connect(self._go)
        self.edits = QUndoView(document.undo_stack, self)
        self.edits.setMinimumHeight(LOW_LIST_PX)
        self.edits.setSpacing(2)
        self.edits.setEmptyLabel(say("As opened"))
        self.edits.setAccessibleName(say("Edits, the newest last; choose one to go there"))
        top = ChooserRow((self.keep, self.take, self.forget, self.ghost), self)
        upper, lower = QWidget(self), QWidget(self)
        column(upper, (self._told, 0), (self.table, 1))
        column(lower, (make(QLabel, say("Edits"), lower, role="area"), 0), (self.edits, 1))
        parts = splitter(Qt.Orientation.Vertical, self, (upper, 3), (lower, 1))
        parts.setChildrenCollapsible(False)
        column(self, (top, 0), (parts, 1))
        variant.changed.connect(self.refresh)

    @property
    def waits(self) -> bool:
        """Return that all is worked out first."""
        return True

    def _say_broken(self) -> None:
        self._told.setText(say(FAULT_NOTE))
        self.table.setEnabled(False)

    def _begin(self) -> None:
        self.table.scrollToTop()

    def _take(self, evaluation: Evaluation) -> None:
        """Choose nothing: what was chosen was of another ramp."""
        self.table.clearSelection()

    def _clear(self) -> None:
        self.table.setRowCount(0)

    def _draw(self, evaluation: Evaluation) -> None:
        kept = self._variant.evaluation
        for one in (self.take, self.forget, self.ghost):
            one.setEnabled(kept is not None)
        self.ghost.setChecked(self._variant.ghost)
        self.keep.setEnabled(self._document.whole)
        self.table.setEnabled(not self._greyed)
        values = differing(kept.design, evaluation.design) if kept is not None else ()
        checks, rolled = _checks(kept, evaluation) if kept is not None else ((), True)
        self.table.setVisible(bool(values or checks))
        self._told.setText(self._words(kept is not None, bool(values or checks), rolled))
        self.table.setRowCount(len(values) + len(checks))
        self._rows = [("value", one.path) for one in values] + [("check", one.check.id) for one in checks]
        cells = [*map(_value_cells, values), *map(_check_cells, checks)]
        for row, texts in enumerate(cells):
            put_row(self.table, row, texts, right=(), tips=texts)

    def _words(self, kept: bool, differs: bool, rolled: bool) -> str:
        if not kept:
            return say(NOTHING_KEPT)
        if not differs:
            return say(ALIKE)
        return say("Kept: {name}.{which}", name=self._variant.name, which="" if rolled else say(NOT_ROLLED))

    def _go(self) -> None:
        row = self.table.currentRow()
        if 0 <= row < len(self._rows):
            self.chose.emit(*self._rows[row])


def _checks(kept: Evaluation, now: Evaluation) -> tuple[tuple[Changed, ...], bool]:
    """Return the checks that came out otherwise; those of rolling, and whether they are among them, where
    both ramps have them.
    """
    rolled = all(one.stands(Evaluation.rolled) for one in (kept, now))
    if rolled:
        return changed_checks(kept.all_checks, now.all_checks), True
    return changed_checks(kept.checks, now.checks), False


def _value_cells(one: Differing) -> tuple[str, ...]:
    return one.name, one.before, one.after, one.step


def _check_cells(one: Changed) -> tuple[str, ...]:
    check = one.check
    name = f"{check.title}, {check.subject}" if check.subject else check.title
    return name, _told(one.before), _told(one.after), say(TURNS[one.turn])


def _told(check: Check | None) -> str:
    return f"{check.value_text or say('no figure')}: {say(check.result)}" if check is not None else "—"
