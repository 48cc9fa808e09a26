"""The lists of the survey page: places that the ramp is put down at, and who uses it; where it is used."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from rampdraft.app.choosers import Chooser
from rampdraft.app.form.entries import Entry, figure_entry, info_at
from rampdraft.app.furniture import across, button, chooser, column, emptied, put_items
from rampdraft.checks.rules.places import USED_AT
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.model.design import Design, Site, WheeledUser
from rampdraft.model.fields.values import numbered
from rampdraft.model.presets import (
    NAMES,
    Preset,
    PresetKind,
    preset_of,
    site_as,
    turned_into,
    usual_site,
)
from rampdraft.model.rolling_shape import of_class, user_classes
from rampdraft.words.say import say

SITES: Final = "sites"
USERS: Final = "use.users"
RULES: Final = "use.rule_sets"
_ELSEWHERE: Final = "Elsewhere: no published rules"


class Rows(QWidget):
    """Rows of one kind, with a list below them to add another from."""

    given = Signal(str, object, str)
    """Path, value, and what was done."""
    turned = Signal()
    """Whether what is typed can be."""

    def __init__(self, add: str, items: Sequence[tuple[str, object]], parent: QWidget) -> None:
        super().__init__(parent)
        self._shown: object = None
        self.entries: list[Entry] = []
        self.add_box: Chooser = chooser(add, self._added, self)
        put_items(self.add_box, [(add, None), *items])
        self._rows = QVBoxLayout()
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(4)
        column(self, (self._rows, 0), (self.add_box, 0), spacing=4)

    @property
    def bad(self) -> bool:
        """Return whether something typed is no value."""
        return any(entry.bad for entry in self.entries)

    def _begin(self) -> None:
        emptied(self._rows)
        self.entries.clear()

    def _put(self, entry: Entry) -> None:
        entry.turned.connect(self.turned)
        self.entries.append(entry)

    def _added(self, row: int) -> None:
        datum = self.add_box.itemData(row)
        self.add_box.setCurrentIndex(0)
        if datum is not None:
            self.add(datum)

    def add(self, datum: object) -> None:
        """Add a row of what was chosen."""
        raise NotImplementedError


class SiteRows(Rows):
    """Places by preset."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(say("Add a place…"), [(say(words), kind) for kind, words in NAMES.items()], parent)
        self._survey: Design | None = None
        self._kinds: list[Chooser] = []
        self._figured: list[int] = []
        """The places, counted from 0, that each entry is of: level ground has none."""

    def show_survey(self, survey: Design) -> None:
        """Show the places of a survey."""
        self._survey = survey
        kinds = tuple((site.name, preset_of(site).kind) for site in survey.sites)
        if kinds != self._shown:
            self._shown = kinds
            self._begin()
            self._kinds.clear()
            self._figured.clear()
            for number, site in enumerate(survey.sites):
                self._rows.addWidget(self._row(number, site, removable=len(kinds) > 1))
        for number, entry in zip(self._figured, self.entries, strict=True):
            entry.show_value(preset_of(survey.sites[number]).value, survey)

    def _row(self, number: int, site: Site, *, removable: bool) -> QWidget:
        kind = preset_of(site).kind
        row = QWidget(self)
        kinds = chooser(
            say("Place {number}, {name}", number=number + 1, name=site.name), partial(self._kind, number), row
        )
        put_items(kinds, [*((say(words), one) for one, words in NAMES.items()), *_as_it_is(kind, site)])
        kinds.setCurrentIndex(kinds.findData(kind))
        kinds.setToolTip(site.name)
        self._kinds.append(kinds)
        parts: list[tuple[QWidget, int]] = [(kinds, 1)]
        if kind in ("kerb", "platform", "fall"):
            entry = figure_entry(f"{SITES}[{number + 1}]", kind, row)
            entry.given.connect(partial(self._value, number))
            self._figured.append(number)
            self._put(entry)
            parts.append((entry, 0))
        if removable:
            parts.append(
                (
                    button(
                        "×", partial(self._leave_out, number), row, say("Leave out {name}", name=site.name)
                    ),
                    0,
                )
            )
        across(*parts, parent=row, margins=(0, 0, 0, 0), spacing=6)
        return row

    def kinds_of(self, number: int) -> Chooser:
        """Return the list of kinds of a place, counted from 0."""
        return self._kinds[number]

    def figure_of(self, number: int) -> Entry:
        """Return the figure of a place that has one, counted from 0."""
        return self.entries[self._figured.index(number)]

    def _sites(self) -> list[Site]:
        assert self._survey is not None
        return list(self._survey.sites)

    def _kind(self, number: int, at: int) -> None:
        sites = self._sites()
        kind: PresetKind = self._kinds[number].itemData(at)
        before = sites[number]
        sites[number] = turned_into(before, kind, {site.name for site in sites} - {before.name})
        if sites[number] != before:
            self.given.emit(SITES, tuple(sites), say("Another place"))

    def _value(self, number: int, value: float) -> None:
        sites = self._sites()
        sites[number] = site_as(Preset(preset_of(sites[number]).kind, value), sites[number])
        self.given.emit(SITES, tuple(sites), say("Another place"))

    def _leave_out(self, number: int, *_: object) -> None:
        sites = self._sites()
        del sites[number]
        self.given.emit(SITES, tuple(sites), say("Leave out a place"))

    def add(self, datum: object) -> None:
        """Add an ordinary place, under a name that is free."""
        sites = self._sites()
        site = usual_site(datum)  # type: ignore[arg-type]  # a list's datum
        name = numbered(site.name, {one.name for one in sites})
        self.given.emit(SITES, (*sites, replace(site, name=name)), say("Add a place"))


def _as_it_is(kind: PresetKind, site: Site) -> tuple[tuple[str, PresetKind], ...]:
    return ((say("{name}, as it is", name=site.name), "own"),) if kind == "own" else ()


class UserRows(Rows):
    """Who uses the ramp, by class and mass."""

    def __init__(self, kept: Sequence[WheeledUser], parent: QWidget) -> None:
        own = [(say("{name} (yours)", name=user.name), user) for user in kept]
        classes = [
            (say(kind.capitalize()), of_class(say(kind.capitalize()), kind)) for kind in user_classes()
        ]
        super().__init__(say("Add a user…"), [*own, *classes], parent)
        self._survey: Design | None = None

    def show_survey(self, survey: Design) -> None:
        """Show the users of a survey."""
        self._survey = survey
        names = tuple((user.name, user.kind) for user in survey.use.users)
        if names != self._shown:
            self._shown = names
            self._begin()
            for number, user in enumerate(survey.use.users, start=1):
                path = f"{USERS}[{number}].mass_kg"
                entry = Entry(path, info_at(path, label=user.name), self, removable=True)
                entry.setToolTip(say("{kind}; mass with occupant or load", kind=say(user.kind.capitalize())))
                entry.given.connect(partial(self._mass, number - 1))
                entry.left_out.connect(partial(self._leave_out, number - 1))
                self._put(entry)
                self._rows.addWidget(entry)
        for entry, user in zip(self.entries, survey.use.users, strict=True):
            entry.show_value(user.mass_kg, survey)

    def _users(self) -> list[WheeledUser]:
        assert self._survey is not None
        return list(self._survey.use.users)

    def _mass(self, number: int, mass_kg: float) -> None:
        users = self._users()
        users[number] = replace(users[number], mass_kg=mass_kg)
        self.given.emit(USERS, tuple(users), say("Another mass"))

    def _leave_out(self, number: int) -> None:
        users = self._users()
        del users[number]
        self.given.emit(USERS, tuple(users), say("Leave out a user"))

    def add(self, datum: object) -> None:
        """Add a user of a class, or one that is kept, under a name that is free."""
        assert isinstance(datum, WheeledUser)
        users = self._users()
        name = numbered(datum.name, {one.name for one in users})
        self.given.emit(USERS, (*users, replace(datum, name=name)), say("Add a user"))


class PlaceRow(QWidget):
    """Where the ramp is used: a kind of place, and whose rules hold there."""

    given = Signal(str, object, str)
    several = Signal()
    """More than one set of rules is wanted."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._titles = {one.key: say(one.title) for one in builtin_rule_sets()}
        self.kinds = chooser(say("Kind of place"), self._kind, self)
        places = [(say(place.words), at) for at, place in enumerate(USED_AT)]
        put_items(self.kinds, [*places, (say(_ELSEWHERE), -1)])
        self.rules = chooser(say("Rules of"), self._rule, self)
        more = button(
            say("Several…"), self.several.emit, self, say("Tick all rules that hold where it will be used")
        )
        beside = across((self.rules, 1), (more, 0), margins=(0, 0, 0, 0), spacing=6)
        column(self, (self.kinds, 0), (beside, 0), spacing=4)

    def show_survey(self, survey: Design) -> None:
        """Show the rule sets of a survey, under the kind of place shown where they are of it."""
        names = survey.use.rule_sets
        shown = self.kinds.currentData()
        fitting = [at for at, place in enumerate(USED_AT) if set(names) <= set(place.rule_sets)]
        if not names:
            place = -1
        elif shown in fitting:
            place = shown
        else:
            place = next(iter(fitting), 1)
        self.kinds.setCurrentIndex(self.kinds.findData(place))
        keys = USED_AT[place].rule_sets if place >= 0 else ()
        items: list[tuple[str, tuple[str, ...]]] = [(self._titles[key], (key,)) for key in keys]
        if names not in [datum for _, datum in items]:
            items.append((", ".join(map(self._called, names)) or say("what is asked of every ramp"), names))
        put_items(self.rules, items)
        self.rules.setCurrentIndex([datum for _, datum in items].index(names))

    def _called(self, name: str) -> str:
        return self._titles.get(name, Path(name).name)

    def _kind(self, row: int) -> None:
        place = self.kinds.itemData(row)
        names = USED_AT[place].rule_sets[:1] if place >= 0 else ()
        self.given.emit(RULES, names, say("Where it is used"))

    def _rule(self, row: int) -> None:
        self.given.emit(RULES, self.rules.itemData(row), say("Where it is used"))
