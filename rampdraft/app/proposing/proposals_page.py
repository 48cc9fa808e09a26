"""What is proposed: cards with pictures, the table of all ramps found, what gentler slopes weigh."""

from collections.abc import Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHBoxLayout, QHeaderView, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.furniture import across, button, column, emptied, label, make, put_row, splitter, table
from rampdraft.app.proposing.asking import Drawn, Found
from rampdraft.drawing.trade_off import trade_off_chart
from rampdraft.explore.proposals.results import Proposal
from rampdraft.explore.proposals.words import HEADS, best_words, closest_words, figures_row, kind_words
from rampdraft.words.say import say

CARDS: Final = 3
EARLIER: Final = "of an earlier survey"
PICTURE_PX: Final = 110
_AXES_MM: Final = (24.0, 16.0)
"""What the numbers and words of the chart take beside it, across and up."""
_LEAST_MM: Final = 20.0
_CHART_PX: Final = 170
_EVEN: Final = 1000
"""Table and chart begin with as much room each."""


class ProposalsPage(QWidget):
    """Shows what has been found so far, then what is chosen of it."""

    taken = Signal(object)
    """A proposal that is to be the document."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._found: tuple[Proposal, ...] = ()
        self._chosen: tuple[Proposal, ...] = ()
        self._heard: list[Drawn] = []
        self._cards = QHBoxLayout()
        self._cards.setContentsMargins(0, 0, 0, 0)
        self._cards.setSpacing(8)
        self.table = table(say("Ramps found"), ("", *HEADS), self)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.cellActivated.connect(self._activate)
        self.table.currentCellChanged.connect(self._mark)
        self.chart = Canvas(say("Mass against gradient"), self)
        self.chart.setMinimumHeight(_CHART_PX)
        self.chart.picked.connect(self._pick)
        self.chart.scaled.connect(self._draw_chart)
        self.open = button(
            say("Open the marked ramp"),
            self._take_marked,
            self,
            say("Takes the ramp that is marked in the table"),
        )
        self._below = QWidget(self)
        left = QWidget(self._below)
        below_table = across((self.open, 0), (QWidget(left), 1), margins=(0, 6, 0, 6))
        column(left, (self.table, 1), (below_table, 0))
        parted = splitter(Qt.Orientation.Vertical, self._below, (left, 1), (self.chart, 1))
        parted.setChildrenCollapsible(False)
        parted.setSizes([_EVEN, _EVEN])
        column(self._below, (parted, 1))
        column(self, (self._cards, 0), (self._below, 1), margins=(10, 4, 10, 4), spacing=8)
        self.clear()

    @property
    def count(self) -> int:
        """Return how many ramps are shown."""
        return len(self._found)

    def clear(self) -> None:
        """Show nothing."""
        self._heard, self._found, self._chosen = [], (), ()
        emptied(self._cards)
        self._below.hide()

    def hear(self, one: Drawn) -> None:
        """Show another ramp that was found, while the search goes on: the lightest ones as cards."""
        self._heard.append(one)
        self._heard.sort(key=lambda each: each.proposal.figures.mass_kg)
        found = tuple(each.proposal for each in self._heard)
        self._show(self._heard[:CARDS], found)

    def show_found(self, found: Found) -> None:
        """Show what the search came to."""
        if not found.chosen:
            self.clear()
            return
        self._show(found.chosen, found.proposals.found)

    def outdate(self) -> None:
        """Grey what is shown: it is of an earlier survey."""
        self.setEnabled(False)
        for canvas in self.findChildren(Canvas):
            canvas.show_picture(canvas.picture, note=say(EARLIER))

    def _show(self, cards: Sequence[Drawn], found: tuple[Proposal, ...]) -> None:
        self.setEnabled(True)
        emptied(self._cards)
        for number, one in enumerate(cards, start=1):
            self._cards.addWidget(self._card(number, one), 1)
        chosen = tuple(one.proposal for one in cards)
        others = tuple(one for one in found if one.design not in {it.design for it in chosen})
        self._found = (*chosen, *others)
        self._fill(len(chosen))
        self._chosen = chosen
        self._below.show()
        self._draw_chart()

    def _draw_chart(self) -> None:
        """Draw the chart as large as its room is; its letters keep their size."""
        if self._found:
            wide, tall = (
                max(room - axes, _LEAST_MM) for room, axes in zip(self.chart.room_mm, _AXES_MM, strict=True)
            )
            picture = trade_off_chart(self._found, self._chosen, (wide, tall))
            self.chart.set_box(picture.box)
            self.chart.show_picture(picture, note="" if self.isEnabled() else say(EARLIER))

    def _card(self, number: int, one: Drawn) -> QFrame:
        proposal = one.proposal
        card = make(QFrame, self, role="sheet", accessibleName=say("Proposal {number}", number=number))
        picture = Canvas(say("Proposal {number}", number=number), card)
        picture.setFixedHeight(PICTURE_PX)
        picture.show_picture(one.picture)
        best = best_words(proposal)
        head = f"<b>{number}{': ' + best if best else ''}</b>"
        figures = dict(zip(HEADS, figures_row(proposal), strict=True))
        lines = (
            kind_words(proposal),
            say(
                "{steepest} at its steepest; leaves {inner} and {outer}; {hands} at the hands",
                steepest=figures["steepest"],
                inner=figures["inner leaf"],
                outer=figures["outer leaf"],
                hands=figures["hands"],
            ),
        )
        take = button(
            say("Open this ramp"), partial(self._take, proposal), card, say("Takes it as the design in hand")
        )
        words = label("<br>".join(lines), card, toolTip=closest_words(proposal))
        column(
            card,
            (label(head, card), 0),
            (picture, 0),
            (words, 1),
            (across((take, 0), (QWidget(card), 1), margins=(0, 4, 0, 0)), 0),
            margins=(10, 8, 10, 8),
            spacing=4,
        )
        return card

    def _fill(self, chosen: int) -> None:
        self.table.setRowCount(len(self._found))
        for at, one in enumerate(self._found):
            cells = (str(at + 1) if at < chosen else "", *figures_row(one))
            words = f"{kind_words(one)}; {closest_words(one)}"
            put_row(self.table, at, cells, right=range(1, len(cells)), tips=(words,) * len(cells))
        self._mark()

    # Taking one

    def _mark(self, *_: object) -> None:
        row = self.table.currentRow()
        self.open.setEnabled(0 <= row < len(self._found))
        self.chart.light(frozenset((str(row + 1),)))

    def _pick(self, owner: str) -> None:
        if owner.isdigit() and 0 < int(owner) <= len(self._found):
            self.table.setCurrentCell(int(owner) - 1, 0)

    def _activate(self, row: int, _column: int) -> None:
        self._take(self._found[row])

    def _take_marked(self) -> None:
        self._take(self._found[self.table.currentRow()])

    def _take(self, one: Proposal, *_: object) -> None:
        self.taken.emit(one)
