"""The wheeled users that somebody measured and keeps for other ramps: a TOML file of their own.

format = "rampdraft user list"
version = 1

[[user]]
name = "Red scooter"
"""

import contextlib
import os
from dataclasses import replace
from pathlib import Path
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.files.design_file import check_header, header_text, table_text
from rampdraft.files.design_reader import read_rows
from rampdraft.files.text_file import read_text, write_whole
from rampdraft.files.toml_lines import parse_toml
from rampdraft.model.design import WheeledUser
from rampdraft.model.fields.paths import fields_of
from rampdraft.model.fields.values import MOST_ROWS, numbered, value_problems
from rampdraft.words.say import say

KIND: Final = "user list"
VERSION: Final = 1


def load_users(path: str | os.PathLike[str]) -> tuple[WheeledUser, ...]:
    """Return the users in a list, none where there is no such file.

    Raises FileError with every problem found, each with key and line.
    """
    return _read(read_text(path), os.path.basename(path)) if os.path.lexists(path) else ()


def _read(text: str, name: str) -> tuple[WheeledUser, ...]:
    toml = parse_toml(text, name)
    check_header(toml, KIND, VERSION)
    rows = {key: value for key, value in toml.data.items() if key not in ("format", "version")}
    users, problems = read_rows(toml, rows, "user", WheeledUser)
    if problems:
        raise FileError(say("{name} cannot be read as a list of users.", name=toml.name), problems)
    return users


def keep_user(user: WheeledUser, path: str | os.PathLike[str]) -> WheeledUser:
    """Put a user into the list at `path`, and return it under the name that it has there: one that is in the
    list already, of another user, gets a number.

    What is in the list stays in it: raises FileError, and writes nothing, where it cannot be read or written.
    """
    users = load_users(path)
    if user in users:
        return user
    name = numbered(user.name, {one.name for one in users})
    kept = replace(user, name=name)
    _save((*users, kept), path)
    return kept


def take_off(user: WheeledUser, path: str | os.PathLike[str]) -> tuple[WheeledUser, ...]:
    """Take a user off the list at `path`, and return who is left.

    Raises FileError, and writes nothing, as `keep_user` does.
    """
    left = tuple(one for one in load_users(path) if one != user)
    _save(left, path)
    return left


def _text(users: tuple[WheeledUser, ...]) -> str:
    rows = (f"\n[[user]]\n{table_text(WheeledUser, user, 'user')}" for user in users)
    return header_text(KIND, VERSION) + "".join(rows)


def _save(users: tuple[WheeledUser, ...], path: str | os.PathLike[str]) -> None:
    wrong = [
        problem
        for user in users
        for info in fields_of(WheeledUser)
        for problem in value_problems(info.name, info, getattr(user, info.name))
    ]
    if len(users) > MOST_ROWS:
        wrong.append(
            Problem(key="user", value="", rule=say("must stand at most {most} times", most=MOST_ROWS))
        )
    if wrong:
        raise FileError(say("Nothing was kept: the list would not be one that can be read."), wrong)
    text = _text(users)
    if os.path.lexists(path):
        from rampdraft.files.kept_text import keeping

        old = read_text(path)
        text = keeping(old, text, _text(_read(old, "")), lambda text: _read(text, "") == users)
    with contextlib.suppress(OSError):  # a folder that is missing is told by what follows
        Path(path).parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, text.encode("utf-8"))
