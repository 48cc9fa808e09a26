"""The list of the survey page of what lies in the shop: sections with their material, length and pieces."""

from dataclasses import replace
from functools import partial
from typing import Any, Final

from PySide6.QtWidgets import QWidget

from rampdraft.app.form.entries import Entry, info_at
from rampdraft.app.furniture import across, column
from rampdraft.app.proposing.rows import Rows
from rampdraft.model.design import Design, Stock
from rampdraft.model.section import Section
from rampdraft.words.say import say

STOCK: Final = "stock"
_USUAL: Final = (
    ("Hollow section", Section(kind="box", depth_mm=50, width_mm=50, wall_mm=3), "rails"),
    ("Flat bar", Section(kind="flat", depth_mm=60, width_mm=5), "upstands"),
    ("Round bar", Section(kind="round", depth_mm=30, width_mm=30), "fittings"),
    ("Board", Section(kind="timber", depth_mm=28, width_mm=120), "slats"),
)
"""What a row begins with, of the material that such members are made of."""
_BOARD: Final = "timber C24"
_LENGTH_MM: Final = 6000.0


class StockRows(Rows):
    """What lies in the shop. Stock lengths that are bought as needed stand in the form alone."""

    def __init__(self, parent: QWidget) -> None:
        usual = [(say(words), at) for at, (words, *_) in enumerate(_USUAL)]
        super().__init__(say("Add what lies in the shop…"), usual, parent)
        self._survey: Design | None = None
        self._of: list[tuple[int, str]] = []
        """Row of the stock, counted from 0, and field of each entry."""

    def show_survey(self, survey: Design) -> None:
        """Show what lies in the shop by a survey."""
        self._survey = survey
        shown = tuple(number for number, row in enumerate(survey.stock) if row.in_hand)
        if shown != self._shown:
            self._shown = shown
            self._begin()
            self._of.clear()
            for number in shown:
                self._rows.addWidget(self._row(number))
        for (number, name), entry in zip(self._of, self.entries, strict=True):
            entry.show_value(getattr(survey.stock[number], name), survey)

    def _row(self, number: int) -> QWidget:
        row = QWidget(self)
        section, material = self._entry(number, "section", row), self._entry(number, "material", row)
        section.name.hide()
        material.name.hide()
        length = self._entry(number, "length_mm", row, label=say("Length"))
        pieces = self._entry(number, "in_hand", row, label=say("Pieces"), low=1)
        column(
            row,
            (across((section, 0), (material, 1), margins=(0, 0, 0, 0), spacing=6), 0),
            (across((length, 1), (pieces, 1), margins=(0, 0, 0, 0), spacing=6), 0),
            spacing=2,
        )
        return row

    def _entry(self, number: int, name: str, row: QWidget, **other: Any) -> Entry:
        path = f"{STOCK}[{number + 1}].{name}"
        entry = Entry(path, info_at(path, **other), row, removable=name == "in_hand")
        entry.given.connect(partial(self._give, number, name))
        entry.left_out.connect(partial(self._leave_out, number))
        self._of.append((number, name))
        self._put(entry)
        return entry

    def _stock(self) -> list[Stock]:
        assert self._survey is not None
        return list(self._survey.stock)

    def _give(self, number: int, name: str, value: Any) -> None:
        stock = self._stock()
        stock[number] = replace(stock[number], **{name: value})
        self.given.emit(STOCK, tuple(stock), say("Another stock length"))

    def _leave_out(self, number: int) -> None:
        stock = self._stock()
        del stock[number]
        self.given.emit(STOCK, tuple(stock), say("Leave out a stock length"))

    def add(self, datum: object) -> None:
        """Add a section of a kind, one piece of it."""
        assert isinstance(datum, int)
        assert self._survey is not None
        _, section, member = _USUAL[datum]
        material = _BOARD if section.kind == "timber" else getattr(self._survey.made_of, member)
        row = Stock(section=section, material=material, length_mm=_LENGTH_MM, in_hand=1)
        self.given.emit(STOCK, (*self._stock(), row), say("Add a stock length"))
