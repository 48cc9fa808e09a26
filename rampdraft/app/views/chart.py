"""The strips under the scrubber: clearance and hand force over the fold, with the stages and the place
shown.
"""

import math
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QMouseEvent, QPainter, QPaintEvent, QResizeEvent, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from rampdraft.app import theme
from rampdraft.app.canvas.painting import Brush, Stroke, strokes_of
from rampdraft.drawing.charts import Strip, strip_cursor, strip_ground
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.handling.words import hands_words
from rampdraft.rounding import greatest
from rampdraft.words.figures import exact, fixed
from rampdraft.words.say import say

REACH_PX: Final = 6
"""How near a marked place must be pressed."""
EDGE_PX: Final = 7
"""Half the scrubber's handle: share 0 and 1 lie under the middle of the handle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a strip says."""

    name: str
    said: str
    """For a screen reader."""
    unit: str
    decimals: int
    limits: str
    extreme: str
    """The place that counts most, in words."""
    sampled: bool = False
    """Whether the curve is only about right between its points."""
    gap: str = ""
    """What is said where the curve is broken."""

    def at(self, strip: Strip, share: float, known: float | None = None) -> str:
        """Return the value at a share in words; `known` where the curve only comes near it."""
        now = strip.value(share) if known is None else known
        if math.isnan(now):
            return f"{self.name}: {self.gap}"
        if now > strip.top:
            return say("{name}: over {top}", name=self.name, top=exact(strip.top, self.unit))
        is_exact = (
            not self.sampled
            or known is not None
            or any(share == point for run in strip.runs for point, _ in run)
        )
        about = "" if is_exact else say("about ")
        return f"{self.name}: {about}{fixed(now, self.decimals, self.unit)}"


def clearance_told(evaluation: Evaluation) -> Told:
    """Return what the strip of the clearance says."""
    tightest = evaluation.fold.clearance.tightest
    least = fixed(tightest.clearance_mm, 1, "mm")
    demanded = say("{clearance} demanded", clearance=exact(evaluation.design.fold.clearance_mm, "mm"))
    place = say("at {share} of the way", share=fixed(100 * tightest.at, 0, "%"))
    return Told(
        name=say("Clearance"),
        said=say(
            "Least {least}, {what}, {place}; {demanded}",
            least=least,
            what=tightest.what,
            place=place,
            demanded=demanded,
        ),
        unit="mm",
        decimals=1,
        limits=demanded,
        extreme=say("least {least}", least=least),
        sampled=True,
    )


def force_told(evaluation: Evaluation, strip: Strip) -> Told:
    """Return what the strip of the hand force says."""
    peak, worst = evaluation.fold.hand.peak, greatest(evaluation.hands, lambda stage: stage.share)
    size = say("peak {force} at the {handle}", force=fixed(peak.peak_n, 0, "N"), handle=say(peak.handle))
    return Told(
        name=say("Hand force"),
        said=(
            say(
                "Peak {force} at the {handle}, at {share} of the way; {hands}",
                force=fixed(peak.peak_n, 0, "N"),
                handle=say(peak.handle),
                share=fixed(100 * peak.at, 0, "%"),
                hands=hands_words(worst),
            )
        ),
        unit="N",
        decimals=0,
        limits="; ".join(words for _, words in strip.limits),
        extreme=size,
    )


class Chart(QWidget):
    """Paints a strip with a cursor. Pressing or dragging goes to a place; a marked one is easily hit."""

    went = Signal(float)
    """Share of the path that was pressed."""

    spoken_role = QAccessible.Role.Chart

    def __init__(self, name: str, parent: QWidget | None = None, *, grows: bool = False) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        upright = QSizePolicy.Policy.Expanding if grows else QSizePolicy.Policy.Maximum
        self.setSizePolicy(QSizePolicy.Policy.Expanding, upright)
        self._grows, self._lines = grows, 3.3 if grows else 4.4
        self.strip: Strip | None = None
        self._told: Told | None = None
        self._ground: tuple[Stroke, ...] | None = None
        """The strip without its cursor, ready to be painted at this size."""
        self._share = 0.0
        self._known: float | None = None
        self._greyed = False

    @property
    def spoken_value(self) -> str:
        """Return what the strip says at its cursor."""
        if self.strip is None or self._told is None:
            return ""
        return self._told.at(self.strip, self._share, self._known)

    def sizeHint(self) -> QSize:
        """Return a strip with a line of words and, of so many lines, the rest for the curve."""
        return QSize(200, int(self.fontMetrics().lineSpacing() * self._lines))

    def minimumSizeHint(self) -> QSize:
        """Return room for the line of words: where a window lacks height, the curve gives way. Of those that
        grow there are too many for that.
        """
        return QSize(200, 0 if self._grows else self._words_px + EDGE_PX)

    @property
    def _words_px(self) -> int:
        return self.fontMetrics().height() + 6

    def show_strip(self, strip: Strip | None, told: Told | None = None, *, greyed: bool = False) -> None:
        """Show a strip with what it says, or none."""
        self.strip, self._told, self._greyed, self._ground = strip, told, greyed, None
        said = told.said if told is not None else ""
        self.setAccessibleDescription(said)
        self.setToolTip(said)
        self.update()

    def set_share(self, share: float, known: float | None = None) -> None:
        """Move the cursor; `known` is the value there, where the curve only comes near it."""
        self._share, self._known = share, known
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw the strip for another size."""
        self._ground = None

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the strip, its words and the cursor."""
        painter = QPainter(self)
        colours = theme.current()
        painter.fillRect(self.rect(), QColor(colours.paper))
        if self.strip is None or self._told is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(0.4 if self._greyed else 1.0)
        self._paint_words(painter, self.spoken_value, self._told)
        if self.height() >= 2 * self._words_px:
            self._paint_strip(painter, self.strip)

    def _paint_strip(self, painter: QPainter, strip: Strip) -> None:
        view = QTransform.fromTranslate(0, self.height())
        view.scale(self.logicalDpiX() / 25.4, -self.logicalDpiX() / 25.4)
        room = QRectF(self.rect()).adjusted(EDGE_PX, self._words_px, -EDGE_PX, -5)
        room = view.inverted()[0].mapRect(room)
        frame = room.left(), room.top(), room.right(), room.bottom()
        if self._ground is None:
            self._ground = strokes_of(strip_ground(strip, frame))
        brush = Brush(painter, view, theme.current(), self)
        brush.strokes(self._ground)
        brush.strokes(strokes_of(strip_cursor(strip, self._share, frame, self._known)))

    def _paint_words(self, painter: QPainter, here: str, told: Told) -> None:
        """Paint the line over the curve: what it is and how much here, and the limits, with the extreme where
        there is room.
        """
        metrics, colours = painter.fontMetrics(), theme.current()
        base = 3 + metrics.ascent()
        painter.setPen(QColor(colours.ink))
        painter.drawText(QPointF(EDGE_PX, base), here)
        room = self.width() - 3 * EDGE_PX - metrics.horizontalAdvance(here) - 12
        dashed = say("dashed: {limits}", limits=told.limits) if told.limits else ""
        right = next(
            (
                words
                for words in (f"{told.extreme}; {dashed}".strip("; "), dashed or told.extreme)
                if metrics.horizontalAdvance(words) <= room
            ),
            metrics.elidedText(told.limits or told.extreme, Qt.TextElideMode.ElideRight, room),
        )
        painter.setPen(QColor(colours.quiet))
        painter.drawText(QPointF(self.width() - EDGE_PX - metrics.horizontalAdvance(right), base), right)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to the place pressed, or to a marked one beside it."""
        pressed = self._share_at(event)
        marked = (self.strip.marked, *self.strip.besides) if self.strip is not None else ()
        near = REACH_PX / max(self.width() - 2 * EDGE_PX, 1)
        found = [share for share, value in marked if abs(share - pressed) <= near and not math.isnan(value)]
        self.went.emit(min(found, key=lambda share: abs(share - pressed), default=pressed))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer while a button is held."""
        self.went.emit(self._share_at(event))

    def _share_at(self, event: QMouseEvent) -> float:
        share = (event.position().x() - EDGE_PX) / max(self.width() - 2 * EDGE_PX, 1)
        return min(max(share, 0.0), 1.0)
