"""The survey on one page: what ramps are proposed for. Most of it is chosen; little is typed."""

from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from rampdraft.app.form.entries import Entry, Tick, info_at
from rampdraft.app.furniture import column, label, scrolled
from rampdraft.app.proposing.rows import PlaceRow, Rows, SiteRows, UserRows
from rampdraft.app.proposing.stock_rows import StockRows
from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.errors import Problem, RampdraftError
from rampdraft.explore.proposals.survey import require_proposable
from rampdraft.explore.wishes.why import why_not
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.fields.paths import value_at, with_value
from rampdraft.model.fields.values import value_problems
from rampdraft.model.survey import usual_materials
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

_LOADED: Final = "carrier.deck_drop_mm"
_CARRIER: Final = (
    "carrier.deck_height_mm", _LOADED, "carrier.opening_width_mm", "carrier.stow_height_mm",
    "carrier.stow_out_mm", "carrier.stow_in_mm",
)  # fmt: skip
_PEOPLE: Final = "hands.people"
_LOAD: Final = ("use.rated_load_kg", _PEOPLE)
_WISHES: Final = ("wishes.first", "wishes.gentler_than")
_WELDS: Final = "wishes.welds"
_TICKS: Final = ("wishes.lathe", "wishes.buys")
_LOADED_HELP: Final = (
    "Deck surface above the ground with its load aboard and the heaviest user on its edge; as high as empty"
    " for a fixed floor."
)


class SurveyPage(QWidget):
    """Shows a survey and edits it."""

    changed = Signal()
    """The survey is another one, or what is typed is no value any more."""
    several = Signal()
    """More than one set of rules is wanted."""

    def __init__(
        self, survey: Design, folder: Path | None, kept: tuple[WheeledUser, ...], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.survey, self._folder = survey, folder
        self.problems: tuple[Problem, ...] = ()
        """What keeps the survey from being one that ramps can be proposed for."""
        self.why = ""
        """Why no ramp can be as wished for, where that is proved."""
        self._entries: dict[str, Entry] = {}
        self._ticks: dict[str, Tick] = {}
        self._inside = inside = QWidget()
        self.place = PlaceRow(inside)
        self.sites, self.users, self.stock = SiteRows(inside), UserRows(kept, inside), StockRows(inside)
        self.told = label("", self, role="reason", margins=(12, 6, 12, 6))
        self._lay_out(column(inside, margins=(12, 2, 12, 6), spacing=3), inside)
        self._area = scrolled(inside, self)
        column(self, (self._area, 1), (self.told, 0))
        self.place.several.connect(self.several)
        self.place.given.connect(self.give)
        for rows in (self.sites, self.users, self.stock):
            rows.given.connect(self.give)
            rows.turned.connect(self._look)
        self._look()

    def showEvent(self, event: QShowEvent) -> None:
        """Be no narrower than the rows are, whatever the letters: none scrolls sideways."""
        self._area.setMinimumWidth(
            self._inside.minimumSizeHint().width() + self._area.verticalScrollBar().sizeHint().width()
        )

    def _lay_out(self, rows: QVBoxLayout, inside: QWidget) -> None:
        self._section(rows, inside, say("Where it is used"), self.place)
        self._section(rows, inside, say("Deck and room"), *(self._entry(path, inside) for path in _CARRIER))
        self._section(rows, inside, say("Put down at"), self.sites)
        load = (self._entry(path, inside) for path in _LOAD)
        self._section(rows, inside, say("Used by: mass with load or occupant"), self.users, *load)
        ticks = [Tick(path, inside) for path in _TICKS]
        for tick in ticks:
            self._ticks[tick.path] = tick
            tick.given.connect(self._taker(tick.path))
        self._section(rows, inside, say("The shop"), self._entry(_WELDS, inside), *ticks, self.stock)
        self._section(rows, inside, say("Wishes"), *(self._entry(path, inside) for path in _WISHES))
        rows.addStretch(1)

    def _section(self, rows: QVBoxLayout, inside: QWidget, name: str, *parts: QWidget) -> None:
        rows.addWidget(label(f"<b>{name}</b>", inside, margins=(0, 5, 0, 1)))
        for part in parts:
            rows.addWidget(part)

    def _entry(self, path: str, inside: QWidget) -> Entry:
        info = info_at(path, label=say("People who fold it")) if path == _PEOPLE else info_at(path)
        if path == _LOADED:
            info = info_at(
                "carrier.deck_height_mm", label=say("Deck height, loaded"), letter="", help=say(_LOADED_HELP)
            )
        entry = self._entries[path] = Entry(path, info, inside)
        entry.given.connect(self._taker(path))
        entry.turned.connect(self._look)
        return entry

    def _taker(self, path: str) -> Any:
        return lambda value: self.give(path, value)

    def entry(self, path: str) -> Entry:
        """Return the row of a single value."""
        return self._entries[path]

    # What is wished for

    @property
    def good(self) -> bool:
        """Return whether ramps can be looked for: all that is typed is a value, and nothing contradicts."""
        lists: tuple[Rows, ...] = (self.sites, self.users, self.stock)
        bad = any(entry.bad for entry in self._entries.values()) or any(rows.bad for rows in lists)
        return not bad and not self.problems

    def give(self, path: str, value: Any, _what: str = "") -> None:
        """Take a value into the survey."""
        if path == _LOADED:
            value = self.survey.carrier.deck_height_mm - value
        survey = with_value(self.survey, path, value)
        self.survey = _made_of_what_is_welded(survey) if path == _WELDS else survey
        self._look()

    def _look(self) -> None:
        """Look at what is wrong, show all of it, and tell."""
        self.problems = _problems(self.survey, self._folder)
        self.why = "" if self.problems else _why(self.survey, self._folder)
        self._show()
        self.changed.emit()

    def _show(self) -> None:
        survey = self.survey
        self.place.show_survey(survey)
        self.sites.show_survey(survey)
        self.users.show_survey(survey)
        self.stock.show_survey(survey)
        named: set[str] = set()
        for path, entry in self._entries.items():
            wrong = tuple(problem for problem in self.problems if problem.key == path)
            named |= {problem.key for problem in wrong}
            value = value_at(survey, path)
            entry.show_value(
                survey.carrier.deck_height_mm - value if path == _LOADED else value, survey, wrong
            )
        supported = bool(survey.supports)
        self._entries[_LOADED].setEnabled(not supported)
        self._entries[_LOADED].name.setText(
            say("Deck height, loaded (from the supports)") if supported else say("Deck height, loaded")
        )
        for path, tick in self._ticks.items():
            tick.show_value(value_at(survey, path))
        rows = len(survey.stock)
        self._ticks["wishes.buys"].setText(
            say("Sections may be bought, beside the {count} in stock", count=rows)
        )
        others = [problem.text() for problem in self.problems if problem.key not in named]
        self.told.setText("\n".join(others) or self.why)
        self.told.setVisible(bool(self.told.text()))


def _made_of_what_is_welded(survey: Design) -> Design:
    """Return a survey whose rails are of a metal that the shop welds: as they were, where they are."""
    welds = survey.wishes.welds
    if welds == "both" or material_named(survey, survey.made_of.rails).kind == welds:
        return survey
    return replace(survey, made_of=usual_materials(survey.wishes, survey.stock, survey.materials))


def _problems(survey: Design, folder: Path | None) -> tuple[Problem, ...]:
    carrier = survey.carrier
    if carrier.deck_drop_mm < 0:
        rule, way_out = (
            say("is higher than empty"),
            say("give {height} or less", height=fixed(carrier.deck_height_mm, 0, "mm")),
        )
        return (Problem(key=_LOADED, value="", rule=rule, way_out=way_out),)
    wrong = value_problems(_LOADED, info_at(_LOADED), carrier.deck_drop_mm)
    if wrong:
        most = replace(
            wrong[0], rule=say("is too far below empty"), way_out=say("the drop {rule}", rule=wrong[0].rule)
        )
        return (most,)
    try:
        require_proposable(survey)
        rule_sets_for(survey, folder)
    except RampdraftError as fault:
        return fault.problems or (Problem(key="", value="", rule=str(fault)),)
    return ()


def _why(survey: Design, folder: Path | None) -> str:
    rule_sets = rule_sets_for(survey, folder)
    why = why_not(survey, rule_sets)
    return why_not_words(why, survey, rule_sets) if why is not None else ""
