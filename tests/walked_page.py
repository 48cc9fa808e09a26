"""Reads a page that leads somebody through the window, step by step, and does what it says on the window: so
the page is kept true, and its pictures show what it tells.

What the steps, its numbered items, say is done in the order in which it stands there:

    Click **Look for ramps**.                        a button, a tab, or a list's first row of this name
    Go on to **Size**.                               a step of the job
    Click **Apply** beside **Inner leaf length**.    the button in one row with these words
    Click **File**, then **New**.                    a menu
    Type `450` at **Deck height**.                   a value, by its label
    Type `1380` at **Inner leaf**, **Length**.       the same, in a group of the form
    Choose **Pushchair** at **Add a user…**.         from a list
    Leave out **Book barrow**.                       the cross in its row
    Read **cut-list.csv**.                           a file of the workshop pack

All else that is set bold or as code in a step must be seen then: in the window, or in the file that is read.
"""

import re
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from html import unescape
from itertools import islice, takewhile
from pathlib import Path
from typing import Final, TypeVar

from newcomer import Hand
from pypdf import PdfReader
from PySide6.QtCore import QEvent, QModelIndex, QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QLabel,
    QLineEdit,
    QListView,
    QMenu,
    QPushButton,
    QTabBar,
    QTextBrowser,
    QWidget,
)

from rampdraft.app.form.dimensions import Section
from rampdraft.app.shell.desk import Desk
from rampdraft.app.views.chart import Chart

_BOLD: Final = r"\*\*(.+?)\*\*"
_CODE: Final = r"`(.+?)`"
_ACTS: Final = (
    ("click", rf"Click {_BOLD}((?:, then {_BOLD})*)(?: beside {_BOLD})?"),
    ("go on", rf"Go on to {_BOLD}"),
    ("type", rf"Type {_CODE} at {_BOLD}(?:, {_BOLD})?"),
    ("choose", rf"Choose {_BOLD} at {_BOLD}"),
    ("leave out", rf"Leave out {_BOLD}"),
    ("read", rf"Read {_BOLD}"),
)
_UNIT: Final = re.compile(r", (?:mm|kg|N|°|%|N mm/°)$")
"""Behind a label, where the form is narrow."""
_ACT: Final = re.compile("|".join(f"(?:{pattern})" for _, pattern in _ACTS))
W = TypeVar("W", bound=QWidget)


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """Something to do."""

    kind: str
    given: tuple[str, ...]
    """What is clicked, typed or chosen first, then where; as it stands on the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A numbered step of the page, or a picture."""

    line: int
    told: tuple[Act | str, ...] = ()
    """What is done, and words that are seen then."""
    picture: str = ""


def items_of(text: str) -> tuple[Item, ...]:
    """Return the steps and pictures of a page, in order."""
    items: list[Item] = []
    lines = text.splitlines()
    for at, line in enumerate(lines):
        picture = re.match(r"!\[.+\]\((.+)\)", line)
        if picture is not None:
            items.append(Item(line=at + 1, picture=picture[1]))
        elif re.match(r"\d+\. ", line):
            more = takewhile(lambda rest: rest.startswith("   "), lines[at + 1 :])
            words = " ".join((line.partition(". ")[2], *(rest.strip() for rest in more)))
            items.append(Item(line=at + 1, told=tuple(_told(words))))
    return tuple(items)


def _told(words: str) -> Iterator[Act | str]:
    """Yield what a step says, in order."""
    at = 0
    for found in (*_ACT.finditer(words), None):
        between = words[at : found.start() if found is not None else len(words)]
        yield from (bold or code for bold, code in re.findall(f"{_BOLD}|{_CODE}", between))
        if found is not None:
            yield _act(found[0])
            at = found.end()


def _act(told: str) -> Act:
    for kind, pattern in _ACTS:
        found = re.fullmatch(pattern, told)
        if found is not None and kind == "click":
            chain = tuple(re.findall(_BOLD, told.partition(" beside ")[0]))
            return Act(
                kind="menu" if len(chain) > 1 else "click", given=(*chain, *filter(None, found.groups()[3:]))
            )
        if found is not None:
            return Act(kind=kind, given=tuple(filter(None, found.groups())))
    raise AssertionError(told)


@dataclass(frozen=True, slots=True, kw_only=True)
class Walker:
    """Does on a window what a page says."""

    desk: Desk
    pack: Path
    """The folder that the workshop pack is exported into."""
    told: Callable[[], Iterable[str]]
    """What dialogs have said."""
    picture: Callable[[QWidget, str], None]
    """Takes the picture of what is in front."""
    longest_s: float = 120.0
    """So long anything is waited for; what never comes is told then."""

    def walk(self, items: Sequence[Item]) -> None:
        """Do all steps, and look for all that is told."""
        for item in items:
            read = ""
            for told in item.told:
                try:
                    if isinstance(told, str):
                        self._see(told, read)
                    else:
                        self._do(told)
                        read = told.given[0] if told.kind == "read" else ""
                except AssertionError as wrong:
                    raise AssertionError(f"line {item.line}: {told}: {wrong}") from wrong
            if item.picture:
                self._wait(lambda: self._settled, "the window is still working")
                self.picture(self._front, item.picture)

    # What is there

    @property
    def _front(self) -> QWidget:
        """Return the dialog in front, or the window."""
        open_ones = [
            one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog) and one.isVisible()
        ]
        return open_ones[-1] if open_ones else self.desk.window

    @property
    def _settled(self) -> bool:
        return self._front is not self.desk.window or (
            self.desk.document.whole and not self.desk.checks.rolling_awaited
        )

    def _there(self, kind: type[W]) -> list[W]:
        return [one for one in self._front.findChildren(kind) if one.isVisible()]

    def _see(self, words: str, read: str) -> None:
        wanted = re.compile(rf"(?<![\w.]){re.escape(words)}(?!\w|\.\d)")
        if read:
            text = plain(file_text(self.pack / read))
            assert wanted.search(text), f"does not stand in it: {text}"
            return
        self._wait(lambda: self._settled and any(map(wanted.search, self._texts())), "is not seen")

    def _texts(self) -> Iterator[str]:
        """Yield all words that can be read in front."""
        yield from map(plain, self.told())
        for label in self._there(QLabel):
            yield plain(label.text())
        for button in self._there(QAbstractButton):
            yield plain(button.text())
        for line in self._there(QLineEdit):
            yield plain(line.text())
        for box in self._there(QComboBox):
            yield plain(box.currentText())
        for page in self._there(QTextBrowser):
            yield plain(page.toPlainText())
        for chart in self._there(Chart):
            yield f"{chart.accessibleName()}: {plain(chart.accessibleDescription())}"
        for bar in self._there(QTabBar):
            yield from (bar.tabText(at) for at in range(bar.count()) if bar.isTabVisible(at))
        for view in self._there(QAbstractItemView):
            yield from (text for _, text in cells(view))

    # What is done

    def _do(self, act: Act) -> None:
        {
            "menu": self._menu,
            "click": self._click,
            "go on": self._go_on,
            "type": self._type,
            "choose": self._choose,
            "leave out": self._leave_out,
            "read": self._read,
        }[act.kind](*act.given)
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)  # no row of before is found

    def _menu(self, *names: str) -> None:
        actions: list[QAction] = self.desk.window.menuBar().actions()
        for name in names:
            action = one([each for each in actions if plain(each.text()) == name], name)
            assert action.isEnabled()
            inside = action.menu()
            if isinstance(inside, QMenu):
                inside.aboutToShow.emit()
                actions = inside.actions()
            else:
                action.trigger()

    def _click(self, name: str, beside: str = "") -> None:
        def found() -> list[Callable[[], None]]:
            buttons = [
                each
                for each in self._there(QAbstractButton)
                if f"{plain(each.text())}: ".startswith(f"{name}: ")
            ]
            if beside:
                buttons = [each for each in buttons if beside in row_text(each)]
            return [
                *(_presser(each) for each in buttons if each.isEnabled()),
                *(() if beside else self._tabs(name)),
                *(() if beside else self._rows(name)),
            ]

        self._wait(lambda: bool(found()), "is not there to be clicked")
        one(found(), name)()

    def _tabs(self, name: str) -> Iterator[Callable[[], None]]:
        for bar in self._there(QTabBar):
            for at in range(bar.count()):
                if bar.isTabVisible(at) and plain(bar.tabText(at)) == name:
                    yield _clicker(bar, bar.tabRect(at).center())

    def _rows(self, name: str) -> Iterator[Callable[[], None]]:
        for view in self._there(QAbstractItemView):
            if view is not self.desk.step_work.list:
                found = (
                    index for index, text in cells(view) if re.match(rf"{re.escape(name)}(?:[:,]|$)", text)
                )
                yield from (_row_clicker(view, index) for index in islice(found, 1))

    def _go_on(self, name: str) -> None:
        steps = self.desk.step_work.list
        rows = [index for index, text in cells(steps) if text.partition(":")[0] == name]
        _row_clicker(steps, one(rows, name))()

    def _type(self, text: str, *where: str) -> None:
        line = self._line(where)
        line.setFocus()
        line.selectAll()
        QTest.keyClicks(line, text)
        QTest.keyClick(line, Qt.Key.Key_Return)

    def _line(self, where: Sequence[str]) -> QLineEdit:
        """Return where a value is typed, by its label, or by the list in its row."""
        inside: QWidget = self._front
        if len(where) > 1:
            section = one(
                [each for each in self._there(Section) if each.heading.accessibleName() == where[0]], where
            )
            if not section.heading.isChecked():
                section.heading.click()
            inside = section
        name = where[-1]
        lines = [
            buddy
            for label in inside.findChildren(QLabel)
            if label.isVisible() and _UNIT.sub("", plain(label.text())) == name
            if isinstance(buddy := label.buddy(), QLineEdit)
        ]
        for box in inside.findChildren(QComboBox):
            if box.isVisible() and plain(box.currentText()) == name:
                lines += [each for each in box.parentWidget().findChildren(QLineEdit) if each.isVisible()]
        return one(lines, name)

    def _choose(self, words: str, where: str) -> None:
        boxes = [
            each
            for each in self._there(QComboBox)
            if plain(each.currentText()) == where or each.accessibleName() == where
        ]
        Hand().choose(one(boxes, where), words)

    def _leave_out(self, name: str) -> None:
        crosses = [each for each in self._there(QPushButton) if plain(each.text()) == "×"]
        Hand().press(one([each for each in crosses if name in row_text(each)], name))

    def _read(self, name: str) -> None:
        self._wait((self.pack / name).exists, "is not in the pack")

    def _wait(self, done: Callable[[], bool], why: str) -> None:
        until = time.monotonic() + self.longest_s
        while not done():
            assert time.monotonic() < until, f"{why}; seen are:\n" + "\n".join(self._texts())
            time.sleep(0.1)  # QTest.qWait would hold the lock that threads want, which answer
            QApplication.processEvents()


T = TypeVar("T")


def one(found: Sequence[T], name: object) -> T:
    """Return the only thing found."""
    assert len(found) == 1, f"{len(found)} are called {name}"
    return found[0]


def cells(view: QAbstractItemView) -> Iterator[tuple[QModelIndex, str]]:
    """Yield the cells of a list or a table with what they say."""
    model = view.model()
    none = QModelIndex()
    columns = 1 if isinstance(view, QListView) else model.columnCount(none)
    for row in range(model.rowCount(none)):
        for column in range(columns):
            index = model.index(row, column)
            yield index, plain(str(index.data() or ""))


def row_text(button: QWidget) -> str:
    """Return what stands in one row with a button."""
    row = button.parentWidget()
    words = [plain(each.text()) for each in row.findChildren(QLabel)]
    return "\n".join([*words, *(plain(each.currentText()) for each in row.findChildren(QComboBox))])


def plain(text: str) -> str:
    """Return words as they are read: without marks for keys and markup, and with plain spaces."""
    bare = unescape(re.sub(r"<[^<>]*>", " ", text)) if "<" in text else text
    return re.sub(
        r"[\s\u00a0\u202f\u2009]+", " ", bare.replace("&&", "\0").replace("&", "").replace("\0", "&")
    ).strip()


def file_text(path: Path) -> str:
    """Return what stands in a file of the pack."""
    if path.suffix == ".pdf":
        return "\n".join(page.extract_text() for page in PdfReader(path).pages)
    return path.read_text(encoding="utf-8")


def _presser(button: QAbstractButton) -> Callable[[], None]:
    return lambda: Hand().press(button)


def _clicker(widget: QWidget, at: QPoint) -> Callable[[], None]:
    return lambda: QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=at)


def _row_clicker(view: QAbstractItemView, index: QModelIndex) -> Callable[[], None]:
    view.scrollTo(index)
    return _clicker(view.viewport(), view.visualRect(index).center())
