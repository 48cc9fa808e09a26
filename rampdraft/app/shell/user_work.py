"""What is done with wheeled users: one is added by its picture, gets another class, is kept in a list of
one's own.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QObject

from rampdraft.app.shell import settings
from rampdraft.errors import FileError
from rampdraft.files.user_list import keep_user, load_users, take_off
from rampdraft.model.design import Design, UserClass, WheeledUser
from rampdraft.model.fields.paths import info_of, value_at
from rampdraft.model.fields.record import Record
from rampdraft.model.fields.values import numbered
from rampdraft.model.rolling_shape import as_class, own_values
from rampdraft.words.say import say, within

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk

USERS: Final = "use.users"
NAMED: Final = 4
"""So many own values are named in a question; the rest are counted."""


class UserWork(QObject):
    """Asks and tells in the notice over the views; a question goes with the next edit."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk, self._document, self._notice = desk, desk.document, desk.notice
        self._asked: Design | None = None
        """What the question that stands in the notice is about."""
        panel, form = desk.users, desk.form
        form.user_wanted.connect(self.choose)
        form.user_shown.connect(self._show)
        form.class_given.connect(self.change_class)
        form.entered.connect(panel.follow)
        panel.wanted.connect(self.choose)
        panel.keeping.connect(self.keep)
        panel.picker.chose.connect(self.add)
        panel.picker.taken_off.connect(self.take_off)
        self._document.changed.connect(self._outdate)

    @property
    def list_path(self) -> Path:
        """Return where the users are kept: beside the settings."""
        return settings.folder() / "users.toml"

    def choose(self) -> None:
        """Show the pictures to choose another user from."""
        self._desk.settle()
        if self._document.design is not None:
            kept = self._try(say("Your list of users cannot be read."), load_users, self.list_path)
            self._desk.views.setCurrentWidget(self._desk.users)
            self._desk.users.offer(kept or ())

    def add(self, user: WheeledUser) -> None:
        """Add a user, under a name that is free, and put the cursor on the name."""
        design = self._document.design
        if design is None:
            return
        users = design.use.users
        new = replace(user, name=numbered(user.name, {one.name for one in users}))
        self._document.edit(USERS, (*users, new), say("Add {name}", name=new.name))
        self._show(len(users) + 1)
        self._desk.form.reveal(f"{USERS}[{len(users) + 1}].name")

    def _show(self, number: int) -> None:
        self._desk.views.setCurrentWidget(self._desk.users)
        self._desk.users.show_user(number)

    # Another class

    def change_class(self, path: str, kind: UserClass) -> None:
        """Give the user at `path` another class with all its values, after asking where values are the user's
        own.
        """
        design = self._document.design
        assert design is not None
        user: WheeledUser = value_at(design, path)
        own = own_values(user)
        if kind == user.kind:
            return
        if not own:
            self._take(path, as_class(user, kind, keep=False))
            return
        self._notice.tell(
            say(
                "“{name}” is to become a {kind}, and has values of its own: {named}.",
                name=user.name,
                kind=say(kind),
                named=_named(own),
            ),
            (
                (
                    say("All values as of the new class"),
                    say("Fill all"),
                    self._taker(path, user, kind, keep=False),
                ),
                (
                    say("These stay, all others as of the new class"),
                    say("Keep own values"),
                    self._taker(path, user, kind, keep=True),
                ),
                (say("The class stays too"), say("Leave as it was"), self._forget),
            ),
        )
        self._asked = design
        self._notice.buttons[0].setFocus()

    def _taker(self, path: str, user: WheeledUser, kind: UserClass, *, keep: bool) -> Callable[[], None]:
        return partial(self._take, path, as_class(user, kind, keep=keep))

    def _take(self, path: str, user: WheeledUser) -> None:
        before: WheeledUser = value_at(self._document.design, path) if self._document.design else user
        self._forget()
        self._document.edit(path, user, f"“{user.name}”", old=say(before.kind), new=say(user.kind))

    def _outdate(self) -> None:
        if self._asked is not None and self._asked != self._document.design:
            self._forget()

    def _forget(self) -> None:
        if self._asked is not None:
            self._asked = None
            self._notice.dismiss()

    # A list of one's own

    def keep(self, number: int) -> None:
        """Keep a user of the design in the list."""
        self._desk.settle()
        design, here = self._document.design, f"{USERS}[{number}]"
        if design is None:
            return
        if any(problem.key.startswith(f"{here}.") for problem in self._document.problems):
            self._notice.tell(say("Correct the values of this user that are marked on the left first."))
            return
        kept = self._try(say("The user was not kept."), keep_user, value_at(design, here), self.list_path)
        if kept is not None:
            self._desk.say(say("“{name}” is in your list, and is offered with every ramp.", name=kept.name))

    def take_off(self, user: WheeledUser) -> None:
        """Take a user off the list; it can be put back while that is told."""
        left = self._try(say("The user was not taken off."), take_off, user, self.list_path)
        if left is not None:
            self._desk.users.offer(left)
            back = ("", say("Put it back"), partial(self._put_back, user))
            self._notice.tell(
                say("“{name}” is off your list. Ramps that have it keep it.", name=user.name), (back,)
            )

    def _put_back(self, user: WheeledUser) -> None:
        if self._try(say("The user was not put back."), keep_user, user, self.list_path) is not None:
            self._notice.dismiss()
            if self._desk.users.picking:
                self.choose()

    def _try(self, failed: str, work: Callable[..., Any], *given: object) -> Any:
        """Return what some work with the list gives, or None after telling why it failed."""
        try:
            return work(*given)
        except FileError as wrong:
            self._notice.tell(
                say(
                    "{failed} {why}\nNothing was written: {path}",
                    failed=failed,
                    why=wrong,
                    path=self.list_path,
                )
            )
            return None


def _named(own: tuple[str, ...]) -> str:
    """Return own values by their labels: `mass, wheelbase and 3 more`."""
    labels = [within(say(record.label)) for name in own if (record := _record(name)) is not None]
    more = len(labels) - NAMED
    return ", ".join(labels[:NAMED]) + (say(" and {more} more", more=more) if more > 0 else "")


def _record(name: str) -> Record | None:
    info = info_of(f"{USERS}[1].{name}")
    return info.record if info is not None else None
