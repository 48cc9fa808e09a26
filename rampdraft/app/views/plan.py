"""The plan view: the ramp laid flat, from above, with grips of what lies across."""

from functools import partial
from typing import Final

from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.document import Document
from rampdraft.app.furniture import column
from rampdraft.app.views.following import DrawingView
from rampdraft.app.views.hand import Hand
from rampdraft.drawing.ghost import ABOVE, ghosted
from rampdraft.drawing.grips.plan import plan_grips
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.plan import plan_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.say import say

ROOM_PX: Final = 520
"""A narrower sheet shows no dimensions: they would run into one another."""


class PlanPanel(DrawingView):
    """A canvas with the plan."""

    goes_along = True

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        self._grips = GripCanvas(say("Plan view"))
        super().__init__(document, self._grips, parent)
        self.hand = Hand(document, self._grips, self)
        column(self, (self.canvas, 1))

    def _draw(self, evaluation: Evaluation) -> None:
        make = partial(self._picture, evaluation)
        picture = make() if self._boxed_at else self.canvas.fit_to(make)
        self._boxed_at = True
        self.canvas.show_picture(picture, note=self._note)
        self._grips.show_grips(() if self._greyed else plan_grips(evaluation.design))

    def _clear(self) -> None:
        super()._clear()
        self._grips.show_grips(())

    def _picture(self, evaluation: Evaluation) -> Picture:
        roomy = self.canvas.width() >= ROOM_PX
        per_mm, kept = self.canvas.per_paper_mm, self._kept
        picture = plan_view(evaluation, dimensions=roomy, per_mm=per_mm)
        if kept is None:
            return picture
        return ghosted(picture, plan_view(kept, dimensions=False, per_mm=per_mm), kept.assembly, ABOVE)
