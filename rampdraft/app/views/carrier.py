"""The carrier view: how it sinks, nods and leans on its supports as a user comes up, from the side or from
the end; and what fewer springs and ballast do to it, a table below, worked out off the UI thread.
"""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import (
    chooser,
    column,
    fit_button,
    label,
    put_items,
    put_row,
    switches,
    table,
)
from rampdraft.app.views.following import DrawingView
from rampdraft.drawing.carrier_standing import carrier_end, carrier_side
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.sheet import stepped
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.mechanics.carrier.results import Cure, Cures
from rampdraft.progress import Progress
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

UNDESCRIBED: Final = (
    "Describe what the carrier stands on under Supports, and what it weighs under Carrier's weight: then this"
    " view shows how it sinks and leans as a user comes up, and whether it tips."
)
WORST: Final = "The worst"
WAYS: Final = (
    ("Side", "The carrier from the side, where a user tips it or leaves least on a support"),
    ("End", "The carrier from the end, where it leans most"),
)
COLUMNS: Final = ("Fewer springs, or ballast", "On uneven ground", "While boarding", "Edge drops")
HINTS: Final = (
    "",
    "Least wheel load on uneven ground, of what the wheel carries when empty",
    "Least wheel load while users board, of what the support carries when empty",
    "How far the loaded deck edge sinks",
)
BROKEN: Final = "They could not be worked out: a fault in the program."
NO_TWIST: Final = (
    "Give the twist of the ground under Carrier's weight to see what fewer springs or ballast do to the"
    " wheels."
)


class CarrierPanel(DrawingView):
    """Canvas, choosers of the user and of the side that it is seen from, and what fewer springs and ballast
    do.
    """

    @property
    def waits(self) -> bool:
        """Return that all is worked out first."""
        return True

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(document, say("Carrier"), parent)
        self.side, self.end = switches(WAYS, self._refit, self)
        self.user = chooser(say("User and place"), self._refit, self)
        fit = fit_button(self.canvas, self)
        self._choosers = ChooserRow((self.side, self.end, self.user, fit), self)
        top_left = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft
        self.words = label(say(UNDESCRIBED), self, margin=24, alignment=top_left)
        self.cures = CuresTable(answers, self)
        column(self, (self._choosers, 0), (self.words, 1), (self.canvas, 1), (self.cures, 0))

    def _begin(self) -> None:
        self.user.setCurrentIndex(0)
        super()._begin()

    def _clear(self) -> None:
        self._set_out(described=False)
        self.words.hide()
        self.canvas.show()
        super()._clear()

    def _take(self, evaluation: Evaluation) -> None:
        super()._take(evaluation)
        climbs = getattr(evaluation.standing, "climbs", ())
        put_items(self.user, [(say(words), words) for words in (WORST, *(climb.words for climb in climbs))])
        if evaluation.standing is not None:
            self.cures.ask(evaluation)

    def _set_out(self, *, described: bool) -> None:
        """Show drawing and choosers, or what to describe first."""
        for widget in (self._choosers, self.canvas, self.cures):
            widget.setVisible(described)
        self.words.setVisible(not described)

    def _draw(self, evaluation: Evaluation) -> None:
        self._set_out(described=evaluation.standing is not None)
        self.cures.setEnabled(not self._greyed)
        standing = evaluation.standing
        if standing is None:
            return
        climbs, row = getattr(standing, "climbs", ()), self.user.currentIndex() - 1
        climb = climbs[row] if 0 <= row < len(climbs) else None
        draw = carrier_side if self.side.isChecked() else carrier_end

        def make(per_mm: float) -> Picture:
            return draw(evaluation.design, standing, climb, per_mm=per_mm)

        if not self._boxed_at:
            self._boxed_at = True
            # As large as the sheet has room for: words, which keep their size, take a good part of that.
            self.canvas.set_box(stepped(make, *self.canvas.room_mm).picture.box)
        self.canvas.show_picture(make(self.canvas.per_paper_mm), note=self._note)


class CuresTable(QWidget):
    """Shows the cures of one evaluation; the newest wins, and an old one is greyed until it comes."""

    def __init__(self, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._line = answers.line("cures", AT_LENGTH)
        self._line.came.connect(self._show)
        self._line.failed.connect(self._tell_broken)
        self.words = label(say(NO_TWIST), self, role="quiet", margins=(10, 6, 10, 6))
        self.table = table(say("What fewer springs and ballast do"), COLUMNS, self)
        header, metrics = self.table.horizontalHeader(), self.table.fontMetrics()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for number in range(1, len(COLUMNS)):
            self.table.setColumnWidth(number, metrics.horizontalAdvance(say(COLUMNS[number])) + 24)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.table.hide()
        column(self, (self.table, 0), (self.words, 0))

    def ask(self, evaluation: Evaluation) -> None:
        """Show the cures of an evaluation as soon as they are worked out."""
        self._line.want(evaluation.design, work_out, evaluation)
        self.table.setEnabled(self._line.asked is None)

    def _tell_broken(self) -> None:
        self.table.hide()
        self.words.setText(say(BROKEN))
        self.words.show()

    def _show(self, about: object, found: Cures | None) -> None:
        rows = found.rows if found is not None else ()
        self.table.setRowCount(len(rows))
        for row, cure in enumerate(rows):
            cells = _cells(cure)
            put_row(self.table, row, cells, right=(1, 2, 3), tips=(cells[0], *map(say, HINTS[1:])))
        lines = self.table.verticalHeader().defaultSectionSize() * len(rows)
        self.table.setFixedHeight(lines + self.table.horizontalHeader().sizeHint().height() + 4)
        self.table.setVisible(bool(rows))
        self.table.setEnabled(True)
        self.words.setText(_note(found))
        self.words.setVisible(bool(self.words.text()))


def work_out(evaluation: Evaluation, progress: Progress) -> Cures | None:
    """Return what fewer springs and ballast do to the carrier of an evaluation."""
    from rampdraft.explore.carrier_cures import cures

    progress(0.0, "")
    return cures(evaluation.design, evaluation.assembly, evaluation.ramp_grades)


def _note(found: Cures | None) -> str:
    if found is None:
        return say(NO_TWIST)
    asked = say("{share} is to be left on every wheel.", share=fixed(100 * found.limit, 0, "%"))
    missing = f" {'; '.join(found.missing).capitalize()}." if found.missing else ""
    return asked + missing


def _cells(cure: Cure) -> tuple[str, ...]:
    climbing = say("tips") if cure.climb_share is None else fixed(100 * cure.climb_share, 0, "%")
    drop = say("tips") if cure.edge_drop_mm is None else fixed(cure.edge_drop_mm, 1, "mm")
    times = (
        "" if cure.rate_factor in (1.0, 0.5) else say(", rate × {factor}", factor=fixed(cure.rate_factor, 2))
    )
    words = f"{cure.words[0].upper()}{cure.words[1:]}{times}"
    return words, fixed(100 * cure.twist_share, 0, "%"), climbing, drop
