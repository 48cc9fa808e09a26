"""Prints pages one after the other, each at its true size: a template is cut by."""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QMarginsF, QObject, QRectF, QSizeF, Signal
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from rampdraft.app.answers import Answers
from rampdraft.app.sheets.asking import Leaf, draw_page
from rampdraft.explore.apart import AT_LENGTH

if TYPE_CHECKING:
    from rampdraft.export.pdf.pages import Pixels

DPI: Final = 300.0
_MM_PER_INCH: Final = 25.4


class Printing(QObject):
    """One print at a time. Pages are drawn by a process, and put on paper here as they come."""

    progressed = Signal(int, int)
    """Pages printed, of how many."""
    ended = Signal(bool)
    """Whether all of it was printed."""
    failed = Signal(object)
    """The fault."""

    def __init__(self, answers: Answers, parent: QObject) -> None:
        super().__init__(parent)
        self._line = answers.line("print", AT_LENGTH)
        self._line.came.connect(self._came)
        self._line.failed.connect(self._failed)
        self._printer: QPrinter | None = None
        self._painter = QPainter()
        self._leaves: tuple[Leaf, ...] = ()

    @property
    def going_on(self) -> bool:
        """Return whether something is being printed."""
        return self._printer is not None

    def start(self, printer: QPrinter, leaves: tuple[Leaf, ...]) -> None:
        """Print pages."""
        self._printer, self._leaves = printer, leaves
        printer.setFullPage(True)
        self._ask(0)

    def stop(self) -> None:
        """Print nothing more."""
        self._line.call_off()
        if self._printer is not None:
            self._printer.abort()
            self._end(False)

    def close(self) -> None:
        """Stop, and hear no answers any more."""
        self.stop()
        self._line.came.disconnect(self._came)
        self._line.failed.disconnect(self._failed)

    def _ask(self, at: int) -> None:
        self.progressed.emit(at, len(self._leaves))
        leaf = self._leaves[at]
        self._line.ask(at, draw_page, leaf.pdf, leaf.number, DPI)

    def _came(self, at: int, pixels: "Pixels") -> None:
        if self._printer is None:
            return
        if not self._put(self._printer, self._leaves[at], pixels):
            self._end(False)
        elif at + 1 < len(self._leaves):
            self._ask(at + 1)
        else:
            self._end(True)

    def _put(self, printer: QPrinter, leaf: Leaf, pixels: "Pixels") -> bool:
        """Put a page on a sheet of its size; return whether the printer took it."""
        wide, high = leaf.page.width_mm, leaf.page.height_mm
        size = QPageSize(QSizeF(min(wide, high), max(wide, high)), QPageSize.Unit.Millimeter)
        across = QPageLayout.Orientation.Landscape if wide > high else QPageLayout.Orientation.Portrait
        printer.setPageLayout(QPageLayout(size, across, QMarginsF()))
        if not (printer.newPage() if self._painter.isActive() else self._painter.begin(printer)):
            return False
        self._painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
        per_mm = printer.resolution() / _MM_PER_INCH
        self._painter.drawImage(QRectF(0, 0, wide * per_mm, high * per_mm), image_of(pixels))
        return True

    def _failed(self, _at: int, fault: Exception) -> None:
        if self._printer is not None:
            self._printer.abort()
            self._end(False)
            self.failed.emit(fault)

    def _end(self, whole: bool) -> None:
        self._painter.end()
        self._printer = None
        self.ended.emit(whole)


def image_of(pixels: "Pixels") -> QImage:
    """Return pixels as Qt has them."""
    kind = QImage.Format.Format_BGR888
    # A copy: Qt would look into memory that nobody keeps.
    return QImage(pixels.data, pixels.wide, pixels.high, pixels.stride, kind).copy()
