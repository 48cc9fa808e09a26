"""The job's steps lead: the one in hand says which values, views and checks are shown, and what is next."""

import re
from typing import TYPE_CHECKING, Final, get_args

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QLabel, QWidget

from rampdraft.app.checklist.check_list import grey
from rampdraft.app.furniture import across, column, hairline, make
from rampdraft.app.shell import settings
from rampdraft.app.steps.find_field import FindField
from rampdraft.app.steps.finding import Thing, things
from rampdraft.app.steps.step_list import EVERYTHING, StepList
from rampdraft.app.steps.strip import StepStrip
from rampdraft.checks.step_words import need_words
from rampdraft.checks.steps import BY_KEY, STEPS, Need, ViewKey, need_of, standing, step_of_kind
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk

_OF_SITE: Final = re.compile(r"sites\[(\d+)\]")
JUDGING: Final = "The checks are being worked out."
WAIT: Final = "Nothing fails so far; rolling is being worked out."
_ROLLED: Final = "own/roll-width"
"""A kind of check that is there once rolling is worked out."""


class StepWork(QObject):
    """Holds the step in hand."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk, self._document = desk, desk.document
        self.need = Need(kind="pack")
        self.list = StepList(desk.window)
        self.find = FindField(self._things, desk.window)
        self.strip = StepStrip(self.find, desk.window)
        self.step = ""
        self.list.chose.connect(self.take)
        self.find.took.connect(self.go_to)
        self.strip.wanted.connect(self.go_on)
        desk.form.step_wanted.connect(self.take)
        desk.form.entered.connect(self._follow)
        desk.checks.judged.connect(self._tell)
        self.take(settings.step())

    def framed(self, areas: QWidget) -> QWidget:
        """Return the three areas with the line over them and the steps beside them."""
        frame, side = QWidget(self._desk.window), QWidget(self._desk.window)
        column(side, (make(QLabel, say("Steps", "job"), side, role="area"), 0), (self.list, 1))
        beside = across((side, 0), (areas, 1), margins=(0, 0, 0, 0), spacing=0)
        column(frame, (self.strip, 0), (hairline(frame), 0), (beside, 1))
        return frame

    def take(self, step: str) -> None:
        """Take a step into hand: its values, views and checks are shown; empty for everything."""
        desk, known = self._desk, BY_KEY.get(step)
        self.step = step if known is not None else ""
        settings.remember_step(self.step)
        self.list.show_step(self.step)
        desk.form.show_step(self.step)
        desk.checks.show_step(self.step)
        shown = known.views if known is not None else get_args(ViewKey)
        panels: list[QWidget] = [getattr(desk, key) for key in shown]
        if desk.views.currentWidget() not in panels:
            desk.views.setCurrentWidget(panels[0])
        for at in range(desk.views.count()):
            desk.views.setTabVisible(at, desk.views.widget(at) in panels)
        self._tell()

    def go_on(self) -> None:
        """Go to what the step in hand needs next."""
        need = self.need
        if need.kind == "step":
            self.take(need.key)
        elif need.kind == "pack":
            self._desk.filing.export()
        elif need.check is not None:
            self.go_to("check", need.check.id)
        elif need.key:
            self._desk.form.reveal(need.key)

    def go_to(self, kind: str, key: str) -> None:
        """Go to a value by its path, a check by its id, a part by the key of its member, and light it."""
        desk = self._desk
        if kind == "value":
            desk.form.reveal(key)
        elif kind == "check":
            check = next((check for check in desk.checks.known if check.id == key), None)
            if check is not None and self.step:
                self.take(step_of_kind(check.about.kind))
            desk.checks.open_check(key)
        else:
            desk.light_member(key)

    def go_find(self) -> None:
        """Put the cursor into the field that finds anything."""
        self.find.setFocus()
        self.find.selectAll()

    def _follow(self, path: str) -> None:
        """Show the site that a value with the cursor is of."""
        found = _OF_SITE.match(path)
        if found is not None:
            self._desk.side.show_site(int(found[1]), "empty")

    def _things(self) -> tuple[Thing, ...]:
        document = self._document
        if document.design is None:
            return ()
        return things(document.design, document.evaluation, self._desk.checks.known)

    def _tell(self) -> None:
        """Say how the steps stand, and what the one in hand needs next."""
        design, problems, checks = self._document.design, self._document.problems, self._desk.checks.known
        if design is None:
            return
        keys = ("", *(step.key for step in STEPS))
        awaited = self._desk.checks.rolling_awaited
        waiting = frozenset(key for key in keys if awaited and key and BY_KEY[key].has_kind(_ROLLED))
        grey(self.list, not self._document.whole)
        self.list.show_standing({key: standing(key, problems, checks) for key in keys}, waiting)
        self.need = need_of(self.step, design, problems, checks)
        title = BY_KEY[self.step].name if self.step else say(EVERYTHING)
        known = not awaited or self.need.kind not in ("step", "pack") or bool(self.need.fails)
        told = self._document.whole or bool(problems)
        words = say(JUDGING) if not told else need_words(self.need) if known else say(WAIT)
        self.strip.show_need(title, words, goes=known and told)
