"""Rows that can be added, removed and moved: sites, wheeled users, handles, obstacles, stock and others."""

import dataclasses
from typing import Any, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from rampdraft.app.document import Document
from rampdraft.app.furniture import Part, across, button, chooser, column, label, put_items
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.folding.folding import stages_of
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Handle, Material, Obstacle, Price, Stock, Support
from rampdraft.model.fields.paths import one_called, value_at
from rampdraft.model.fields.values import numbered
from rampdraft.model.presets import NAMES, usual_site
from rampdraft.model.section import Section
from rampdraft.words.say import say, within

FIRST: Final[dict[str, Any]] = {
    "handles": Handle(name="joint", leaf="inner", at_mm=1200, above_mm=0),
    "obstacles": Obstacle(
        name="lamp", outline_mm=((20, -140), (60, -140), (60, -100), (20, -100)), left_mm=-500, right_mm=-400
    ),
    "materials": Material(name="own material", kind="steel", density_kg_m3=7850),
    "supports": Support(name="left wheel", kind="spring", back_mm=1200, across_mm=-600),
    "stock": Stock(
        section=Section(kind="box", depth_mm=40, width_mm=20, wall_mm=2),
        material="steel S235",
        length_mm=6000,
    ),
    "prices": Price(item="F1", each=0.1),
}
"""A row to begin with, where there is none to copy."""

PICKED: Final = "use.users"
"""Rows that begin as a class, which is chosen by its picture, and of which a drawing says what to measure."""

SITES: Final = "sites"
"""Rows that begin as an ordinary place."""

LEAST: Final = {"sites": 1}


def with_another(path: str, rows: tuple[Any, ...], evaluation: Evaluation | None) -> tuple[Any, ...]:
    """Return the rows with one more: a copy of the last one, to be changed. A first fold stage brings the
    usual sequence.
    """
    name = path.rpartition(".")[2]
    if not rows and name == "fold_stages":
        return stages_of(evaluation.fold.path) if evaluation is not None else ()
    if not rows:
        return (FIRST[name],)
    last = rows[-1]
    if hasattr(last, "name"):
        taken = {row.name for row in rows} | {material.name for material in materials()}
        last = dataclasses.replace(last, name=numbered(last.name, taken))
    return (*rows, last)


def numbered_name(path: str, number: int) -> str:
    """Return what a row is called, with its number."""
    return f"{one_called(path)} {number}"


class RowHeading(QWidget):
    """Number and name of a row, and what can be done with it."""

    shown = Signal(int)
    """The drawing of what to measure is asked for, of the row of this number."""

    def __init__(
        self,
        document: Document,
        path: str,
        number: int,
        count: int,
        parent: QWidget,
        *,
        narrow: bool = False,
    ) -> None:
        super().__init__(parent)
        self._document, self._path, self._number = document, path, number
        name = numbered_name(path, number)
        heading = label(name, self, styleSheet="font-weight: bold")
        up = button(
            say("Move up"),
            self._move_up,
            self,
            accessibleName=say("Move {name} up", name=name),
            enabled=number > 1,
        )
        remove = button(
            say("Remove"),
            self._take_away,
            self,
            accessibleName=say("Remove {name}", name=name),
            enabled=count > LEAST.get(path, 0),
        )
        parts: tuple[tuple[QWidget, int], ...] = ((up, 0), (remove, 0))
        top = across(*(parts if narrow else ((heading, 1), *parts)), margins=(0, 0, 0, 0), spacing=-1)
        above: tuple[tuple[Part, int], ...] = ((heading, 0),) if narrow else ()
        inside = column(self, *above, (top, 0), margins=(0, 8, 0, 2), spacing=4)
        if path == PICKED:
            tip = say("A drawing that shows what each value is, by its letter")
            named = say("What to measure of {name}", name=name)
            inside.addWidget(button(say("What to measure…"), self._show, self, tip, accessibleName=named))

    def _rows(self) -> tuple[Any, ...]:
        return value_at(self._document.design, self._path) if self._document.design is not None else ()

    def _show(self) -> None:
        self.shown.emit(self._number)

    def _move_up(self) -> None:
        rows, at = list(self._rows()), self._number - 1
        rows[at - 1], rows[at] = rows[at], rows[at - 1]
        self._document.edit(
            self._path,
            tuple(rows),
            say("Move {name} up", name=within(numbered_name(self._path, self._number))),
        )

    def _take_away(self) -> None:
        rows, at = self._rows(), self._number - 1
        self._document.edit(
            self._path,
            (*rows[:at], *rows[at + 1 :]),
            say("Remove {name}", name=within(numbered_name(self._path, self._number))),
        )


class AddRow(QWidget):
    """The button below the rows."""

    wanted = Signal()
    """Another row is to be chosen by its picture."""

    def __init__(self, document: Document, path: str, count: int, parent: QWidget) -> None:
        super().__init__(parent)
        self._document, self._path = document, path
        one = within(one_called(path))
        if path == SITES:
            words = say("Add a {name}…", name=one)

            self.kinds = chooser(words, self._add_place, self)
            self.kinds.setMinimumContentsLength(8)
            put_items(self.kinds, [(words, ""), *((say(words), kind) for kind, words in NAMES.items())])
            column(self, (self.kinds, 0), margins=(0, 8, 0, 8))
            return
        words = (
            say("Change the usual sequence…")
            if path == "fold_stages" and not count
            else say("Add an {name}" if one[0] in "aeiou" else "Add a {name}", name=one)
        )
        column(self, (button(words, self._add, self), 0), margins=(0, 8, 0, 8))

    def _add_place(self, row: int) -> None:
        """Add an ordinary place, under a name that is free."""
        kind, design = self.kinds.itemData(row), self._document.design
        self.kinds.setCurrentIndex(0)
        if kind and design is not None:
            site = usual_site(kind)
            name = numbered(site.name, {one.name for one in design.sites})
            more = (*design.sites, dataclasses.replace(site, name=name))
            self._document.edit(SITES, more, say("Add site"))

    def _add(self) -> None:
        if self._document.design is None:
            return
        if self._path == PICKED:
            self.wanted.emit()
            return
        rows = value_at(self._document.design, self._path)
        evaluation = None if self._document.stale else self._document.evaluation
        more = with_another(self._path, rows, evaluation)
        self._document.edit(self._path, more, say("Add {name}", name=within(one_called(self._path))))
