"""What the tour says, beside the place that it speaks of, with a frame around that."""

from typing import Final

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QPushButton, QWidget

from rampdraft.app import theme
from rampdraft.app.furniture import across, button, column, label
from rampdraft.app.tour.stops import STOPS, Stop
from rampdraft.words.say import say

_WIDE: Final = 340
_AWAY: Final = 14
"""Pixels between the card and the place, or the edge of the window."""


class Around(QFrame):
    """A frame around a place, which takes no clicks."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("tour_around")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)


class Card(QFrame):
    """Says what a place is, with the way on, back and out."""

    went = Signal(int)
    """By how many stops to go on."""
    left = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("tour_card")
        self.setFixedWidth(min(round(_WIDE * theme.text_scale()), parent.width() - 2 * _AWAY))
        self.count = label("", self, role="quiet")
        self.title = label("", self, role="step")
        self.words = label("", self)
        self.back = button(say("Back"), self._go_back, self)
        self.next = button(say("Next"), self._go_on, self)
        self.close_button = button(say("Close"), self.left.emit, self, say("Ends the tour (Esc)"))
        below = across(
            (self.close_button, 0), (QWidget(self), 1), (self.back, 0), (self.next, 0), margins=(0, 6, 0, 0)
        )
        self._lines = column(
            self,
            (self.count, 0),
            (self.title, 0),
            (self.words, 0),
            (below, 0),
            margins=(14, 12, 14, 12),
            spacing=6,
        )
        self._last = False
        for one in (self.close_button, self.back, self.next):
            one.installEventFilter(self)

    def show_stop(self, number: int, stop: Stop, place: QRect) -> None:
        """Say what a stop, counted from 0, is, beside its place in the window."""
        self._last = number == len(STOPS) - 1
        self.count.setText(say("Tour: {number} of {count}", number=number + 1, count=len(STOPS)))
        self.title.setText(say(stop.title))
        self.words.setText(say(stop.words))
        self.back.setEnabled(number > 0)
        self.next.setText(say("Finish") if self._last else say("Next"))
        self.setAccessibleName(f"{self.count.text()}. {say(stop.title)}")
        self.setAccessibleDescription(say(stop.words))
        self.setFixedHeight(self._lines.heightForWidth(self.width()))
        self.move(self._spot(place))
        self.raise_()
        self.show()
        self.next.setFocus(Qt.FocusReason.OtherFocusReason)

    def _spot(self, place: QRect) -> QPoint:
        """Return where it stands: right of its place, left of it, or below, as there is room."""
        room = self.window().rect().adjusted(_AWAY, _AWAY, -_AWAY, -_AWAY)
        wide, high = self.width(), self.height()
        x, y = place.right() + _AWAY, place.top() + _AWAY
        if place.height() < high // 2:
            x, y = place.left(), place.bottom() + _AWAY
        elif x + wide > room.right():
            x = place.left() - _AWAY - wide
        if x < room.left():
            x = place.center().x() - wide // 2
        x = max(room.left(), min(x, room.right() - wide))
        return QPoint(x, max(room.top(), min(y, room.bottom() - high)))

    def _go_back(self) -> None:
        self.went.emit(-1)  # the first stop stays where it is

    def _go_on(self) -> None:
        if self._last:
            self.left.emit()
        else:
            self.went.emit(1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take keys before a button does, which would pass the focus on by arrows and know no Enter."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            return self._took(event.key(), watched)
        return False

    def _took(self, key: int, pressed: QObject) -> bool:
        """Go on and back by arrows, out by Esc, and press what has the focus by Enter."""
        match key:
            case Qt.Key.Key_Escape:
                self.left.emit()
            case Qt.Key.Key_Right:
                self._go_on()
            case Qt.Key.Key_Left:
                self._go_back()
            case Qt.Key.Key_Return | Qt.Key.Key_Enter if isinstance(pressed, QPushButton):
                pressed.click()
            case _:
                return False
        return True
