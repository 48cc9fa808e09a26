"""The ramp as a solid: turned by hand, folded by the fold's scrubber and rolled over by that of Rolling."""

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.turning import TurningCanvas
from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import chooser, column, fit_button, put_items
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.placed import PlacedView, stand_at
from rampdraft.app.views.rolling import RollingPanel
from rampdraft.app.views.side import WAYS
from rampdraft.drawing.ghost import laid_over
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.scene import Box
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.words.say import say

ROLLS: Final = "Whoever is chosen under Rolling, where the scrubber there stands"
FROM: Final = (
    ("Toe, right", Camera()),
    ("Toe, left", Camera(52.0, 24.0)),
    ("Deck, right", Camera(-128.0, 28.0)),
    ("Deck, left", Camera(128.0, 28.0)),
    ("Side", Camera(-90.0, 0.0)),
    ("End", Camera(0.0, 0.0)),
    ("Above", Camera(-90.0, 90.0)),
    ("Below", Camera(-52.0, -30.0)),
)
"""Right and left are those of somebody who walks down."""


class SolidPanel(PlacedView):
    """Canvas, choosers of what is shown and of where it is seen from."""

    ways_changed = Signal()
    """It stands, folds or is rolled over now; who rolls is worked out, and moved, where Rolling is shown."""

    def __init__(
        self, document: Document, fold_bar: FoldBar, rolling: RollingPanel, parent: QWidget | None = None
    ) -> None:
        canvas = TurningCanvas(say("Solid"))
        super().__init__(document, canvas, fold_bar, parent, ways=(*WAYS, (say("Rolling"), ROLLS)))
        self.camera = Camera()
        self._box: Box | None = None
        self._rolling = rolling
        rolling.rolled.connect(self._follow_roll)
        canvas.turned.connect(self._turn)
        self.seen = chooser(say("Seen from"), self._look, self)
        self.seen.setPlaceholderText(say("Turned by hand"))
        put_items(self.seen, [(say(words), camera) for words, camera in FROM])
        fit = fit_button(self.canvas, self)
        top = ChooserRow((*self.ways, self.site, self.seen, fit), self)
        column(self, (top, 0), (self.canvas, 1))

    @property
    def rolls(self) -> bool:
        """Return whether somebody is to be shown on the ramp."""
        return self.ways[2].isChecked()

    def _chose(self) -> None:
        super()._chose()
        self.ways_changed.emit()

    def _follow_fold(self) -> None:
        rolled = self.rolls
        super()._follow_fold()
        if rolled:
            self.ways_changed.emit()

    def _follow_roll(self) -> None:
        if self.rolls:
            self._redraw()

    def _look(self) -> None:
        self.camera = self.seen.currentData()
        self.canvas.fit()

    def _turn(self, round_deg: float, over_deg: float) -> None:
        self.camera = self.camera.turned(round_deg, over_deg)
        self.seen.setCurrentIndex(-1)
        if self.canvas.fitted:
            self._boxed_at = None
        self._redraw()

    def _draw(self, evaluation: Evaluation) -> None:
        here = self._rolling.here
        stand, room, on_it = *self._stood(evaluation), None
        if self.rolls and here is not None and here.evaluation is evaluation:
            stand, room, on_it = stand_at(here.site), (), here.rider
        if self._boxed_at is None or self._box is None:
            tall_mm = on_it.tall_mm if on_it is not None else 0.0
            self._box, self._boxed_at = self.solid.box(room or (stand,), self.camera, tall_mm), True
            self.canvas.set_box(self._box)
        picture = self.solid.picture(stand, self.camera, on_it=on_it, room=room, box=self._box)
        other = self._other(evaluation, stand)
        if other is not None:
            picture = laid_over(picture, other[0].outline(other[1], self.camera))
        self.canvas.show_picture(picture, note=self._note)
