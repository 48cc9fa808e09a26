"""The end view: the ramp as somebody sees it who stands at its toe."""

from functools import partial
from typing import Final

from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import column, fit_button
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.hand import Hand
from rampdraft.app.views.placed import PlacedView
from rampdraft.drawing.from_end import CAMERA, from_end
from rampdraft.drawing.ghost import laid_over
from rampdraft.drawing.grips.end import end_grips
from rampdraft.drawing.grips.grip import Grip
from rampdraft.drawing.ink import Picture
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.say import say

ROOM_PX: Final = 420
"""A narrower sheet shows no dimensions: they would run into one another."""


class EndPanel(PlacedView):
    """Canvas with grips, and choosers of what is shown."""

    goes_along = True

    def __init__(self, document: Document, fold_bar: FoldBar, parent: QWidget | None = None) -> None:
        self._grips = GripCanvas(say("End view"))
        super().__init__(document, self._grips, fold_bar, parent)
        self.hand = Hand(document, self._grips, self)
        fit = fit_button(self.canvas, self)
        top = ChooserRow((*self.ways, self.site, fit), self)
        column(self, (top, 0), (self.canvas, 1))

    def _draw(self, evaluation: Evaluation) -> None:
        make = partial(self._picture, evaluation)
        picture = make() if self._boxed_at else self.canvas.fit_to(make)
        self._boxed_at = True
        self.canvas.show_picture(picture, note=self._note)
        self._grips.show_grips(self._pulled(evaluation))

    def _clear(self) -> None:
        super()._clear()
        self._grips.show_grips(())

    def _pulled(self, evaluation: Evaluation) -> tuple[Grip, ...]:
        """Return what can be taken hold of: of the ramp put down, as long as it is the one in hand."""
        if self._greyed or self.folding.isChecked():
            return ()
        stand, _ = self._stood(evaluation)
        return tuple(end_grips(evaluation.design, stand.pose, stand.drop_mm))

    def _picture(self, evaluation: Evaluation) -> Picture:
        stand, room = self._stood(evaluation)
        per_mm = self.canvas.per_paper_mm
        roomy = self.canvas.width() >= ROOM_PX and not self.folding.isChecked()
        picture = from_end(evaluation.design, self.solid, stand, dimensions=roomy, room=room, per_mm=per_mm)
        other = self._other(evaluation, stand)
        if other is None:
            return picture
        return laid_over(picture, other[0].outline(other[1], CAMERA, room=room))
