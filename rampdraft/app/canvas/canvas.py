"""A sheet that shows one Picture: zoom at the pointer, pan, fit, and pointing at what it shows.

Pens and labels keep their size on the screen whatever the zoom. Painted directly rather than by a scene of
items: a picture is replaced whole at each frame of the fold, and nothing on it moves by itself.
"""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from rampdraft.app import theme
from rampdraft.app.canvas.painting import Brush, Stroke, label_box, strokes_of
from rampdraft.drawing.ink import Label, Picture

MARGIN_PX: Final = 24
REACH_PX: Final = 4
"""How near the pointer must come to a line."""
FURTHEST, NEAREST = 0.01, 50.0
"""Pixels a mm: 50 m across a narrow window, and half a mm filling a finger's breadth."""


SHEET_MM: Final = (85.0, 42.0)
"""Width and height of a sheet that dimensions leave room on for a ramp."""


class Canvas(QWidget):
    """Shows a Picture. The view stays where the user put it; until then it fits `box`."""

    pointed = Signal(str)
    """Key of the mark under the pointer, empty for none."""
    picked = Signal(str)
    """Key of the mark that was clicked, empty for none."""
    typed_over = Signal(str, QPointF)
    """Key of the mark that was clicked twice, and where, in pixels: its value is to be typed."""
    scaled = Signal()
    """The user, or the window's size, changed the scale: arrows drawn in mm have another size now."""
    _resized = Signal()

    spoken_role = QAccessible.Role.Canvas

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.told_of: Callable[[str], str] = lambda _: ""
        """What is told of the mark of a key: of a member or a dimension."""
        self.setMouseTracking(True)
        self.setAttribute(
            Qt.WidgetAttribute.WA_OpaquePaintEvent
        )  # it covers its parents, which need no painting then
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.picture: Picture | None = None
        self._strokes: tuple[Stroke, ...] = ()
        self._box: tuple[float, float, float, float] | None = None
        self._dimensioned: frozenset[str] = frozenset()
        """Keys of all that the picture shows."""
        self._lit: frozenset[str] = frozenset()
        self.note = ""
        """What stands on the picture while it is greyed: it is not of the design in hand."""
        self._hovered = ""
        self._scale, self._centre = 1.0, QPointF()
        self.fitted = True
        """The view fits its box, since nobody has moved it."""
        self._grabbed: QPointF | None = None
        self._moved = False
        self._resizing = False
        """It has another size than it is drawn for."""
        self._resized.connect(self._draw_for_size, Qt.ConnectionType.QueuedConnection)

    # What it shows

    def show_picture(self, picture: Picture | None, *, note: str = "") -> None:
        """Show a picture; with a `note` it is greyed and the note stands on it."""
        self.picture, self.note = picture, note
        self._strokes = strokes_of(picture.marks) if picture is not None else ()
        self._dimensioned = frozenset(mark.owner for mark in picture.marks) if picture else frozenset()
        if picture is not None:
            self.setAccessibleDescription(f"{picture.title}. {note}" if note else picture.title)
            if self._box is None:
                self.set_box(picture.box)
        self.update()

    def fit_to(self, make: Callable[[], Picture]) -> Picture:
        """Set the box of what `make` returns, and return it drawn for the scale that results.

        Dimensions are drawn for a scale and take room themselves, so it is found in rounds.
        """
        picture = make()
        for _ in range(3):
            before = self._scale
            self.set_box(picture.box)
            if abs(self._scale - before) < 0.005 * before:
                break
            picture = make()
        return picture

    def set_box(self, box: tuple[float, float, float, float]) -> None:
        """Set what is worth showing, in mm; a view that the user has not moved fits it."""
        self._box = box
        if self.fitted:
            self._fit_box()

    def light(self, owners: frozenset[str]) -> None:
        """Draw the marks of these owners strongly."""
        if owners != self._lit:
            self._lit = owners
            self.update()

    def hint(self, owner: str) -> None:
        """Draw the marks of an owner as if the pointer were at them: it is at what stands for them
        elsewhere.
        """
        if owner != self._hovered:
            self._hovered = owner
            self.update()

    # The view

    def fit(self) -> None:
        """Show the whole box, and keep on doing so."""
        self.fitted = True
        self._fit_box()
        self.scaled.emit()

    def _fit_box(self) -> None:
        if self._box is not None:
            x0, y0, x1, y1 = self._box
            across, up = max(x1 - x0, 1.0), max(y1 - y0, 1.0)
            room = QSize(max(self.width() - 2 * MARGIN_PX, 10), max(self.height() - 2 * MARGIN_PX, 10))
            self._scale = min(room.width() / across, room.height() / up)
            self._centre = QPointF((x0 + x1) / 2, (y0 + y1) / 2)
        self._view_changed()

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Zoom by a factor, keeping the point of the drawing at `at` (pixels) where it is."""
        at = at if at is not None else QPointF(self.rect().center())
        held = self.place_of(at)
        self._scale = min(max(self._scale * factor, FURTHEST), NEAREST)
        self._centre += held - self.place_of(at)
        self.fitted = False
        self._view_changed()
        self.scaled.emit()

    def _view_changed(self) -> None:
        """Paint again: another part of the drawing is seen, or at another scale."""
        self.update()

    @property
    def per_paper_mm(self) -> float:
        """Return how much of the drawing, in mm, a millimetre of paper shows."""
        return self._px_per_mm / self._scale

    @property
    def _px_per_mm(self) -> float:
        """Return how large a millimetre of paper is: larger with larger letters, so that what is drawn for
        them has room.
        """
        return self.logicalDpiX() / 25.4 * self.letters

    @property
    def letters(self) -> float:
        """Return how large letters are, of their size at 100 %: as chosen, as far as a sheet is left for what
        is drawn.
        """
        screen = self.logicalDpiX() / 25.4
        room = min(
            side / screen / least for side, least in zip((self.width(), self.height()), SHEET_MM, strict=True)
        )
        return min(theme.text_scale(), max(room, 1.0))

    @property
    def sheet(self) -> tuple[float, float, float, float]:
        """Return what of the drawing is seen inside the margin, (x0, y0, x1, y1) in its mm."""
        across, up = ((side / 2 - MARGIN_PX / 2) / self._scale for side in (self.width(), self.height()))
        x, y = self._centre.x(), self._centre.y()
        return x - across, y - up, x + across, y + up

    @property
    def room_mm(self) -> tuple[float, float]:
        """Return width and height of the sheet inside its margin, in mm of paper as `per_paper_mm` has it."""
        wide, tall = (max(side - 2 * MARGIN_PX, 10) for side in (self.width(), self.height()))
        return wide / self._px_per_mm, tall / self._px_per_mm

    def _view(self) -> QTransform:
        view = QTransform()
        view.translate(self.width() / 2, self.height() / 2)
        view.scale(self._scale, -self._scale)
        view.translate(-self._centre.x(), -self._centre.y())
        return view

    def place_of(self, at: QPointF) -> QPointF:
        """Return the place of the drawing at a place in pixels."""
        return self._view().inverted()[0].map(at)

    def at_pixels(self, place: tuple[float, float]) -> QPointF:
        """Return where a place of the drawing is, in pixels."""
        return self._view().map(QPointF(*place))

    def owner_at(self, at: QPointF) -> str:
        """Return the key of the topmost mark at a place in pixels."""
        reach, place = REACH_PX / self._scale, self.place_of(at)
        near = QRectF(place.x() - reach, place.y() - reach, 2 * reach, 2 * reach)
        for shape in reversed(self._strokes):
            if isinstance(shape, Label):
                if shape.owner and self._covers(shape, at):
                    return shape.owner
                continue
            if not shape.mark.owner:
                continue
            solid = shape.mark.closed and shape.mark.fill != "none"
            if shape.path.contains(place) if solid else shape.path.intersects(near):
                return shape.mark.owner
        return ""

    def drawn(self) -> list[str]:
        """Return the keys of what is shown that there is something to be told of, each once."""
        owners = dict.fromkeys(mark.owner for mark in self.picture.marks) if self.picture else {}
        return [owner for owner in owners if owner and self.told_of(owner)]

    def place(self, key: str) -> QRect:
        """Return where all marks of a key are, in pixels."""
        view, found = self._view(), QRectF()
        for shape in self._strokes:
            if isinstance(shape, Label) and shape.owner == key:
                found |= label_box(shape, self, self.letters).translated(view.map(QPointF(*shape.at)))
            elif not isinstance(shape, Label) and shape.mark.owner == key:
                found |= view.mapRect(shape.path.boundingRect())
        return found.toAlignedRect()

    def _covers(self, label: Label, at: QPointF) -> bool:
        """Return whether a label is at a place in pixels."""
        turn = QTransform()
        turn.rotate(label.angle_deg)
        return label_box(label, self, self.letters).contains(
            turn.map(at - self._view().map(QPointF(*label.at)))
        )

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the picture."""
        colours = theme.current()
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(colours.paper))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(0.35 if self.note else 1.0)
        brush = Brush(painter, self._view(), colours, self, self.letters)
        self._paint_picture(painter, brush)
        painter.resetTransform()
        painter.setOpacity(1.0)
        self._paint_over(painter, brush)
        painter.end()

    def _paint_picture(self, painter: QPainter, brush: Brush) -> None:
        brush.strokes(self._strokes, self._lit, self._hovered)

    def _paint_over(self, painter: QPainter, brush: Brush) -> None:
        """Paint what lies over the picture: the note, if there is one."""
        if self.note:
            brush.note(self.note)

    # Hands

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep a fitted view fitted; a layout that takes several sizes one after the other is drawn for
        once, before it is painted.
        """
        if not self.fitted:
            self._view_changed()
            return
        self._fit_box()
        if not self._resizing:
            self._resizing = True
            self._resized.emit()

    def _draw_for_size(self) -> None:
        self._resizing = False
        self.scaled.emit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom at the pointer."""
        self.zoom(1.2 ** (event.angleDelta().y() / 120), event.position())
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the sheet."""
        self._grabbed, self._moved = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pan while held, else say what is under the pointer."""
        if self._grabbed is None:
            self._hover(self.owner_at(event.position()))
            return
        step = event.position() - self._grabbed
        if self._moved or step.manhattanLength() > REACH_PX:
            self._moved, self.fitted, self._grabbed = True, False, event.position()
            self._centre -= QPointF(step.x() / self._scale, -step.y() / self._scale)
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self._view_changed()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go; a click that did not pan picks what is there."""
        self.unsetCursor()
        if self._grabbed is not None and not self._moved:
            self.picked.emit(self.owner_at(event.position()))
        self._grabbed = None

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Have what is there typed over; where nothing is, show the whole again."""
        owner = self.owner_at(event.position())
        if owner:
            self.typed_over.emit(owner, event.position())
        else:
            self.fit()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is pointed at any more."""
        self._hover("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Pan with the arrow keys, zoom with + and -, fit with 0."""
        step = 40 / self._scale
        moves = {
            Qt.Key.Key_Left: (-step, 0.0), Qt.Key.Key_Right: (step, 0.0),
            Qt.Key.Key_Up: (0.0, step), Qt.Key.Key_Down: (0.0, -step),
        }  # fmt: skip
        key = Qt.Key(event.key())
        if key in moves:
            self._centre += QPointF(*moves[key])
            self.fitted = False
            self._view_changed()
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(1.25)
        elif key == Qt.Key.Key_Minus:
            self.zoom(0.8)
        elif key == Qt.Key.Key_0:
            self.fit()
        else:
            super().keyPressEvent(event)

    def _hover(self, owner: str) -> None:
        if owner != self._hovered:
            self._hovered = owner
            self.pointed.emit(owner)
            self.update()
