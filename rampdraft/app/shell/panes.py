"""Where views stand: in tabs, one of them beside the tabs or below, and any in a window of its own."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QByteArray, QRect, QSize, Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QMenu, QPushButton, QSplitter, QTabWidget, QToolButton, QWidget

from rampdraft.app.furniture import across, button, column, label, make, splitter
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.app.shell import settings
from rampdraft.words.say import say

LEAST_PX: Final = 260
ROOMY_PX: Final = 420
"""Narrower than this, two views stand one below the other to begin with."""
APART_SIZE: Final = QSize(760, 560)
SIDE, BELOW = Qt.Orientation.Horizontal, Qt.Orientation.Vertical


class Views(QTabWidget):
    """The views as tabs. Those that stand elsewhere have none; gone to, they come to the front there."""

    arranged = Signal()
    """A view stands elsewhere than before."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, documentMode=True)
        self.setAccessibleName(say("Views"))
        self.tabBar().setAccessibleName(say("Views"))
        for one in self.tabBar().findChildren(QToolButton):
            one.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # arrow keys go through all tabs
        self._names: dict[QWidget, str] = {}
        self._keys: dict[QWidget, str] = {}
        self._apart: dict[QWidget, Apart] = {}
        self.pane = Pane(self)
        self.more = make(QPushButton, say("Arrange"), self, accessibleName=say("Arrange the views"))
        self.more.setToolTip(say("Put a view beside this one, or into a window of its own"))
        self._menu = QMenu(self.more)
        self._menu.aboutToShow.connect(self._list)
        self.more.setMenu(self._menu)
        self.setCornerWidget(self.more)

    def add(self, panel: QWidget, key: str, name: str) -> None:
        """Add a view as the last one; by its key it is remembered where it stands."""
        self._names[panel], self._keys[panel] = name, key
        self.addTab(panel, name)

    @property
    def named(self) -> tuple[tuple[QWidget, str], ...]:
        """Return all views with their names, wherever they stand."""
        return tuple(self._names.items())

    def key_of(self, panel: QWidget) -> str:
        """Return the key of a view."""
        return self._keys.get(panel, "")

    def show_key(self, key: str) -> None:
        """Show the view of a key, where it stands."""
        for panel, its_key in self._keys.items():
            if its_key == key:
                self.setCurrentWidget(panel)

    @property
    def seen(self) -> tuple[QWidget, ...]:
        """Return the views that are shown now."""
        beside = (self.pane.panel,) if self.pane.panel is not None else ()
        return *((self.currentWidget(),) if self.count() else ()), *beside, *self._apart

    def setCurrentWidget(self, panel: QWidget) -> None:
        """Show a view, where it stands."""
        apart = self._apart.get(panel)
        if apart is not None:
            apart.raise_()
            apart.activateWindow()
        elif panel is not self.pane.panel:
            super().setCurrentWidget(panel)

    def put_beside(self, panel: QWidget) -> None:
        """Let a view stand beside the tabs, in the place of the one that stood there."""
        if panel is self.pane.panel or not self._may_leave(panel):
            return
        if self.pane.panel is None and self.pane.width() < 2 * ROOMY_PX:
            self.pane.turn(below=True)
        self._back_to_tabs(self.pane.panel)
        self._out_of_place(panel)
        self.pane.hold(panel, self._names[panel])
        self.arranged.emit()

    def put_apart(self, panel: QWidget, place: QRect | None = None) -> None:
        """Let a view stand in a window of its own."""
        if panel in self._apart or not self._may_leave(panel):
            return
        self._out_of_place(panel)
        window = Apart(panel, self._names[panel], self.put_back, self.window())
        self._apart[panel] = window
        if place is not None:
            window.setGeometry(place)
        window.show()
        self.arranged.emit()

    def put_back(self, panel: QWidget) -> None:
        """Let a view stand in its tab again."""
        self._out_of_place(panel)
        self._back_to_tabs(panel)
        self.arranged.emit()

    def _may_leave(self, panel: QWidget) -> bool:
        """Return whether a view is left in the tabs without it."""
        return self.indexOf(panel) < 0 or self.count() > 1

    def _out_of_place(self, panel: QWidget) -> None:
        apart = self._apart.pop(panel, None)
        if apart is not None:
            apart.release()
        elif panel is self.pane.panel:
            self.pane.release()
        else:
            self.removeTab(self.indexOf(panel))

    def _back_to_tabs(self, panel: QWidget | None) -> None:
        if panel is None:
            return
        if panel is self.pane.panel:
            self.pane.release()
        order = list(self._names)
        left = {self.widget(at) for at in range(self.count())}
        before = sum(one in left for one in order[: order.index(panel)])
        self.insertTab(before, panel, self._names[panel])

    def _list(self) -> None:
        """Fill the menu with what can be done now."""
        menu, here = self._menu, self.currentWidget()
        menu.clear()
        for panel, name in self._names.items():
            if panel is not here and panel is not self.pane.panel:
                menu.addAction(say("{name} beside this", name=name)).triggered.connect(
                    _Call(self.put_beside, panel)
                )
        menu.addSeparator()
        window = menu.addAction(say("{name} in a window of its own", name=self._names.get(here, "")))
        window.triggered.connect(_Call(self.put_apart, here))
        window.setEnabled(self._may_leave(here))

    # Remembered between runs

    def remember(self) -> None:
        """Remember where views stand, and close their windows."""
        beside = self._keys[self.pane.panel] if self.pane.panel is not None else ""
        apart = {self._keys[panel]: one.geometry() for panel, one in self._apart.items()}
        settings.remember_views(beside, self.pane.below, apart)
        settings.remember_state("views", self.pane.sizes())
        for panel in tuple(self._apart):
            self.put_back(panel)

    def arrange_as_remembered(self) -> None:
        """Let views stand where they stood."""
        beside, below, apart = settings.views()
        panels = {key: panel for panel, key in self._keys.items()}
        self.pane.turn(below=below)
        if beside in panels:
            self.put_beside(panels[beside])
        for key, place in apart.items():
            if key in panels:
                self.put_apart(panels[key], place)
        self.pane.restore(settings.state("views"))


class Pane(QWidget):
    """The tabs with room for one more view beside them or below."""

    def __init__(self, views: Views) -> None:
        super().__init__()
        self._views = views
        self.panel: QWidget | None = None
        self.side = QWidget(self)
        self.side.setMinimumSize(LEAST_PX, LEAST_PX // 2)
        self._name = label("", self.side, role="area")
        self.turned = button(say("Below"), self._turn, self.side)
        self.apart = button(say("Window"), self._to_window, self.side, say("In a window of its own"))
        self.close_button = button(say("Close"), self._close, self.side, say("Back among the tabs"))
        for one in (self.turned, self.apart, self.close_button):
            one.setFlat(False)
        head = across(
            (self._name, 1), (self.turned, 0), (self.apart, 0), (self.close_button, 0),
            margins=(0, 2, 8, 2),
        )  # fmt: skip
        self._body = column(self.side, (head, 0))
        self._split: QSplitter = splitter(SIDE, self, (views, 1), (self.side, 1))
        self._split.setChildrenCollapsible(False)
        column(self, (self._split, 1))
        self.side.hide()
        self.turn(below=False)

    @property
    def below(self) -> bool:
        """Return whether the second view stands below the first."""
        return self._split.orientation() == BELOW

    def hold(self, panel: QWidget, name: str) -> None:
        """Show a view beside the tabs."""
        self.panel = panel
        self._name.setText(name)
        self.side.setAccessibleName(say("Beside: {name}", name=name))
        self._body.addWidget(panel, 1)
        panel.show()
        self.side.show()
        if min(self._split.sizes()) == 0:
            self._split.setSizes([1000, 1000])

    def release(self) -> None:
        """Let the view go."""
        if self.panel is not None:
            self._body.removeWidget(self.panel)
            self.panel.hide()
            self.panel = None
        self.side.hide()

    def turn(self, *, below: bool) -> None:
        """Let the second view stand below the first, or on its right."""
        self._split.setOrientation(BELOW if below else SIDE)
        self.turned.setText(say("Beside") if below else say("Below"))
        self.turned.setToolTip(say("Side by side") if below else say("One below the other"))

    def sizes(self) -> QByteArray:
        """Return how the room is shared."""
        return self._split.saveState()

    def restore(self, state: QByteArray | None) -> None:
        """Share the room as it was."""
        if state is not None:
            below = self.below
            self._split.restoreState(state)
            self.turn(below=below)

    def _turn(self) -> None:
        self.turn(below=not self.below)

    def _to_window(self) -> None:
        if self.panel is not None:
            self._views.put_apart(self.panel)

    def _close(self) -> None:
        if self.panel is not None:
            self._views.put_back(self.panel)


class Apart(ReadInOrder, QWidget):
    """A window of one view; closed, the view goes back among the tabs."""

    def __init__(self, panel: QWidget, name: str, back: Callable[[QWidget], object], parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self._panel: QWidget | None = panel
        self._back = back
        self.setWindowTitle(f"{name}: {parent.windowTitle().replace('[*]', '')}")
        self._column = column(self, (panel, 1))
        self.resize(APART_SIZE)
        parent.windowTitleChanged.connect(self._retitle)
        self._name = name
        panel.show()

    def release(self) -> None:
        """Let the view go, and close for good."""
        if self._panel is not None:
            self._column.removeWidget(self._panel)
            self._panel = None
        self.hide()
        self.deleteLater()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Give the view back."""
        event.accept()
        if self._panel is not None:
            self._back(self._panel)

    def _retitle(self, title: str) -> None:
        self.setWindowTitle(f"{self._name}: {title.replace('[*]', '')}")


class _Call:
    """Calls with an argument fixed beforehand, whatever the signal brings."""

    def __init__(self, act: Callable[[QWidget], object], panel: QWidget) -> None:
        self._act, self._panel = act, panel

    def __call__(self, *_: object) -> None:
        self._act(self._panel)
