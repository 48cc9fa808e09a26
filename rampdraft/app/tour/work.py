"""Leads through the stops of the tour: by itself once, and whenever it is asked for."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtWidgets import QWidget

from rampdraft.app.shell import settings
from rampdraft.app.tour.card import Around, Card
from rampdraft.app.tour.stops import STOPS, PlaceKey

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk


class TourWork(QObject):
    """Holds the tour while it goes on."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self.card: Card | None = None
        """While the tour goes on."""
        self.around: Around | None = None
        self.at = 0
        """The stop in hand."""
        self._before: QWidget | None = None
        """What had the focus."""

    def begin_once(self) -> None:
        """Begin, unless it has been there before."""
        if not settings.tour_seen():
            self.begin()

    def begin(self) -> None:
        """Begin with the first stop."""
        self.close()
        settings.remember_tour_seen()
        window = self._desk.window
        self._before = window.focusWidget()
        self.around, self.card, self.at = Around(window), Card(window), 0
        self.card.went.connect(self._go)
        self.card.left.connect(self.close)
        window.installEventFilter(self)
        self._show()

    def close(self) -> None:
        """End it; the focus goes back to where it was."""
        if self.card is None or self.around is None:
            return
        self._desk.window.removeEventFilter(self)
        for one in (self.card, self.around):
            one.hide()
            one.deleteLater()
        self.card = self.around = None
        before, self._before = self._before, None
        (before if before is not None and before.isVisible() else self._desk.step_work.list).setFocus(
            Qt.FocusReason.OtherFocusReason
        )

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay beside the place when the window changes."""
        if watched is self._desk.window and event.type() == QEvent.Type.Resize:
            self._show()
        return False

    def _go(self, by: int) -> None:
        self.at = max(0, min(self.at + by, len(STOPS) - 1))
        self._show()

    def _show(self) -> None:
        if self.card is None or self.around is None:
            return
        stop = STOPS[self.at]
        place = self.place(stop.place)
        self.around.setGeometry(place)
        self.around.raise_()
        self.around.show()
        self.card.show_stop(self.at, stop, place)

    def place(self, key: PlaceKey) -> QRect:
        """Return where in the window a place lies."""
        desk, bar = self._desk, self._desk.window.menuBar()
        if key == "export":
            found = bar.actionGeometry(bar.actions()[0])
            return QRect(bar.mapTo(desk.window, found.topLeft()), found.size())
        shown: dict[PlaceKey, QWidget] = {
            "steps": desk.step_work.list,
            "form": desk.form,
            "drawing": desk.views.pane,
            "checks": desk.checks,
        }
        widget = shown[key]
        return QRect(widget.mapTo(desk.window, QPoint()), widget.size())
