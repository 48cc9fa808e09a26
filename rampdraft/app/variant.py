"""A ramp that is kept beside the one in hand, to be compared with it."""

from PySide6.QtCore import QObject, Signal

from rampdraft.app.document import Document
from rampdraft.evaluation.evaluate import Evaluation


class Variant(QObject):
    """Holds at most one; another document begins without."""

    changed = Signal()
    """Another one is kept, none, or its ghost is shown or not."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self.evaluation: Evaluation | None = None
        self.name = ""
        self.ghost = True
        """Whether it stands on the views."""
        document.opened.connect(self.forget)

    @property
    def shown(self) -> Evaluation | None:
        """Return what is to stand on the views as a ghost; None where it is as the ramp in hand."""
        kept, now = self.evaluation, self._document.evaluation
        if kept is None or not self.ghost or (now is not None and now.design == kept.design):
            return None
        return kept

    def keep(self) -> None:
        """Keep the ramp in hand, once all is worked out."""
        document = self._document
        if not document.whole:
            return
        self.evaluation = document.judged
        last = document.undo_stack.undoText()
        self.name = f"as after “{last}”" if last else "as opened"
        self.changed.emit()

    def forget(self) -> None:
        """Keep none any more."""
        if self.evaluation is not None:
            self.evaluation, self.name = None, ""
            self.changed.emit()

    def show_ghost(self, shown: bool) -> None:
        """Let it stand on the views, or not."""
        self.ghost = shown
        self.changed.emit()

    def take(self) -> None:
        """Take it into hand, as an edit that can be undone."""
        if self.evaluation is not None:
            self._document.replace(self.evaluation.design, "the kept ramp")
