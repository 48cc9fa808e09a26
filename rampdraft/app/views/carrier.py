"""The carrier view: how it sinks, nods and leans on its supports as a user comes up, from the side or from
the end.
"""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QButtonGroup, QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rampdraft.app.canvas.canvas import MARGIN_PX, Canvas
from rampdraft.app.document import Document
from rampdraft.app.views.cures import CuresTable
from rampdraft.app.views.side import NOTHING_NOTE, STALE_NOTE

if TYPE_CHECKING:
    from rampdraft.drawing.ink import Picture
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.mechanics.carrier.results import Climb

UNDESCRIBED: Final = (
    "Describe what the carrier stands on under Supports, and what it weighs under Carrier's weight: then this"
    " view shows how it sinks and leans as a user comes up, and whether it tips."
)
WORST: Final = "The worst"


class CarrierPanel(QWidget):
    """Canvas, and choosers of the user and of the side that it is seen from; they follow the document while
    anybody sees them.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shown: Evaluation | None = None
        self._boxed: object = None
        self.canvas = Canvas("Carrier", self)
        self.canvas.scaled.connect(self._rescale)
        self.side = QPushButton("Side", self)
        self.side.setToolTip("The carrier from the side, where a user tips it or leaves least on a support")
        self.end = QPushButton("End", self)
        self.end.setToolTip("The carrier from the end, where it leans most")
        self._ways = QButtonGroup(self)
        for button in (self.side, self.end):
            button.setCheckable(True)
            self._ways.addButton(button)
        self.side.setChecked(True)
        self._ways.buttonClicked.connect(self._choose)
        self.user = QComboBox(self)
        self.user.setAccessibleName("User and place")
        self.user.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.user.setMinimumContentsLength(16)
        self.user.activated.connect(self._choose)
        fit = QPushButton("Fit", self)
        fit.setToolTip("Show the whole (double click, or 0 on the drawing)")
        fit.clicked.connect(self.canvas.fit)
        self._chooser = QWidget(self)
        top = QHBoxLayout(self._chooser)
        top.setContentsMargins(10, 8, 10, 8)
        top.setSpacing(4)
        for button in (self.side, self.end):
            top.addWidget(button)
        top.addWidget(self.user, 1)
        top.addWidget(fit)
        self.words = QLabel(UNDESCRIBED, self)
        self.words.setWordWrap(True)
        self.words.setContentsMargins(24, 24, 24, 24)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.cures = CuresTable(self)
        for widget, share in ((self._chooser, 0), (self.words, 1), (self.canvas, 1), (self.cures, 0)):
            column.addWidget(widget, share)
        document.changed.connect(self.refresh)
        document.opened.connect(self._begin)

    def refresh(self) -> None:
        """Show the carrier as it is now, if anybody sees it."""
        evaluation = self._document.evaluation
        if not self.isVisible():
            return
        described = evaluation is None or evaluation.standing is not None
        self._chooser.setVisible(evaluation is not None and described)
        self.words.setVisible(not described)
        self.canvas.setVisible(described)
        self.cures.setVisible(evaluation is not None and described)
        self.cures.setEnabled(not self._document.stale)
        if evaluation is None:
            self._shown = None
            self.canvas.show_picture(None, note=NOTHING_NOTE if self._document.design is not None else "")
            return
        if evaluation is not self._shown:
            self._shown, self._boxed = evaluation, None
            self._list_users(evaluation)
            if evaluation.standing is not None:
                self.cures.ask(evaluation)
        self._draw()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def _begin(self) -> None:
        self.user.setCurrentIndex(0)
        self.canvas.fit()

    def _choose(self) -> None:
        self._boxed = None
        self._draw()

    def _rescale(self) -> None:
        if self.canvas.fitted:
            self._boxed = None
        self._draw()

    def _draw(self) -> None:
        """Draw it again; the box is found anew for another ramp, user or side, so that the sheet lies still
        while one zooms.
        """
        evaluation = self._shown
        if evaluation is None or evaluation.standing is None:
            return
        if self._boxed is None:
            self._boxed = evaluation
            self.canvas.set_box(self._filling().box)
        self.canvas.show_picture(
            self._picture(self.canvas.per_paper_mm), note=STALE_NOTE if self._document.stale else ""
        )

    def _filling(self) -> "Picture":
        """Return the picture as large as the sheet has room for: its words, which keep their size, take a
        good part of that.
        """
        from rampdraft.drawing.sheet import stepped

        per_px = 25.4 / self.canvas.logicalDpiX()
        wide, tall = (
            max(side - 2 * MARGIN_PX, 10) * per_px for side in (self.canvas.width(), self.canvas.height())
        )
        return stepped(self._picture, wide, tall).picture

    def _picture(self, per_mm: float) -> "Picture":
        from rampdraft.drawing.carrier_standing import carrier_end, carrier_side

        assert self._shown is not None
        assert self._shown.standing is not None
        draw = carrier_side if self.side.isChecked() else carrier_end
        return draw(self._shown.design, self._shown.standing, self._climb(), per_mm=per_mm)

    def _climb(self) -> "Climb | None":
        """Return the climb that is chosen, None for the worst."""
        climbs = getattr(self._shown.standing, "climbs", ()) if self._shown is not None else ()
        row = self.user.currentIndex() - 1
        return climbs[row] if 0 <= row < len(climbs) else None

    def _list_users(self, evaluation: "Evaluation") -> None:
        climbs = getattr(evaluation.standing, "climbs", ())
        items = [WORST, *(climb.words for climb in climbs)]
        if items == [self.user.itemText(row) for row in range(self.user.count())]:
            return
        before = self.user.currentText()
        with QSignalBlocker(self.user):
            self.user.clear()
            self.user.addItems(items)
            self.user.setCurrentIndex(items.index(before) if before in items else 0)
