"""The order in which Tab goes through a window: as the eye reads, from the top, and in a line from the left.

Found from where things stand when the key is pressed, not from the order in which they were made: rows, grips
and offers come and go, and views change their places.
"""

from collections.abc import Iterable, Iterator
from itertools import chain

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


class ReadInOrder:
    """A window in which Tab goes on as the eye does; stands before Qt's class among the bases."""

    def focusNextPrevChild(self, ahead: bool) -> bool:
        """Go on, or back."""
        assert isinstance(self, QWidget)
        return go_on(self, ahead=ahead)


def stops(within: QWidget) -> list[QWidget]:
    """Return all in a widget that Tab goes to, as they are read."""
    return list(_stops(within))


def go_on(window: QWidget, *, ahead: bool) -> bool:
    """Give the cursor to the next stop of a window, or the one before, round its end; return whether there is
    one.
    """
    found, here = stops(window), window.focusWidget()
    if not found:
        return False
    at = found.index(here) if here in found else -1 if ahead else 0
    reason = Qt.FocusReason.TabFocusReason if ahead else Qt.FocusReason.BacktabFocusReason
    found[(at + (1 if ahead else -1)) % len(found)].setFocus(reason)
    return True


def in_lines(widgets: Iterable[QWidget]) -> list[QWidget]:
    """Return widgets of one parent from the top, those of a line from the left. Two are of a line where half
    the lower one's height or more lies beside the other.
    """
    lines: list[list[QWidget]] = []
    for one in sorted(widgets, key=lambda widget: widget.y()):
        place, line = one.geometry(), lines[-1] if lines else []
        if line:
            first = line[0].geometry()
            beside = min(place.bottom(), first.bottom()) - max(place.top(), first.top()) + 1
            if 2 * beside >= min(place.height(), first.height()):
                line.append(one)
                continue
        lines.append([one])
    return list(chain.from_iterable(sorted(line, key=lambda widget: widget.x()) for line in lines))


def _stops(within: QWidget) -> Iterator[QWidget]:
    if within.focusPolicy() & Qt.FocusPolicy.TabFocus and within.focusProxy() is None:
        yield within
    inside = [
        one
        for one in within.children()
        if isinstance(one, QWidget) and not one.isWindow() and one.isVisible() and one.isEnabled()
    ]
    own = getattr(within, "read_in_order", in_lines)
    for one in own(inside):
        yield from _stops(one)
