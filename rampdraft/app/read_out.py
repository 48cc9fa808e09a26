"""What a screen reader is told of widgets that the program paints itself: their role, their value, and what
is drawn on them, as children with names.

A widget has this by `spoken_role`, with `spoken_value` where it has a value, and as a `Sheet` where it shows
things by keys. Nothing is worked out until somebody asks.
"""

from collections.abc import Sequence
from typing import Any, Final, Protocol, cast, runtime_checkable

from PySide6.QtCore import QObject, QRect
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QAccessibleWidget, QApplication, QWidget
from shiboken6 import Shiboken

_INSTALLED: Final = "rampdraft_read_out"
_KEPT: Final[list[QAccessibleInterface]] = []
"""Qt deletes them with their widgets; until then nobody else may."""


@runtime_checkable
class Sheet(Protocol):
    """A widget that shows things by keys."""

    def drawn(self) -> Sequence[str]:
        """Return the keys of what it shows that has a name."""
        raise NotImplementedError

    def told_of(self, key: str) -> str:
        """Return what is told of a key."""
        raise NotImplementedError

    def place(self, key: str) -> QRect:
        """Return where it shows a key, in its own pixels."""
        raise NotImplementedError


def begin(app: QApplication) -> None:
    """Let screen readers be told, once for all."""
    if app.property(_INSTALLED) is None:
        app.setProperty(_INSTALLED, True)
        QAccessible.installFactory(_spoken)


def _spoken(_: str, of: QObject) -> QAccessibleInterface | None:
    """Return what tells of a widget, for those that say how."""
    if not isinstance(of, QWidget) or not hasattr(of, "spoken_role"):
        return None
    return _kept(Spoken(of))


def _kept(one: QAccessibleInterface) -> QAccessibleInterface:
    _KEPT[:] = [known for known in _KEPT if Shiboken.isValid(known)]
    _KEPT.append(one)
    return one


class Spoken(QAccessibleWidget):
    """Tells of a widget: first what is drawn on it, then its own widgets."""

    def __init__(self, widget: QWidget) -> None:
        of = cast("Any", widget)
        super().__init__(widget, of.spoken_role)
        self._widget = widget
        self._drawn: dict[str, Drawn] = {}
        widget.destroyed.connect(self._forget)

    def _forget(self) -> None:
        """Let what was drawn go with its sheet."""
        for one in self._drawn.values():
            QAccessible.deleteAccessibleInterface(QAccessible.uniqueId(one))

    def text(self, kind: QAccessible.Text) -> str:
        """Return a name, a value and so on."""
        if kind == QAccessible.Text.Value:
            return str(getattr(self._widget, "spoken_value", ""))
        return super().text(kind)

    def _shown(self) -> list["Drawn"]:
        sheet = self._widget
        if not isinstance(sheet, Sheet):
            return []
        keys = sheet.drawn()
        for key in keys:
            if key not in self._drawn:
                self._drawn[key] = Drawn(sheet, self._widget, key)
                QAccessible.registerAccessibleInterface(_kept(self._drawn[key]))
        return [self._drawn[key] for key in keys]

    def childCount(self) -> int:
        """Return how many there are."""
        return len(self._shown()) + super().childCount()

    def child(self, index: int) -> Any:
        """Return one of them."""
        shown = self._shown()
        return shown[index] if 0 <= index < len(shown) else super().child(index - len(shown))

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """Return which one it is, -1 for none."""
        shown = self._shown()
        if isinstance(child, Drawn):
            return shown.index(child) if child in shown else -1
        at = super().indexOfChild(child)
        return at if at < 0 else at + len(shown)


class Drawn(QAccessibleInterface):
    """Tells of one thing that a sheet shows."""

    def __init__(self, sheet: Sheet, widget: QWidget, key: str) -> None:
        super().__init__()
        self._sheet, self._widget, self._key = sheet, widget, key

    def isValid(self) -> bool:
        """Return whether its sheet is still there."""
        return Shiboken.isValid(self._widget)

    def object(self) -> Any:
        """Return no object: it is only drawn."""
        return None

    def parent(self) -> QAccessibleInterface:
        """Return the sheet's."""
        return QAccessible.queryAccessibleInterface(self._widget)

    def role(self) -> QAccessible.Role:
        """Return that it is a picture of something."""
        return QAccessible.Role.Graphic

    def state(self) -> QAccessible.State:
        """Return an ordinary state."""
        return QAccessible.State()

    def text(self, kind: QAccessible.Text) -> str:
        """Return what is told of it."""
        return self._sheet.told_of(self._key) if kind == QAccessible.Text.Name else ""

    def setText(self, kind: QAccessible.Text, text: str) -> None:
        """Refuse: a drawing's words follow from the design."""
        return

    def rect(self) -> QRect:
        """Return where it is on the screen."""
        place = self._sheet.place(self._key)
        return QRect(self._widget.mapToGlobal(place.topLeft()), place.size())

    def childAt(self, x: int, y: int) -> Any:
        """Return nothing: there is nothing in it."""
        return None

    def child(self, index: int) -> Any:
        """Return nothing: there is nothing in it."""
        return None

    def childCount(self) -> int:
        """Return that there is nothing in it."""
        return 0

    def indexOfChild(self, child: QAccessibleInterface) -> int:
        """Return that nothing is in it."""
        return -1
