"""Way-points of the fold path: the one chosen, and those added and taken away. A hand moves them as it moves
any grip.
"""

from PySide6.QtCore import QObject, Signal

from rampdraft.app.canvas.map_canvas import MapCanvas
from rampdraft.app.document import Document
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.hand import Hand
from rampdraft.drawing.grips.grip import FINE, Grip
from rampdraft.drawing.grips.way_points import WayPointGrip, way_point_grips
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.folding.way_points import added, corner_of, own_stages, removed, with_stages
from rampdraft.words.say import say


class WayPoints(QObject):
    """Adds and removes way-points; a design with the usual sequence first takes it as stages of its own."""

    chose = Signal(int)
    """Another way-point is the chosen one, or with -1 none."""

    def __init__(self, document: Document, fold_bar: FoldBar, canvas: MapCanvas, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._bar, self._canvas = document, fold_bar, canvas
        self.chosen = -1
        self._share = -1.0
        """Where on the path the chosen one is, once the scrubber has been sent there."""
        self.hand = Hand(document, canvas, self)
        self.hand.chose.connect(self._choose)

    def show(self, evaluation: Evaluation | None) -> None:
        """Let the way-points of a ramp be taken hold of; of None there are none."""
        grips = way_point_grips(evaluation.design, evaluation.path) if evaluation is not None else ()
        self._canvas.show_grips(grips)
        if self.chosen > len(grips):
            self.choose(-1)
        if self.chosen > 0 and evaluation is not None and self._bar.share == self._share:
            self._go(evaluation)

    def choose(self, number: int) -> None:
        """Choose a way-point, or with -1 none."""
        self._canvas.choose(f"way-point {number}" if number > 0 else "")
        self._put(number)

    def _choose(self, grip: Grip | None) -> None:
        """Follow the cursor to a way-point; the last one stays chosen while the cursor is elsewhere."""
        if isinstance(grip, WayPointGrip):
            self._put(grip.number)
            evaluation = self._document.evaluation
            if evaluation is not None:
                self._go(evaluation)

    def _go(self, evaluation: Evaluation) -> None:
        """Send the scrubber to the chosen one."""
        self._share = evaluation.path.at[self.chosen]
        self._bar.go(self._share)

    def _put(self, number: int) -> None:
        if number != self.chosen:
            self.chosen = number
            self.chose.emit(number)

    def add(self) -> None:
        """Put a way-point on the path where the cursor stands."""
        evaluation = self._document.evaluation
        if evaluation is None:
            return
        path, share = evaluation.path, self._bar.share
        before = next((at for at, end in enumerate(path.at) if end > share), len(path.at) - 1)
        stages = added(own_stages(evaluation.design, path), max(before, 1), corner_of(path.pose(share), FINE))
        self._document.replace(with_stages(evaluation.design, stages), say("Add a way-point"))
        self.choose(before)

    def remove(self) -> None:
        """Take the chosen way-point out of the path."""
        evaluation, number = self._document.evaluation, self.chosen
        if evaluation is not None and number > 0:
            self.choose(-1)
            stages = removed(own_stages(evaluation.design, evaluation.path), number)
            self._document.replace(
                with_stages(evaluation.design, stages), say("Remove way-point {number}", number=number)
            )
