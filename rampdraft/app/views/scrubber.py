"""A slider along something that moves, with play and the charts below it: what the fold's and the rolling
user's have in common.
"""

from typing import Final

from PySide6.QtCore import QElapsedTimer, QSignalBlocker, Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QSlider, QWidget

from rampdraft.app.furniture import make
from rampdraft.app.views.chart import Chart

TICKS: Final = 1000
FRAME_MS: Final = 16


class Scrubber(QWidget):
    """Chooses a share of a way, from 0 to 1. Each says how it plays on (`_play_on`), what its buttons say
    while it plays (`_show_playing`) and what it says at a share (`_say`).
    """

    moved = Signal(float)
    """The user, or play, went to a share."""

    def __init__(self, name: str, charts: tuple[Chart, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.share = 0.0
        self.charts = charts
        self._timer = QTimer(self, interval=FRAME_MS, timerType=Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._tick)
        self._clock = QElapsedTimer()
        self.slider = make(
            QSlider,
            Qt.Orientation.Horizontal,
            self,
            maximum=TICKS,
            pageStep=TICKS // 20,
            singleStep=TICKS // 200,
            accessibleName=name,
        )
        self.slider.valueChanged.connect(self._slid)
        for chart in charts:
            chart.went.connect(self.go)

    @property
    def playing(self) -> bool:
        """Return whether it plays."""
        return self._timer.isActive()

    def go(self, share: float) -> None:
        """Go to a share and stop there."""
        self.pause()
        self._move(share)

    def pause(self) -> None:
        """Stop playing."""
        self._timer.stop()
        self._show_playing()

    def hideEvent(self, event: QHideEvent) -> None:
        """Nothing plays unseen."""
        self.pause()

    def _start(self) -> None:
        self._clock.start()
        self._timer.start()
        self._show_playing()

    def _tick(self) -> None:
        self._play_on(self._clock.restart() / 1000)

    def _slid(self, tick: int) -> None:
        self.go(tick / TICKS)

    def _move(self, share: float) -> None:
        self._place(share)
        self.moved.emit(share)

    def _place(self, share: float) -> None:
        """Stand at a share, without saying that anybody went there."""
        self.share = share
        with QSignalBlocker(self.slider):
            self.slider.setValue(round(share * TICKS))
        for chart in self.charts:
            chart.set_share(share)
        self._say()

    def _play_on(self, passed_s: float) -> None:
        raise NotImplementedError

    def _show_playing(self) -> None:
        raise NotImplementedError

    def _say(self) -> None:
        raise NotImplementedError
