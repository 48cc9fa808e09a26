"""Pieces: the part list, and below it the cutting plan."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.furniture import column, label, page, put_row, table
from rampdraft.app.views.following import FAULT_NOTE, FollowingView
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.progress import Progress
from rampdraft.shop.costs import costs
from rampdraft.shop.cutting.plan import least_plan_of
from rampdraft.shop.cutting.plan_words import together
from rampdraft.shop.cutting.results import Cut, CuttingPlan
from rampdraft.shop.parts import Part
from rampdraft.units import MM
from rampdraft.words.figures import exact, fixed
from rampdraft.words.say import called, say

COLUMNS: Final = ("Part", "Name", "Pieces", "Hand", "Section", "Material", "Length", "Mass, kg", "Ends")
NUMBERS: Final = (2, 6, 7)
OF_LAST: Final = "Of the last good ramp."
WORKING: Final = "A quick plan; the least one is being worked out…"
BROKEN: Final = "A quick plan; the least one could not be worked out: a fault in the program."


@dataclass(frozen=True, slots=True, kw_only=True)
class Costed:
    """The cutting plan for the saw, and in sentences what is bought costs."""

    plan: CuttingPlan
    costs: tuple[str, ...]


class PiecesPanel(FollowingView):
    """Shows what is to be cut."""

    @property
    def waits(self) -> bool:
        """Return that all is worked out first."""
        return True

    chose = Signal(object)
    """Keys of the members of the chosen part, a frozenset."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self._line = answers.line("cutting plan", AT_LENGTH)
        self._line.came.connect(self._put_least)
        self._line.failed.connect(self._put_broken)
        self._of_last = label(say(OF_LAST), self, role="reason", margins=(10, 6, 10, 0))
        length = say("Length, {unit}", unit=format.unit_text("mm"))
        self.table = table(say("Part list"), [length if one == "Length" else one for one in COLUMNS], self)
        self.table.verticalHeader().setDefaultSectionSize(self.fontMetrics().lineSpacing() + 10)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.table.itemSelectionChanged.connect(self._choose)
        self.plan = page(say("Cutting plan"), self)
        column(self, (self._of_last, 0), (self.table, 3), (self.plan, 2))

    def _begin(self) -> None:
        self.table.scrollToTop()

    def _clear(self) -> None:
        self._line.call_off()
        self.table.setRowCount(0)
        self.plan.clear()

    def _draw(self, evaluation: Evaluation) -> None:
        self._grey()

    def _say_broken(self) -> None:
        self._grey()

    def _grey(self) -> None:
        self._of_last.setText(say(FAULT_NOTE) if self._broken else say(OF_LAST))
        self._of_last.setVisible(self._broken or self._document.stale)
        self.table.setEnabled(not self._greyed)
        self.plan.setEnabled(not self._greyed)

    def _take(self, evaluation: Evaluation) -> None:
        self.table.setRowCount(len(evaluation.parts))
        for row, part in enumerate(evaluation.parts):
            marks = "; ".join(f"{format.length(mark.at_mm, 1)}: {mark.what}" for mark in part.piece.marks)
            put_row(self.table, row, _cells(part), right=NUMBERS, tips=[marks] * len(COLUMNS))
        # The quick plan stands until the one for the saw is worked out.
        self._tell(evaluation, (say(WORKING), _plan_text(evaluation.plan)))
        design = evaluation.design
        about = evaluation.parts, evaluation.bought, design.stock, design.workshop, design.prices
        self._line.ask(about, work_out, evaluation)

    def _put_least(self, about: object, found: Costed) -> None:
        if self._shown is not None:
            self._tell(self._shown, (*found.costs, _plan_text(found.plan)))

    def _put_broken(self) -> None:
        if self._shown is not None:
            self._tell(self._shown, (say(BROKEN), _plan_text(self._shown.plan)))

    def _tell(self, evaluation: Evaluation, words: tuple[str, ...]) -> None:
        """Tell of the cutting plan, and before it what the lists cannot hold."""
        self.plan.setPlainText("\n".join((*(one.line for one in evaluation.remarks), *words)))

    def _choose(self) -> None:
        parts = self._shown.parts if self._shown is not None else ()
        rows = {index.row() for index in self.table.selectedIndexes()} if parts else ()
        self.chose.emit(frozenset(key for row in rows for key in parts[row].members))


def work_out(evaluation: Evaluation, progress: Progress) -> Costed:
    """Return the cutting plan for the saw, with the costs."""
    plan = least_plan_of(evaluation.parts, evaluation.design, progress)
    return Costed(plan=plan, costs=costs(evaluation.design, plan, evaluation.parts, evaluation.bought).told)


def _cells(part: Part) -> tuple[str, ...]:
    ends, piece = " | ".join(dict.fromkeys(end.text for end in part.piece.ends)), part.piece
    return (
        part.number, part.words, str(part.quantity), say(part.hand),
        called(piece.section.text), called(piece.material),
        format.length(piece.length_mm, 1), fixed(part.mass_kg, 2), ends,
    )  # fmt: skip


def _cut(part: str, cuts: Sequence[Cut], length_mm: MM) -> str:
    length = format.length(length_mm, 1)
    return say("{count} × {part} at {length}", count=len(cuts), part=part, length=length) + together(cuts)


def _plan_text(plan: CuttingPlan) -> str:
    lines = [plan.words, ""]
    for number, bar in enumerate(plan.bars, start=1):
        runs = groupby(bar.cuts, lambda cut: (cut.part, cut.length_mm))
        cuts = ", ".join(_cut(part, list(same), length_mm) for (part, length_mm), same in runs)
        hand = say(" in hand") if bar.in_hand else ""
        whole, left = exact(bar.stock_mm, "mm"), format.length(bar.offcut_mm, 1)
        lines.append(
            say(
                "{number}. {section}, {material}, {whole}{hand}: {cuts}; offcut {left}",
                number=number,
                section=called(bar.section),
                material=called(bar.material),
                whole=whole,
                hand=hand,
                cuts=cuts,
                left=left,
            )
        )
    lines += [f"{one.quantity} × {one.part}: {one.words}" for one in plan.unplaced]
    return "\n".join(lines)
