"""The carrier view: how it sinks, nods and leans on its supports as a user comes up, from the side or from
the end.
"""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.app.furniture import across, chooser, column, fit_button, label, put_items, switches
from rampdraft.app.views.cures import CuresTable
from rampdraft.app.views.following import DrawingView
from rampdraft.drawing.carrier_standing import carrier_end, carrier_side
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.sheet import stepped
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.carrier.results import Climb

UNDESCRIBED: Final = (
    "Describe what the carrier stands on under Supports, and what it weighs under Carrier's weight: then this"
    " view shows how it sinks and leans as a user comes up, and whether it tips."
)
WORST: Final = "The worst"
WAYS: Final = (
    ("Side", "The carrier from the side, where a user tips it or leaves least on a support"),
    ("End", "The carrier from the end, where it leans most"),
)


class CarrierPanel(DrawingView):
    """Canvas, choosers of the user and of the side that it is seen from, and what fewer springs and ballast
    do.
    """

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(document, "Carrier", parent)
        self.side, self.end = switches(WAYS, self._refit, self)
        self.user = chooser("User and place", self._refit, self)
        self._choosers = QWidget(self)
        fit = fit_button(self.canvas, self)
        across((self.side, 0), (self.end, 0), (self.user, 1), (fit, 0), parent=self._choosers)
        top_left = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft
        self.words = label(UNDESCRIBED, self, margins=(24, 24, 24, 24), alignment=top_left)
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
        put_items(self.user, [(words, words) for words in (WORST, *(climb.words for climb in climbs))])
        if evaluation.standing is not None:
            self.cures.ask(evaluation)

    def _set_out(self, *, described: bool) -> None:
        """Show drawing and choosers, or what to describe first."""
        for widget in (self._choosers, self.canvas, self.cures):
            widget.setVisible(described)
        self.words.setVisible(not described)

    def _draw(self, evaluation: Evaluation) -> None:
        self._set_out(described=evaluation.standing is not None)
        self.cures.setEnabled(not self._document.stale)
        if evaluation.standing is None:
            return
        if not self._boxed_at:
            self._boxed_at = True
            self.canvas.set_box(self._filling().box)
        self.canvas.show_picture(self._picture(self.canvas.per_paper_mm), note=self._note)

    def _filling(self) -> Picture:
        """Return the picture as large as the sheet has room for: its words, which keep their size, take a
        good part of that.
        """

        return stepped(self._picture, *self.canvas.room_mm).picture

    def _picture(self, per_mm: float) -> Picture:

        assert self._shown is not None
        assert self._shown.standing is not None
        draw = carrier_side if self.side.isChecked() else carrier_end
        return draw(self._shown.design, self._shown.standing, self._climb(), per_mm=per_mm)

    def _climb(self) -> Climb | None:
        """Return the climb that is chosen, None for the worst."""
        climbs = getattr(self._shown.standing, "climbs", ()) if self._shown is not None else ()
        row = self.user.currentIndex() - 1
        return climbs[row] if 0 <= row < len(climbs) else None
