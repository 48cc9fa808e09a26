"""Dead cycles of objects are looked for on the UI thread alone, and where a look is short.

Python looks on whichever thread makes an object: a QObject that ended on one in the background would leave
its timers behind in the event loop, which then calls what is no more.
"""

import gc
from typing import Final

from PySide6.QtCore import QObject, QTimer, QTimerEvent

LOOK_MS: Final = 250
YOUNG: Final = 20_000
"""Objects more than at the last look: a picture is made of some thousand, and none of them is in a cycle."""
LOOKS: Final = 20
"""After so many looks at a generation the one before it is looked at too."""
STILL: Final = 8
"""So many times in a row nothing is done before all is looked through, which takes longer than a frame."""
STILL_MOST: Final = 500
"""Objects that come by themselves meanwhile."""
LATEST: Final = 10 * LOOKS
"""So many looks at the middle generation all waits for, at most."""


class Cycles(QObject):
    """Looks for dead cycles now and then, for as long as it lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._young = self._still = 0
        self.startTimer(LOOK_MS)

    def timerEvent(self, event: QTimerEvent) -> None:
        """Look where enough has come since the last time; through all once nobody does anything."""
        young, middle, old = gc.get_count()
        self._still = self._still + 1 if abs(young - self._young) < STILL_MOST else 0
        if old > LOOKS and (self._still >= STILL or old > LATEST):
            gc.collect()
        elif young > YOUNG:
            gc.collect(1 if middle > LOOKS else 0)
        self._young = gc.get_count()[0]


def keep() -> None:
    """Look no more at what stands now: a whole window takes longer to look through than a frame has."""
    gc.freeze()


def keep_anew() -> None:
    """The same for another window in the place of one, which goes once the event loop is back."""
    QTimer.singleShot(0, _look_through)


def _look_through() -> None:
    gc.unfreeze()
    gc.collect()
    gc.freeze()
