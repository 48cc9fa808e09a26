"""The scrubber along the fold: play, step, tightest place, and the clearance underneath."""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QElapsedTimer, QSignalBlocker, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from rampdraft.app.panels.chart import ClearanceChart

if TYPE_CHECKING:
    from rampdraft.mechanics.results import FoldResult

TICKS: Final = 1000
PLAY_S: Final = 6.0
"""Time for the whole fold: slow enough to follow."""
STEP: Final = 0.01
FRAME_MS: Final = 16


class FoldBar(QWidget):
    """Chooses a place on the fold path, as a share from 0 deployed to 1 stowed."""

    moved = Signal(float)
    """The user, or play, went to a share."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._fold: FoldResult | None = None
        self._share = 0.0
        self._timer = QTimer(self)
        self._timer.setInterval(FRAME_MS)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._play_on)
        self._clock = QElapsedTimer()
        self.play = self._button("Play", "Play the fold, or pause it (Ctrl+Space)", self.toggle_play)
        self.back = self._button("Back", "A hundredth of the way back", self._step_back)
        self.step = self._button("Step", "A hundredth of the way on", self._step_on)
        self.tightest = self._button("Tightest", "Go to the place where the least clearance is left", self.go_tightest)
        for button in (self.back, self.step):
            button.setAutoRepeat(True)
        self.slider = QSlider(Qt.Orientation.Horizontal, self)
        self.slider.setRange(0, TICKS)
        self.slider.setPageStep(TICKS // 20)
        self.slider.setSingleStep(TICKS // 200)
        self.slider.setAccessibleName("Place on the fold, from deployed to stowed")
        self.slider.valueChanged.connect(self._slid)
        self.chart = ClearanceChart(self)
        self.chart.went.connect(self.go)
        self._stage = QLabel(self)
        self._stage.setWordWrap(True)
        self._stage.setMinimumHeight(self.fontMetrics().lineSpacing() * 2)
        self._stage.setAlignment(Qt.AlignmentFlag.AlignTop)
        row = QHBoxLayout()
        row.setSpacing(4)
        for button in (self.play, self.back, self.step, self.tightest):
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 8)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self._stage)
        column.addWidget(self.slider)
        column.addWidget(self.chart)

    def _button(self, text: str, help_text: str, act: object) -> QPushButton:
        button = QPushButton(text, self)
        button.setToolTip(help_text)
        button.setAccessibleDescription(help_text)
        button.clicked.connect(act)
        return button

    @property
    def share(self) -> float:
        """Return the place shown."""
        return self._share

    @property
    def playing(self) -> bool:
        """Return whether the fold plays."""
        return self._timer.isActive()

    def show_fold(self, fold: "FoldResult", demanded_mm: float, greyed: bool) -> None:
        """Take another fold, staying at the same share."""
        self._fold = fold
        self.chart.show_fold(fold, demanded_mm, greyed)
        self._say()

    def show_nothing(self) -> None:
        """There is no fold."""
        self.reset()
        self._fold = None
        self._stage.clear()
        self.chart.show_nothing()

    def reset(self) -> None:
        """Stand at the beginning, without saying that anybody went there."""
        self.pause()
        self._place(0.0)

    def go(self, share: float) -> None:
        """Go to a share and stop there."""
        self.pause()
        self._move(share)

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
        if self._share >= 1.0:
            self._move(0.0)
        self._clock.start()
        self._timer.start()
        self.play.setText("Pause")

    def pause(self) -> None:
        """Stop playing."""
        self._timer.stop()
        self.play.setText("Play")

    def hideEvent(self, event: QHideEvent) -> None:
        """Nothing plays unseen."""
        self.pause()

    def _play_on(self) -> None:
        self._move(min(self._share + self._clock.restart() / 1000 / PLAY_S, 1.0))
        if self._share >= 1.0:
            self.pause()

    def _step_back(self) -> None:
        self.go(max(self._share - STEP, 0.0))

    def _step_on(self) -> None:
        self.go(min(self._share + STEP, 1.0))

    def _slid(self, tick: int) -> None:
        self.go(tick / TICKS)

    def _move(self, share: float) -> None:
        self._place(share)
        self.moved.emit(share)

    def _place(self, share: float) -> None:
        self._share = share
        with QSignalBlocker(self.slider):
            self.slider.setValue(round(share * TICKS))
        self.chart.set_share(share)
        self._say()

    def _say(self) -> None:
        if self._fold is None:
            return
        stages = self._fold.path.stages
        number = next((count for count, stage in enumerate(stages, start=1) if self._share <= stage.end), len(stages))
        if self._share <= 0.0:
            self._stage.setText("Deployed")
        elif self._share >= 1.0:
            self._stage.setText("Stowed")
        else:
            self._stage.setText(f"{number} of {len(stages)}: {stages[number - 1].say}")
