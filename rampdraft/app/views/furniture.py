"""Widgets that several views have alike: columns, rows of choosers, tables."""

from collections.abc import Iterable, Sequence
from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QButtonGroup,
    QComboBox,
    QHBoxLayout,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rampdraft.app.canvas.canvas import Canvas

RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


def filled(layout: QBoxLayout, parts: Iterable[tuple[QWidget | QBoxLayout, int]]) -> None:
    """Put widgets and rows into a layout without gaps, each with its share of the room left."""
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    for part, share in parts:
        if isinstance(part, QWidget):
            layout.addWidget(part, share)
        else:
            layout.addLayout(part, share)


def column(widget: QWidget, *parts: tuple[QWidget | QBoxLayout, int]) -> None:
    """Stack widgets and rows in a widget without gaps, each with its share of the height left."""
    filled(QVBoxLayout(widget), parts)


def chooser_row(*parts: tuple[QWidget, int], parent: QWidget | None = None) -> QHBoxLayout:
    """Return the row over a drawing, each part with its share of the width left."""
    row = QHBoxLayout() if parent is None else QHBoxLayout(parent)
    filled(row, parts)
    row.setContentsMargins(10, 8, 10, 8)
    row.setSpacing(4)
    return row


def button(text: str, help_text: str, act: object, parent: QWidget) -> QPushButton:
    """Return a button that does `act`, a bound method."""
    made = QPushButton(text, parent)
    made.setToolTip(help_text)
    made.setAccessibleDescription(help_text)
    made.clicked.connect(act)
    return made


def fit_button(canvas: Canvas, parent: QWidget) -> QPushButton:
    """Return the button that shows the whole drawing."""
    return button("Fit", "Show the whole (double click, or 0 on the drawing)", canvas.fit, parent)


def switches(named: Sequence[tuple[str, str]], act: object, parent: QWidget) -> tuple[QPushButton, ...]:
    """Return buttons (text, help) of which one is down, the first to begin with; `act` is called when another
    is pressed.
    """
    group = QButtonGroup(parent)
    made: list[QPushButton] = []
    for text, help_text in named:
        one = QPushButton(text, parent)
        one.setToolTip(help_text)
        one.setCheckable(True)
        group.addButton(one)
        made.append(one)
    made[0].setChecked(True)
    group.buttonClicked.connect(act)
    return tuple(made)


def chooser(name: str, act: object, parent: QWidget) -> QComboBox:
    """Return a list to choose from; long items do not widen it."""
    made = QComboBox(parent)
    made.setAccessibleName(name)
    made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    made.setMinimumContentsLength(16)
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
        for words, datum in items:
            box.addItem(words, datum)
        box.setCurrentIndex(data.index(before) if before in data else 0)


def table(name: str, columns: Sequence[str], parent: QWidget) -> QTableWidget:
    """Return an empty table to be read."""
    made = QTableWidget(0, len(columns), parent)
    made.setHorizontalHeaderLabels(list(columns))
    made.verticalHeader().hide()
    made.verticalHeader().setDefaultSectionSize(made.fontMetrics().lineSpacing() + 8)
    made.horizontalHeader().setDefaultAlignment(LEFT)
    made.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    made.setShowGrid(False)
    made.setTabKeyNavigation(False)
    made.setAccessibleName(name)
    return made


def put_row(
    shown: QTableWidget, row: int, cells: Sequence[str], *, right: Iterable[int], tips: Sequence[str]
) -> None:
    """Write a row; the columns `right` hold numbers."""
    for at, (words, tip) in enumerate(zip(cells, tips, strict=True)):
        item = shown.item(row, at)
        if item is None:
            item = QTableWidgetItem()
            shown.setItem(row, at, item)
            if at in right:
                item.setTextAlignment(RIGHT)
        if item.text() != words:
            item.setText(words)
        if item.toolTip() != tip:
            item.setToolTip(tip)
