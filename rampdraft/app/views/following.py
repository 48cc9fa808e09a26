"""What every view does alike: it follows the document while anybody sees it, and says when what it shows is
not the ramp in hand, or cannot be shown.
"""

import logging
from typing import Final

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.document import Document
from rampdraft.app.variant import Variant
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.say import say

JUDGING_NOTE: Final = "The ramp before the last change. The one in hand is being worked out."
FAULT_NOTE: Final = "This cannot be drawn: a fault in the program, which is in its log."
STALE_NOTE: Final = (
    "This is the last good ramp. Correct the values marked on the left, and the drawing follows."
)
NOTHING_NOTE: Final = "Nothing can be drawn yet. Correct the values marked on the left."


class FollowingView(QWidget):
    """A view of the document. Each says how it takes another evaluation (`_take`), draws the one that it has
    (`_draw`), stands empty (`_clear`), and begins with another design (`_begin`). It greys what `_greyed`
    says is not the ramp in hand.
    """

    goes_along = False
    """Whether it follows what is dragged at each move: it asks for little then. Others wait until the hand
    rests.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._shown: Evaluation | None = None
        """What is shown: the last evaluation that could be made when somebody last saw the view."""
        self._made = 0
        self._broken = False
        """What is to be shown could not be drawn."""
        self._tried = False
        """What is shown was only tried: something was being dragged."""
        document.changed.connect(self.refresh)
        document.completed.connect(self.refresh)
        if self.goes_along:
            document.tried.connect(self.refresh)
        document.opened.connect(self._begin)

    @property
    def waits(self) -> bool:
        """Return whether it shows what may take longer than a frame, and so follows an edit once all is
        worked out.
        """
        return False

    @property
    def _wanted(self) -> Evaluation | None:
        """Return what is to be shown."""
        return self._document.judged if self.waits else self._document.evaluation

    @property
    def _greyed(self) -> bool:
        """Return whether what is shown is not the ramp in hand."""
        current = self._document.whole if self.waits else not self._document.stale
        return self._broken or not current or self._document.evaluation is not self._shown

    @property
    def _note(self) -> str:
        """Return why what is shown is not the ramp in hand, or why nothing is; empty where neither is so."""
        if self._broken:
            return say(FAULT_NOTE)
        if self._document.evaluation is None:
            return say(NOTHING_NOTE) if self._document.design is not None else ""
        if self._document.stale:
            return say(STALE_NOTE)
        return say(JUDGING_NOTE) if self._greyed else ""

    def refresh(self) -> None:
        """Show the document as it is now, if anybody sees it."""
        if not self.isVisible():
            return
        evaluation = self._wanted
        if evaluation is None:
            self._shown, self._made, self._broken = None, 0, False
            self._clear()
            return
        previewing = self._document.previewing
        other = evaluation is not self._shown or (self._tried and not previewing)  # it is decided on
        self._tried = previewing
        if other:
            self._shown, self._made, self._broken = evaluation, self._document.made, False
        self._show(evaluation, other=other)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def _redraw(self) -> None:
        """Draw what is shown again: another choice, or another scale."""
        if self._shown is not None and self.isVisible():
            self._show(self._shown, other=False)

    def _show(self, evaluation: Evaluation, *, other: bool) -> None:
        """Draw what is to be shown; a fault in that greys this view, and says so, until there is another."""
        if self._broken:
            return
        try:
            if other:
                self._take(evaluation)
            self._draw(evaluation)
        except Exception as fault:
            logging.getLogger(__name__).error("%s could not be drawn", type(self).__name__, exc_info=fault)
            self._broken = True
            self._say_broken()

    def _say_broken(self) -> None:
        """Grey what stands here, and say why."""
        raise NotImplementedError

    def _take(self, evaluation: Evaluation) -> None:
        raise NotImplementedError

    def _draw(self, evaluation: Evaluation) -> None:
        raise NotImplementedError

    def _clear(self) -> None:
        raise NotImplementedError

    def _begin(self) -> None:
        raise NotImplementedError


class DrawingView(FollowingView):
    """A view with one drawing on a canvas. The box that it is fitted to is found once for each ramp and
    choice, so that the sheet lies still while one zooms, the fold moves or something is dragged.
    """

    def __init__(self, document: Document, canvas: str | Canvas, parent: QWidget | None = None) -> None:
        """`canvas` is one, or the name of an ordinary one."""
        super().__init__(document, parent)
        self.canvas = Canvas(canvas) if isinstance(canvas, str) else canvas
        self.canvas.setParent(self)
        self.canvas.scaled.connect(self._rescale)
        self._variant: Variant | None = None
        self._boxed_at: object = None
        """What the box was found for; None where it is to be found anew."""

    def compare_with(self, variant: Variant) -> None:
        """Show a kept ramp as a ghost on the drawing."""
        self._variant = variant
        variant.changed.connect(self._refit)

    @property
    def _kept(self) -> Evaluation | None:
        """Return the kept ramp whose ghost is to be shown, or None."""
        return self._variant.shown if self._variant is not None else None

    def _begin(self) -> None:
        self.canvas.fit()

    def _clear(self) -> None:
        self.canvas.show_picture(None, note=self._note)

    def _say_broken(self) -> None:
        self.canvas.show_picture(self.canvas.picture, note=self._note)

    def _take(self, evaluation: Evaluation) -> None:
        if not self._document.previewing:
            self._boxed_at = None

    def _refit(self) -> None:
        """Draw another choice, in a box of its own."""
        self._boxed_at = None
        self._redraw()

    def _rescale(self) -> None:
        if self.canvas.fitted:
            self._boxed_at = None
        self._redraw()
