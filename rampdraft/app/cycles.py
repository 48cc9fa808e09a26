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


class Cycles(QObject):
    """Looks for dead cycles now and then, for as long as it lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self.startTimer(LOOK_MS)

    def timerEvent(self, event: QTimerEvent) -> None:
        """Look where enough has come since the last time."""
        young, middle, old = gc.get_count()
        if young > YOUNG:
            gc.collect(2 if old > LOOKS else 1 if middle > LOOKS else 0)


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
