"""The window as one meets it without a mouse or without the picture: what a screen reader is told, and how
much of a picture changes.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface, QImage
from PySide6.QtWidgets import QAbstractItemView, QWidget


def told(widget: QWidget) -> Iterator[QAccessibleInterface]:
    """Yield all that is told of a widget and what is in it, as far as it is seen; of lists and tables the
    first few rows.
    """
    yield from _below(QAccessible.queryAccessibleInterface(widget), 0)


def _below(one: QAccessibleInterface, depth: int) -> Iterator[QAccessibleInterface]:
    assert depth < 40
    yield one
    count = one.childCount()
    if isinstance(one.object(), QAbstractItemView):
        count = min(count, 12)
    for at in range(count):
        child = one.child(at)
        if child is not None and not child.state().invisible:  # type: ignore[attr-defined]
            yield from _below(child, depth + 1)


def name_of(one: QAccessibleInterface) -> str:
    """Return what a control is called: by itself, or by the label beside it."""
    widget = one.object()
    if isinstance(widget, QWidget) and one.role() == QAccessible.Role.ComboBox:
        # Its own name is what is chosen in it where the system takes names from labels.
        return widget.accessibleName() if one.text(QAccessible.Text.Description) else ""
    return one.text(QAccessible.Text.Name)


def brightness(window: QWidget, widget: QWidget) -> NDArray[np.float64]:
    """Return the relative luminance of each pixel of a widget in its window (WCAG 2.2)."""
    place = QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())
    picture = window.grab(place).toImage().convertToFormat(QImage.Format.Format_RGB888)
    wide, high = picture.width(), picture.height()
    rows = np.frombuffer(picture.constBits(), np.uint8).reshape(high, picture.bytesPerLine())
    channels = rows[:, : 3 * wide].reshape(high, wide, 3) / 255
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    return linear @ np.array([0.2126, 0.7152, 0.0722])


def contrast(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the contrast of each pixel with itself in another picture (WCAG 2.2, contrast ratio)."""
    ratio: NDArray[np.float64] = (np.maximum(one, other) + 0.05) / (np.minimum(one, other) + 0.05)
    return ratio
