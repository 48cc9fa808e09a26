"""What will be printed: the pages of all papers with small pictures, to be ticked, and one of them large."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtGui import QAccessible, QIcon, QPixmap, QResizeEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import (
    QDialog,
    QLabel,
    QProgressBar,
    QScrollArea,
    QTreeWidget,
    QTreeWidgetItem,
    QTreeWidgetItemIterator,
    QWidget,
)

from rampdraft.app.answers import Answers
from rampdraft.app.furniture import across, button, column, label, make, splitter, switches
from rampdraft.app.reading_order import ReadInOrder
from rampdraft.app.sheets.asking import Leaf, Paper, draw_page, make_papers
from rampdraft.app.sheets.printing import Printing, image_of
from rampdraft.errors import RampdraftError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH, AT_ONCE
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.export.pdf.pages import Page, Pixels

TITLES: Final = {
    "bench-pack": "Bench pack",
    "check-sheet": "Check sheet",
    "hand-over": "Hand-over",
    "templates": "Templates",
}
"""What a paper is called, by its key, in the order in which they are shown."""
SHOWN: Final = (
    ("Whole page", "Shows the page whole"),
    ("Page width", "Shows the page as wide as there is room"),
)
_SIZE: Final = (1160, 740)
_LIST_WIDE: Final = 330
_ICON: Final = 72
_EDGE: Final = 24
"""Pixels of desk around a page, both sides together."""
_MM_PER_INCH: Final = 25.4
_LEAF: Final = Qt.ItemDataRole.UserRole


class _Room(QScrollArea):
    """Where a page is scrolled, by keys too."""

    spoken_role = QAccessible.Role.Document


class SheetsDialog(ReadInOrder, QDialog):
    """Shows the pages of a design's papers, and prints those that are ticked."""

    def __init__(
        self,
        evaluation: Evaluation,
        answers: Answers,
        printer: Callable[[], QPrinter | None],
        parent: QWidget,
    ) -> None:
        """Begin to make the papers; `printer` asks on which one to print."""
        super().__init__(parent)
        self.setWindowTitle(say("Sheets"))
        self._ask_printer = printer
        self._own = object()
        """Tells the pages of this dialog from those of one before."""
        self._papers = answers.line("sheets", AT_LENGTH)
        self._pages = answers.line("sheet page", AT_ONCE)
        self.printing = Printing(answers, self)
        self.tree = make(
            QTreeWidget, self, accessibleName=say("Pages"), headerHidden=True, uniformRowHeights=False
        )
        self.tree.setIconSize(QSize(_ICON, _ICON))
        self.page = make(QLabel, self, accessibleName=say("Page"), alignment=Qt.AlignmentFlag.AlignCenter)
        self.room = make(_Room, self, accessibleName=say("Page"), alignment=Qt.AlignmentFlag.AlignCenter)
        self.room.setWidget(self.page)
        self.shown = switches(SHOWN, self._draw, self)
        self.words = label(say("Making the sheets…"), self)
        self.bar = make(QProgressBar, self, accessibleName=say("Progress"), textVisible=False)
        self.bar.setFixedHeight(8)
        self.all = button(say("Tick all"), self._tick_all, self, autoDefault=False)
        self.none = button(say("Tick none"), self._tick_none, self, autoDefault=False)
        self.print = button(say("Print…"), self._print, self, autoDefault=False)
        self.back = button(say("Close"), self.reject, self, autoDefault=False)
        self._lay_out()
        self._wire()
        self._papers.ask(evaluation, make_papers, evaluation)
        self._tell()

    def _lay_out(self) -> None:
        left, right = QWidget(self), QWidget(self)
        column(left, (self.tree, 1), (across((self.all, 0), (self.none, 0), (QWidget(left), 1)), 0))
        way = across(*((one, 0) for one in self.shown), (QWidget(right), 1))
        column(right, (way, 0), (self.room, 1))
        parted = splitter(Qt.Orientation.Horizontal, self, (left, 0), (right, 1))
        parted.setChildrenCollapsible(False)
        parted.setSizes([_LIST_WIDE, _SIZE[0] - _LIST_WIDE])
        below = across((self.words, 1), (self.print, 0), (self.back, 0))
        column(self, (parted, 1), (across((self.bar, 1), margins=(10, 6, 10, 0)), 0), (below, 0))
        room = self.screen().availableGeometry()
        self.resize(min(_SIZE[0], room.width() - 20), min(_SIZE[1], room.height() - 40))

    def _wire(self) -> None:
        self._papers.came.connect(self._came)
        self._papers.failed.connect(self._failed)
        self._papers.progressed.connect(self._progress)
        self._pages.came.connect(self._show)
        self.printing.progressed.connect(self._printed)
        self.printing.ended.connect(self._ended)
        self.printing.failed.connect(self._not_printed)
        self.tree.currentItemChanged.connect(self._draw)
        self.tree.itemChanged.connect(self._tell)

    # The papers

    def _progress(self, share: float, key: str) -> None:
        self.bar.setValue(round(100 * share))
        if key in TITLES:
            self.words.setText(say("Making the sheets: {paper}…", paper=say(TITLES[key])))

    def _came(self, _about: Evaluation, papers: tuple[Paper, ...]) -> None:
        branches = [_branch(one) for one in sorted(papers, key=lambda one: list(TITLES).index(one.key))]
        with QSignalBlocker(self.tree):
            self.tree.addTopLevelItems(branches)
        branches[0].setExpanded(True)
        self.tree.setCurrentItem(branches[0].child(0) or branches[0])
        self.tree.setFocus()
        self._tell()

    def _failed(self, _about: Evaluation, fault: Exception) -> None:
        self._tell()
        known = isinstance(fault, RampdraftError)
        self.words.setText(
            say("No sheets: {reason}", reason=fault) if known else say("No sheets: a fault in the program.")
        )

    # Ticking

    @property
    def ticked(self) -> tuple[Leaf, ...]:
        """Return the pages to be printed, in their order."""
        return tuple(
            item.data(0, _LEAF) for item in self._items() if item.checkState(0) == Qt.CheckState.Checked
        )

    def _items(self) -> list[QTreeWidgetItem]:
        """Return the lines of the pages."""
        found: list[QTreeWidgetItem] = []
        lines = QTreeWidgetItemIterator(self.tree)
        while (item := lines.value()) is not None:
            if item.parent() is not None:
                found.append(item)
            lines += 1
        return found

    def _tick_all(self) -> None:
        self._tick(Qt.CheckState.Checked)

    def _tick_none(self) -> None:
        self._tick(Qt.CheckState.Unchecked)

    def _tick(self, state: Qt.CheckState) -> None:
        with QSignalBlocker(self.tree):
            for item in self._items():
                item.setCheckState(0, state)
        self.tree.viewport().update()
        self._tell()

    def _tell(self) -> None:
        making, printing = self._papers.asked is not None, self.printing.going_on
        self.bar.setVisible(making or printing)
        there = self.tree.topLevelItemCount() > 0
        for one in (self.all, self.none):
            one.setEnabled(there and not printing)
        self.tree.setEnabled(not printing)
        ticked = len(self.ticked)
        self.print.setEnabled(printing or ticked > 0)
        self.print.setText(say("Stop printing") if printing else say("Print…"))
        if there and not printing:
            self.words.setText(
                say("To be printed: {count} of {all} pages.", count=ticked, all=len(self._items()))
            )

    # One page large

    def _draw(self) -> None:
        """Have the page in hand drawn as large as it is to be shown."""
        item = self.tree.currentItem()
        leaf = item.data(0, _LEAF) if item is not None else None
        branch = item.parent() if item is not None else None
        if item is None or branch is None or not isinstance(leaf, Leaf):
            return
        self.page.setAccessibleName(", ".join((branch.text(0), *item.text(0).splitlines())))
        room, ratio = self.room.viewport().size(), self.devicePixelRatio()
        scrolled = 0 if self.shown[0].isChecked() else self.room.verticalScrollBar().sizeHint().width()
        per_mm = max(room.width() - _EDGE - scrolled, 1) / leaf.page.width_mm
        if self.shown[0].isChecked():
            per_mm = min(per_mm, max(room.height() - _EDGE, 1) / leaf.page.height_mm)
        dpi = per_mm * _MM_PER_INCH * ratio
        self._pages.want((self._own, id(leaf), dpi), draw_page, leaf.pdf, leaf.number, dpi)

    def _show(self, _about: object, pixels: "Pixels") -> None:
        shown = QPixmap.fromImage(image_of(pixels))
        shown.setDevicePixelRatio(self.devicePixelRatio())
        self.page.setPixmap(shown)
        self.page.adjustSize()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw the page for the room that there is."""
        super().resizeEvent(event)
        self._draw()

    # Printing

    def _print(self) -> None:
        if self.printing.going_on:
            self.printing.stop()
            return
        printer = self._ask_printer()
        if printer is not None:
            self.bar.setValue(0)
            self.printing.start(printer, self.ticked)
            self._tell()

    def _printed(self, done: int, count: int) -> None:
        self.bar.setValue(round(100 * done / count))
        self.words.setText(say("Printing page {number} of {count}…", number=done + 1, count=count))

    def _ended(self, whole: bool) -> None:
        self._tell()
        self.words.setText(say("Printed.") if whole else say("Not all was printed."))

    def _not_printed(self, fault: Exception) -> None:
        self.words.setText(say("Not printed: {reason}", reason=fault))

    def done(self, result: int) -> None:
        """Leave: nobody wants sheets any more."""
        self.printing.close()
        for line in (self._papers, self._pages):
            line.call_off()
        self._papers.came.disconnect(self._came)
        self._papers.failed.disconnect(self._failed)
        self._papers.progressed.disconnect(self._progress)
        self._pages.came.disconnect(self._show)
        super().done(result)


def _branch(paper: Paper) -> QTreeWidgetItem:
    """Return the line of a paper with those of its pages, all ticked."""
    branch = QTreeWidgetItem([say(TITLES[paper.key])])
    branch.setFlags(branch.flags() | Qt.ItemFlag.ItemIsAutoTristate | Qt.ItemFlag.ItemIsUserCheckable)
    for number, page in enumerate(paper.pages):
        line = QTreeWidgetItem(branch, [_name(number + 1, page)])
        line.setToolTip(0, "\n".join(page.titles))
        line.setIcon(0, _icon(page.small))
        line.setData(0, _LEAF, Leaf(pdf=paper.pdf, number=number, page=page))
        line.setCheckState(0, Qt.CheckState.Checked)
    return branch


def _name(number: int, page: "Page") -> str:
    """Return the number of a page, and what it is headed with first."""
    name = say("Page {number}", number=number)
    return f"{name}\n{page.titles[0]}" if page.titles else name


def _icon(pixels: "Pixels") -> QIcon:
    """Return a small picture of a page that no selection tints."""
    picture, icon = QPixmap.fromImage(image_of(pixels)), QIcon()
    for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):
        icon.addPixmap(picture, mode)
    return icon
