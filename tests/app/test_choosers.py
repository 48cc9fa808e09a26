"""Long words in a row of lists: whole where one line or two have room, else with an ellipsis and a tip."""

from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from rampdraft.app.choosers import Chooser, ChooserRow

LONG = "2  Somebody with a rather long name in a powered chair"


def row(qtbot: QtBot) -> tuple[QWidget, ChooserRow, Chooser, Chooser, QPushButton]:
    parent = QWidget()
    qtbot.addWidget(parent)
    lists = Chooser(), Chooser()
    for one in lists:
        one.addItems(["1  short", LONG])
    fit = QPushButton("Fit")
    made = ChooserRow((*lists, fit), parent)
    parent.show()
    return parent, made, *lists, fit


def painted(made: ChooserRow, width: int) -> None:
    made.resize(width, made.height())
    made.grab()


def test_one_line_where_all_has_room_and_two_where_not(qtbot: QtBot) -> None:
    parent, made, first, other, fit = row(qtbot)
    wide = 2 * (first.wanted + other.wanted) + fit.sizeHint().width()
    painted(made, wide)
    low = made.height()
    assert first.y() == other.y() == fit.y()
    for one in (first, other):
        one.setCurrentIndex(1)
    painted(made, first.wanted + other.wanted)
    assert other.y() > first.y()
    assert made.height() > low
    assert first.width() >= first.wanted
    assert other.width() >= other.wanted
    assert not first.toolTip()
    parent.close()


def test_what_has_no_room_is_told_by_a_tip(qtbot: QtBot) -> None:
    parent, made, first, other, _ = row(qtbot)
    first.setCurrentIndex(1)
    painted(made, first.wanted // 2)
    assert first.width() < first.wanted
    assert first.toolTip() == LONG
    assert not other.toolTip()
    painted(made, 3 * first.wanted)
    assert not first.toolTip()
    parent.close()
