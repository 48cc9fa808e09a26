"""The window's frame. It stands at once; what is in it is brought in after its first painting, so nobody
waits for it.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, Qt, Signal
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent
from PySide6.QtWidgets import QMainWindow, QMenuBar, QStatusBar, QWidget

from rampdraft.app import cycles
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.app.shell import settings

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk


class Window(ReadInOrder, QMainWindow):
    """A frame, empty until `furnish` puts the desk into it."""

    painted = Signal()
    """It has been painted for the first time. Connect it queued."""

    def __init__(self) -> None:
        super().__init__()
        self.desk: Desk | None = None
        self._was_painted = False
        self.setAcceptDrops(True)
        self.setWindowTitle("Rampdraft[*]")
        geometry = settings.state("geometry")
        if geometry is None or not self.restoreGeometry(geometry):
            room = self.screen().availableGeometry()
            self.resize(min(1400, room.width() - 60), min(900, room.height() - 80))

    def furnish(self) -> "Desk":
        """Put the desk into the frame and return it."""
        from rampdraft.app.shell.desk import Desk

        if self.desk is None:
            self.desk = Desk(self)
        return self.desk

    def furnish_anew(self) -> None:
        """Put another desk into the frame, round the same document: it speaks as is chosen now."""
        before = self.desk
        if before is None:
            return
        from rampdraft.app.shell.desk import Desk

        carried = before.leave()
        self.setMenuBar(QMenuBar(self))
        self.setStatusBar(QStatusBar(self))
        for child in self.children():
            if child not in (self.layout(), self.menuBar(), self.statusBar()):
                if isinstance(child, QWidget):
                    child.hide()
                child.deleteLater()
        self.desk = Desk(self, carried)
        cycles.keep_anew()

    def close_unasked(self) -> None:
        """Close without asking, for a window that was shown for a time only."""
        if self.desk is not None:
            self.desk.document.give_up()
        self.close()
        QCoreApplication.quit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Tell of the first painting."""
        super().paintEvent(event)
        if not self._was_painted:
            self._was_painted = True
            self.painted.emit()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files."""
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the file that was dropped."""
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        if paths and self.desk is not None:
            self.desk.filing.open_path(paths[0])

    def changeEvent(self, event: QEvent) -> None:
        """Look at the files whenever somebody comes back: not every disk tells of its changes."""
        super().changeEvent(event)
        coming = event.type() == QEvent.Type.ActivationChange and self.isActiveWindow()
        if coming and self.desk is not None:
            self.desk.watch.look()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved changes, remember the layout, and wait for the work at hand."""
        if self.desk is not None and not self.desk.clear():
            event.ignore()
            return
        settings.remember_state("geometry", self.saveGeometry())
        event.accept()
