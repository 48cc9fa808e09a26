"""Widgets that are alike in several places: words, buttons, columns, rows of choosers, tables."""

from collections.abc import Iterable, Sequence
from typing import Any, Final, TypeVar

from PySide6.QtCore import QObject, QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QButtonGroup,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.choosers import Chooser
from rampdraft.words.say import say

RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

Margins = tuple[int, int, int, int]
"""Left, top, right, bottom."""
Part = QWidget | QBoxLayout
Share = tuple[Part, int]
"""What stands in a layout, with its share of the room left."""


W = TypeVar("W", bound=QObject)


def make(kind: type[W], *given: Any, role: str = "", **properties: Any) -> W:
    """Return a widget or a layout with Qt's own properties, of its class and of those above it, which the
    stubs do not name; `role` is its look in the style sheet.
    """
    made = kind(*given, **properties)
    if role:
        made.setProperty("role", role)
    return made


def filled(layout: QBoxLayout, parts: Iterable[Share], margins: Margins, spacing: int) -> None:
    """Put widgets and rows into a layout, each with its share of the room left."""
    layout.setContentsMargins(*margins)
    layout.setSpacing(spacing)
    for part, share in parts:
        if isinstance(part, QWidget):
            layout.addWidget(part, share)
        else:
            layout.addLayout(part, share)


def column(widget: QWidget, *parts: Share, margins: Margins = (0, 0, 0, 0), spacing: int = 0) -> QVBoxLayout:
    """Stack widgets and rows in a widget, and return their layout."""
    layout = QVBoxLayout(widget)
    filled(layout, parts, margins, spacing)
    return layout


def across(
    *parts: Share, parent: QWidget | None = None, margins: Margins = (10, 8, 10, 8), spacing: int = 4
) -> QHBoxLayout:
    """Return widgets side by side: the row over a drawing, as it stands."""
    layout = QHBoxLayout() if parent is None else QHBoxLayout(parent)
    filled(layout, parts, margins, spacing)
    return layout


def splitter(orientation: Qt.Orientation, parent: QWidget, *parts: tuple[QWidget, int]) -> QSplitter:
    """Return widgets whose shares of the room can be pulled about."""
    made = QSplitter(orientation, parent, handleWidth=1)
    for number, (part, share) in enumerate(parts):
        made.addWidget(part)
        made.setStretchFactor(number, share)
    return made


def emptied(layout: QBoxLayout) -> None:
    """Take all widgets out of a layout and away."""
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()


def label(
    text: str, parent: QWidget, *, role: str = "", margins: Margins = (0, 0, 0, 0), **more: Any
) -> QLabel:
    """Return a label that wraps; `role` and `more`: see `make`."""
    made = make(QLabel, text, parent, role=role, wordWrap=True, **more)
    made.setContentsMargins(*margins)
    return made


def hairline(parent: QWidget) -> QFrame:
    """Return a level line of one pixel."""
    made = make(QFrame, parent, role="hairline")
    made.setFixedHeight(1)
    return made


def scrolled(inside: QWidget, parent: QWidget, **more: Any) -> QScrollArea:
    """Return the frame in which what is too high for its room is scrolled, along with what has the cursor in
    it; `more`: see `make`.
    """
    made = make(
        QScrollArea,
        parent,
        widgetResizable=True,
        focusPolicy=Qt.FocusPolicy.NoFocus,
        frameShape=QFrame.Shape.NoFrame,
        horizontalScrollBarPolicy=Qt.ScrollBarPolicy.ScrollBarAlwaysOff,
        **more,
    )
    made.setWidget(inside)
    return made


def page(name: str, parent: QWidget, **more: Any) -> QTextBrowser:
    """Return a page of text to be read; `more`: see `make`."""
    made = make(QTextBrowser, parent, accessibleName=name, openLinks=False, **more)
    made.document().setDocumentMargin(10)
    return made


def button(text: str, act: object, parent: QWidget, help_text: str = "", **more: Any) -> QPushButton:
    """Return a button that does `act`, a bound method; `more`: see `make`."""
    made = make(QPushButton, text, parent, toolTip=help_text, accessibleDescription=help_text, **more)
    made.clicked.connect(act)
    return made


def fit_button(canvas: Canvas, parent: QWidget) -> QPushButton:
    """Return the button that shows the whole drawing."""
    return button(say("Fit"), canvas.fit, parent, say("Show the whole (double click, or 0 on the drawing)"))


def switches(named: Sequence[tuple[str, str]], act: object, parent: QWidget) -> tuple[QPushButton, ...]:
    """Return buttons (text, help) of which one is down, the first to begin with; `act` is called when another
    is pressed.
    """
    group = QButtonGroup(parent)
    made = tuple(
        make(QPushButton, say(text), parent, toolTip=say(help_text), checkable=True)
        for text, help_text in named
    )
    for one in made:
        group.addButton(one)
    made[0].setChecked(True)
    group.buttonClicked.connect(act)
    return made


def chooser(name: str, act: object, parent: QWidget) -> Chooser:
    """Return a list to choose from; long items do not widen it."""
    made = make(
        Chooser,
        parent,
        accessibleName=name,
        accessibleDescription=name,  # on some systems a list is called by what is chosen in it
        sizeAdjustPolicy=QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon,
        minimumContentsLength=16,
    )
    made.activated.connect(act)
    return made


def put_items(box: QComboBox, items: Sequence[tuple[str, Any]]) -> None:
    """Put items (words, datum) into a list where they are others than before; what was chosen stays chosen,
    by its datum.
    """
    if list(items) == [(box.itemText(row), box.itemData(row)) for row in range(box.count())]:
        return
    before, data = box.currentData(), [datum for _, datum in items]
    with QSignalBlocker(box):
        box.clear()
        for text, datum in items:
            box.addItem(text, datum)
        box.setCurrentIndex(data.index(before) if before in data else 0)
    box.currentTextChanged.emit(box.currentText())  # its row makes room for it


LOW_LIST_PX: Final = 28
"""So low a list may become where a window lacks height: it scrolls."""


def table(name: str, columns: Sequence[str], parent: QWidget) -> QTableWidget:
    """Return an empty table to be read."""
    made = make(
        QTableWidget,
        0,
        len(columns),
        parent,
        accessibleName=name,
        editTriggers=QAbstractItemView.EditTrigger.NoEditTriggers,
        showGrid=False,
        tabKeyNavigation=False,
        minimumHeight=LOW_LIST_PX,
    )
    made.setHorizontalHeaderLabels([say(one) for one in columns])
    made.verticalHeader().hide()
    made.verticalHeader().setDefaultSectionSize(made.fontMetrics().lineSpacing() + 8)
    made.horizontalHeader().setDefaultAlignment(LEFT)
    return made


def put_row(
    shown: QTableWidget, at_row: int, cells: Sequence[str], *, right: Iterable[int], tips: Sequence[str]
) -> None:
    """Write a row; the columns `right` hold numbers."""
    for at, (text, tip) in enumerate(zip(cells, tips, strict=True)):
        item = shown.item(at_row, at)
        if item is None:
            item = QTableWidgetItem()
            shown.setItem(at_row, at, item)
            if at in right:
                item.setTextAlignment(RIGHT)
        if item.text() != text:
            item.setText(text)
        if item.toolTip() != tip:
            item.setToolTip(tip)
