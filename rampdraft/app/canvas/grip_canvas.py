"""A canvas with grips: what they measure is drawn while they are lit, and what hands do is told."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter
from PySide6.QtWidgets import QLabel, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.canvas.knob import Knob
from rampdraft.app.canvas.painting import Brush, strokes_of
from rampdraft.drawing.grips.grip import Grip, field_of, with_room
from rampdraft.drawing.grips.measured import measured

BESIDE_PX: Final = 15
"""From the pointer to what is told at it."""
CLICK_PX: Final = 8
"""So near at a line a click is at it."""


class GripCanvas(Canvas):
    """Shows grips on its picture. Places are those of the drawing."""

    apart_px = 16
    """Grips nearer to one another than this are not shown beside one another."""

    took = Signal(object)
    """A grip was taken hold of."""
    pulled = Signal(object, bool)
    """The grip in hand was dragged to a place (x, y); finely or not."""
    dropped = Signal()
    """The grip in hand was let go."""
    gave_back = Signal()
    """Esc: what is in hand, or was moved by keys, goes back."""
    nudged = Signal(object, int, int, bool)
    """An arrow key at a grip: steps across and up; finely or not."""
    entered = Signal(object)
    """Enter, or a double click, at a grip."""
    chose = Signal(object)
    """A grip has the cursor now, or None has."""
    set_beside = Signal(object, object, float)
    """A place (x, y) was clicked at while a grip had the cursor; how near is at it, in mm of the drawing."""
    another = Signal(object)
    """Insert, at a grip: another one like it is wanted."""
    removed = Signal(object)
    """Delete, at a grip."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self.knobs: dict[str, Knob] = {}
        self.naming: Callable[[Grip], str] = lambda grip: grip.key
        """What a grip is called, with its value."""
        self.valuing: Callable[[Grip], str] = lambda grip: ", ".join(map(str, grip.values))
        """What its values are."""
        self._in_hand: Knob | None = None
        self._left_for: Grip | None = None
        """The grip that had the cursor until the sheet was pressed."""
        self._offset = QPointF()
        self._words: tuple[str, ...] = ()
        self._words_at = QPointF()
        self._told = QLabel(self, textFormat=Qt.TextFormat.PlainText)
        self._told.setProperty("role", "told")
        self._told.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._told.hide()

    # What is shown

    def show_grips(self, grips: tuple[Grip, ...]) -> None:
        """Show these grips; one in hand stays there even where it is none of them."""
        wanted = {grip.key: grip for grip in grips}
        gone = [key for key, knob in self.knobs.items() if key not in wanted and knob is not self._in_hand]
        for key in gone:
            knob = self.knobs.pop(key)
            knob.hide()
            knob.deleteLater()
        new = [grip for key, grip in wanted.items() if key not in self.knobs]
        for grip in new:
            self.knobs[grip.key] = Knob(self, grip)
        for key, grip in wanted.items():
            knob = self.knobs[key]
            if grip.values != knob.grip.values or not knob.accessibleName():
                knob.setAccessibleName(self.naming(grip))
            knob.grip = grip
        self._stand()
        for grip in new:
            self.knobs[grip.key].show()

    def _stand(self) -> None:
        """Put each grip where it belongs on the screen."""
        view, knobs = self._view(), self.knobs
        focused = next((key for key, knob in knobs.items() if knob.hasFocus() or knob.in_hand), "")
        grips = tuple(knob.grip for knob in knobs.values())
        roomy = {grip.key for grip in with_room(grips, self.apart_px / self._scale, focused)}
        for key, knob in knobs.items():
            knob.stand(view.map(QPointF(*knob.grip.at)), has_room=key in roomy)

    def read_in_order(self, inside: list[QWidget]) -> list[QWidget]:
        """Return grips as the eye goes along the ramp: from the left, and down in a column."""
        return sorted(inside, key=lambda one: (one.x(), one.y()))

    def _view_changed(self) -> None:
        super()._view_changed()
        self._stand()

    def choose(self, key: str) -> None:
        """Give a grip the cursor; with no key, take it from any."""
        if key in self.knobs:
            self.knobs[key].setFocus(Qt.FocusReason.OtherFocusReason)
        elif any(knob.hasFocus() for knob in self.knobs.values()):
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def say(self, words: tuple[str, ...], at: QPointF | None = None) -> None:
        """Show words at the pointer, or at a place in pixels."""
        at = at if at is not None else self._words_at
        self._words, self._words_at = words, at
        self._told.setVisible(bool(words))
        if not words:
            return
        self._told.setText("\n".join(words))
        self._told.adjustSize()
        width, height = self._told.width(), self._told.height()
        x, y = at.x() + BESIDE_PX, at.y() + BESIDE_PX
        x = x if x + width < self.width() - 4 else max(at.x() - BESIDE_PX - width, 4.0)
        y = y if y + height < self.height() - 4 else at.y() - BESIDE_PX - height
        self._told.move(round(x), round(y))
        self._told.raise_()

    def lights(self, grip: Grip) -> bool:
        """Return whether a grip's value is lit, or the list of points that it is one of."""
        lit = self._lit | {self._hovered}
        return any(path in lit or field_of(path) in lit for path in grip.paths)

    # What grips tell

    @property
    def dragging(self) -> bool:
        """Return whether a grip is in hand."""
        return self._in_hand is not None

    def let_go(self) -> None:
        """Drop what is in hand without saying so."""
        if self._in_hand is not None:
            knob, self._in_hand = self._in_hand, None
            knob.let_go()

    def take(self, knob: Knob, at: QPointF) -> None:
        """Take a grip in hand that was pressed at a place in pixels."""
        self._in_hand = knob
        self._offset = self.place_of(at) - QPointF(*knob.grip.at)
        self.took.emit(knob.grip)

    def pull(self, at: QPointF, *, fine: bool) -> None:
        """Drag the grip in hand along to a place in pixels."""
        place = self.place_of(at) - self._offset
        self._words_at = at
        self.pulled.emit((place.x(), place.y()), fine)
        self.pointed.emit(self._hovered)  # it is what it was, its value is another

    def came_to(self, knob: Knob) -> None:
        """Note that a grip has the cursor."""
        self._stand()
        self.chose.emit(knob.grip)
        self._hover(knob.grip.paths[0])

    def left(self, knob: Knob, *, pressed: bool = False) -> None:
        """Note that a grip has lost the cursor; `pressed`: by the mouse."""
        self._left_for = knob.grip if pressed else None
        self.chose.emit(None)
        self._hover("")
        self._stand()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go; a click while a grip has the cursor may set another beside it."""
        grip, self._left_for = self._left_for, None
        if grip is not None and self._grabbed is not None and not self._moved:
            place = self.place_of(event.position())
            self.set_beside.emit(grip, (place.x(), place.y()), CLICK_PX / self._scale)
        super().mouseReleaseEvent(event)

    def point_at(self, knob: Knob | None) -> None:
        """Note which grip the pointer is at; with none, the one with the cursor is lit again."""
        if not self.dragging:
            knob = knob or next((one for one in self.knobs.values() if one.hasFocus()), None)
            self._hover(knob.grip.paths[0] if knob is not None else "")

    def turn(self, step: int) -> None:
        """Give the cursor to the next grip, or the one before."""
        keys = [key for key, knob in self.knobs.items() if knob.isVisible()]
        here = next((keys.index(key) for key in keys if self.knobs[key].hasFocus()), None)
        if keys:
            after = (0 if step > 0 else len(keys) - 1) if here is None else here + step
            self.choose(keys[min(max(after, 0), len(keys) - 1)])

    # Painting

    def _paint_over(self, painter: QPainter, brush: Brush) -> None:
        lit = self._lit | {self._hovered}
        for knob in (one for one in self.knobs.values() if one.grip.measures):
            for path in knob.grip.paths:
                if (path in lit or knob.strong) and path not in self._dimensioned:
                    marks = measured(knob.grip, path, self.per_paper_mm)
                    brush.strokes(strokes_of(marks), frozenset((path,)))
        painter.resetTransform()
        super()._paint_over(painter, brush)
