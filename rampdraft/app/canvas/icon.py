"""A small still picture of a drawing, for lists."""

from typing import Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap, QTransform
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.app.canvas.painting import Brush, strokes_of
from rampdraft.drawing.ink import Picture

MARGIN_PX: Final = 4


def icon_of(picture: Picture, size: QSize, mm_per_px: float, widget: QWidget) -> QIcon:
    """Return a picture on a clear ground, standing in the middle of the lower edge, at a scale that is the
    same for all of a list; what would not fit is drawn smaller.
    """
    ratio = widget.devicePixelRatioF()
    drawn = QPixmap(size * ratio)
    drawn.setDevicePixelRatio(ratio)
    drawn.fill(Qt.GlobalColor.transparent)
    x0, y0, x1, y1 = picture.box
    wide, tall = size.width() - 2 * MARGIN_PX, size.height() - 2 * MARGIN_PX
    scale = 1 / max(mm_per_px, (x1 - x0) / wide, (y1 - y0) / tall)
    view = QTransform()
    view.translate(size.width() / 2, size.height() - MARGIN_PX)
    view.scale(scale, -scale)
    view.translate(-(x0 + x1) / 2, -y0)
    painter = QPainter(drawn)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    Brush(painter, view, theme.current(), widget).strokes(strokes_of(picture.marks), frozenset(), "")
    painter.end()
    icon = QIcon()
    for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):  # not tinted where it is chosen
        icon.addPixmap(drawn, mode)
    return icon
