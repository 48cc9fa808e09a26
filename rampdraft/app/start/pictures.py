"""Pictures of the samples, as they lie beside them."""

from pathlib import Path
from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

_PAPER: Final = "#ffffff"
"""The samples are drawn in dark ink."""
_EDGE: Final = 8


def picture_of(design_file: Path, size: QSize, ratio: float) -> QPixmap:
    """Return the picture that lies beside a design's file, whole and in the middle, on white paper; the bare
    paper where there is none.
    """
    made = QPixmap(size * ratio)
    made.setDevicePixelRatio(ratio)
    made.fill(QColor(_PAPER))
    drawn = QSvgRenderer(str(design_file.with_suffix(".svg")))
    if not drawn.isValid():
        return made
    own = drawn.defaultSize().scaled(
        size.width() - 2 * _EDGE, size.height() - 2 * _EDGE, Qt.AspectRatioMode.KeepAspectRatio
    )
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    left, top = (size.width() - own.width()) / 2, (size.height() - own.height()) / 2
    drawn.render(painter, QRectF(left, top, own.width(), own.height()))
    painter.end()
    return made
