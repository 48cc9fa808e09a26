"""The scrubber along the fold: play, step, tightest place, and clearance and hand force underneath."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import RIGHT, button, column, label
from rampdraft.app.views.chart import Chart, clearance_told, force_told
from rampdraft.app.views.scrubber import Scrubber
from rampdraft.drawing.charts import clearance_strip, force_strip
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.results import FoldResult
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

PLAY_S: Final = 6.0
"""Time for the whole fold: slow enough to follow."""
STEP: Final = 0.01
REST_S: Final = 0.7
"""How long play rests where a stage ends: time to read the next one."""


class _Beside(QLabel):
    """Words at the right that end in an ellipsis where they lack room: figures cut off would mislead."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write as much as there is room for."""
        painter, room = QPainter(self), self.width()
        words = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room)
        painter.drawText(self.rect(), int(self.alignment()), words)


class FoldBar(Scrubber):
    """Chooses a place on the fold path, as a share from 0 deployed to 1 stowed."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        self.clearance, self.force = (
            Chart(say("Clearance over the fold")),
            Chart(say("Hand force over the fold")),
        )
        super().__init__(
            say("Place on the fold, from deployed to stowed"), (self.clearance, self.force), parent
        )
        self._document = document
        self._fold: FoldResult | None = None
        self._shown: tuple[Evaluation, bool] | None = None
        """The evaluation that the strips are of, and whether they are greyed."""
        self._resting_s = 0.0
        self.play = button(
            say("Play"), self.toggle_play, self, say("Play the fold, or pause it (Ctrl+Space)")
        )
        self.back = button(
            say("Back"), self._step_back, self, say("A hundredth of the way back"), autoRepeat=True
        )
        self.step = button(
            say("Step"), self._step_on, self, say("A hundredth of the way on"), autoRepeat=True
        )
        self.tightest = button(
            say("Tightest"), self.go_tightest, self, say("Go to the place where the least clearance is left")
        )
        self._force = _Beside(self, alignment=RIGHT)
        self._force.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        two_lines = 2 * self.fontMetrics().lineSpacing()
        self._stage = label("", self, minimumHeight=two_lines, alignment=Qt.AlignmentFlag.AlignTop)
        parts = (self.play, self.back, self.step, self.tightest, self._force)
        top = ChooserRow(parts, self, margins=(0, 0, 0, 0))
        below = ((part, 0) for part in (self._stage, self.slider, self.clearance, self.force))
        column(self, (top, 0), *below, margins=(10, 6, 10, 8), spacing=4)
        document.changed.connect(self.refresh)
        document.completed.connect(self.refresh)
        document.opened.connect(self.reset)

    def refresh(self) -> None:
        """Follow the document, staying at the same share."""
        evaluation, greyed = self._document.judged, not self._document.whole
        self.setEnabled(evaluation is not None)
        if evaluation is None:
            self.reset()
            self._fold = self._shown = None
            self._stage.clear()
            self._force.clear()
            for chart in self.charts:
                chart.show_strip(None)
        elif self._shown is None or self._shown[0] is not evaluation or self._shown[1] != greyed:
            self._fold, self._shown = evaluation.fold, (evaluation, greyed)
            self.clearance.show_strip(clearance_strip(evaluation), clearance_told(evaluation), greyed=greyed)
            force = force_strip(evaluation)
            self.force.show_strip(force, force_told(evaluation, force), greyed=greyed)
            self._say()

    @property
    def stage(self) -> int:
        """Return the place of the stage shown, counted from 0."""
        stages = self._fold.path.stages if self._fold is not None else ()
        return next(
            (at for at, stage in enumerate(stages) if self.share <= stage.end), max(len(stages) - 1, 0)
        )

    def reset(self) -> None:
        """Stand at the beginning, without saying that anybody went there."""
        self.pause()
        self._place(0.0)

    def go_tightest(self) -> None:
        """Go to the place of least clearance."""
        if self._fold is not None:
            self.go(self._fold.clearance.tightest.at)

    def toggle_play(self) -> None:
        """Play from here, from the beginning if it is over, or pause."""
        if self.playing:
            self.pause()
            return
        if self._fold is None:
            return
        if self.share >= 1.0:
            self._move(0.0)
        self._start()

    def pause(self) -> None:
        """Stop playing."""
        self._resting_s = 0.0
        super().pause()

    def _show_playing(self) -> None:
        self.play.setText(say("Pause") if self.playing else say("Play"))

    def _play_on(self, passed_s: float) -> None:
        """Move on, resting a moment where a stage ends."""
        if self._resting_s > 0:
            self._resting_s -= passed_s
            return
        ends = [stage.end for stage in self._fold.path.stages] if self._fold is not None else []
        to = self.share + passed_s / PLAY_S
        end = next((end for end in ends if self.share < end <= to), None)
        if end is not None:
            self._resting_s = REST_S
        self._move(min(to if end is None else end, 1.0))
        if self.share >= 1.0:
            self.pause()

    def _step_back(self) -> None:
        self.go(max(self.share - STEP, 0.0))

    def _step_on(self) -> None:
        self.go(min(self.share + STEP, 1.0))

    def _say(self) -> None:
        if self._fold is None:
            return
        stages, number = self._fold.path.stages, self.stage
        place = say("Deployed. ") if self.share <= 0.0 else say("Stowed. ") if self.share >= 1.0 else ""
        number = 0 if self.share <= 0.0 else number
        self._stage.setText(
            place
            + say(
                "{number} of {count}: {stage}", number=number + 1, count=len(stages), stage=stages[number].say
            )
            if self.share < 1.0
            else say("Stowed.")
        )
        given = self._fold.hand.given_n(self.share)
        self._force.setText(
            say(" and ").join(
                say("{force} at the {place}", force=fixed(force, 0, "N"), place=say(place))
                for place, force in given
            )
        )
