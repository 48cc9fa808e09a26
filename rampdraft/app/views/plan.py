"""The plan view: the ramp laid flat, from above."""

from typing import TYPE_CHECKING, Final

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.document import Document
from rampdraft.app.views.side import NOTHING_NOTE, STALE_NOTE

if TYPE_CHECKING:
    from rampdraft.drawing.ink import Picture

ROOM_PX: Final = 520
"""A narrower sheet shows no dimensions: they would run into one another."""


class PlanPanel(QWidget):
    """A canvas that follows the document while anybody sees it."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._boxed: object = None
        self.canvas = Canvas("Plan view", self)
        self.canvas.scaled.connect(self._rescale)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.canvas)
        document.changed.connect(self.refresh)
        document.opened.connect(self.canvas.fit)

    def refresh(self) -> None:
        """Show the plan as it is now."""
        evaluation = self._document.evaluation
        if not self.isVisible():
            return
        if evaluation is None:
            self.canvas.show_picture(None, note=NOTHING_NOTE if self._document.design is not None else "")
            return
        if evaluation is not self._boxed:
            self._boxed = evaluation
            picture = self.canvas.fit_to(self._picture)
        else:
            picture = self._picture()
        self.canvas.show_picture(picture, note=STALE_NOTE if self._document.stale else "")

    def _rescale(self) -> None:
        if self.canvas.fitted:
            self._boxed = None
        self.refresh()

    def _picture(self) -> "Picture":
        from rampdraft.drawing.plan import plan_view

        assert self._document.evaluation is not None
        return plan_view(
            self._document.evaluation,
            dimensions=self.canvas.width() >= ROOM_PX,
            per_mm=self.canvas.per_paper_mm,
        )

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()
