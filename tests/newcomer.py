"""Walks two invented jobs through the window as somebody would who has never used it, from New to a ramp in
which nothing fails, and counts actions: `python tests/newcomer.py [NAME]`. A click is one, a value that is
typed is one; choosing from a list is two, for it is opened first.

The search takes as long as it does, so this is a script; `tests/app/test_newcomer.py` walks the survey.
"""

import os
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parent.parent))
    _HOME = tempfile.TemporaryDirectory()
    os.environ |= {
        "QT_QPA_PLATFORM": "offscreen",
        "HOME": _HOME.name,
        "XDG_CONFIG_HOME": _HOME.name,
        "XDG_DATA_HOME": _HOME.name,
    }

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit, QPushButton

from rampdraft.app.form.entries import Entry
from rampdraft.app.proposing.dialog import ProposeDialog
from rampdraft.app.shell.desk import Desk
from rampdraft.checks.result import Result, tally
from rampdraft.checks.steps import STEPS

MOST = 40
LONGEST_S = 900.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What somebody knows of a job before beginning: a survey, in the words of the window."""

    name: str
    kind: str
    rules: str
    values: tuple[tuple[str, str], ...]
    """Paths of the survey page with what is typed there."""
    sites: tuple[tuple[str, str], ...]
    """Kinds of places with their figures; empty for level ground."""
    users: tuple[tuple[str, str], ...]
    """Classes with their masses."""
    gives_way: tuple[tuple[str, str], ...] = ()
    """What somebody gives way in, one after the other, where no ramp is found and the reason names it: paths
    of the page, or classes of users with another mass.
    """


BREAD = Job(
    name="Bread trailer",
    kind="A vehicle open to the public",
    rules="US vehicles, 2016 guidelines",
    values=(
        ("carrier.deck_height_mm", "510"),
        ("carrier.deck_drop_mm", "475"),
        ("carrier.opening_width_mm", "950"),
        ("carrier.stow_height_mm", "2000"),
        ("carrier.stow_out_mm", "280"),
        ("carrier.stow_in_mm", "120"),
        ("use.rated_load_kg", "300"),
    ),
    sites=(("level", ""), ("kerb", "130"), ("fall", "3")),
    users=(("manual wheelchair", "140"), ("powered wheelchair", "240"), ("sack truck", "180")),
    gives_way=(("hands.people", "3"), ("sack truck", "160")),
)
"""The bread trailer: its deck falls from 510 to 475 mm; 2,000 mm above it, for 1,150 holds no such slope. Two
people cannot fold what is found then, nor push 180 kg over its toe: three can, and 160 kg.
"""

POTTER = Job(
    name="Potter's stall",
    kind="Elsewhere: no published rules",
    rules="what is asked of every ramp",
    values=(
        ("carrier.deck_height_mm", "380"),
        ("carrier.deck_drop_mm", "360"),
        ("carrier.opening_width_mm", "1000"),
        ("carrier.stow_height_mm", "1500"),
        ("carrier.stow_out_mm", "260"),
    ),
    sites=(("level", ""), ("platform", "120")),
    users=(("self-propelled wheelchair", "130"), ("pushchair", "60")),
)
"""A potter's market van, low, with a platform at one place."""
JOBS = (BREAD, POTTER)


@dataclass(slots=True)
class Hand:
    """One person's hand: it does what a person does, and counts it."""

    count: int = 0
    steps: list[tuple[str, int]] = field(default_factory=list)

    @contextmanager
    def step(self, words: str) -> Iterator[None]:
        """Count what is done meanwhile under these words."""
        before = self.count
        yield
        self.steps.append((words, self.count - before))

    def press(self, button: QAbstractButton) -> None:
        """Press a button."""
        assert button.isEnabled(), button.text()
        self.count += 1
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def type(self, entry: Entry, text: str) -> None:
        """Type a value, unless it is there already."""
        line = entry.editor.widget
        assert isinstance(line, QLineEdit)
        if line.text() == text:
            return
        self.count += 1
        line.setFocus()
        line.selectAll()
        QTest.keyClicks(line, text)
        QTest.keyClick(line, Qt.Key.Key_Return)

    def choose(self, box: QComboBox, words: str = "", datum: Any = None) -> None:
        """Open a list and choose from it, unless it is chosen already."""
        row = box.findText(words) if words else box.findData(datum)
        assert row >= 0, (words, datum, [box.itemText(at) for at in range(box.count())])
        if row == box.currentIndex():
            return
        self.count += 2
        box.setCurrentIndex(row)
        box.activated.emit(row)


def survey(hand: Hand, dialog: ProposeDialog, job: Job) -> None:
    """Fill in the survey of a job."""
    page = dialog.survey
    with hand.step("where it is used"):
        hand.choose(page.place.kinds, job.kind)
        hand.choose(page.place.rules, job.rules)
    with hand.step("deck, room, load"):
        for path, text in job.values:
            hand.type(page.entry(path), text)
    with hand.step("places"):
        _places(hand, dialog, job)
    with hand.step("users"):
        _users(hand, dialog, job)


def _places(hand: Hand, dialog: ProposeDialog, job: Job) -> None:
    """Turn the places that are there into those of the job; add and leave out."""
    page = dialog.survey
    while len(page.survey.sites) > len(job.sites):
        name = f"Leave out {page.survey.sites[-1].name}"
        hand.press(next(one for one in page.sites.findChildren(QPushButton) if one.toolTip() == name))
    for number, (kind, figure) in enumerate(job.sites):
        if number == len(page.survey.sites):
            hand.choose(page.sites.add_box, datum=kind)
        else:
            hand.choose(page.sites.kinds_of(number), datum=kind)
        if figure:
            hand.type(page.sites.figure_of(number), figure)


def _users(hand: Hand, dialog: ProposeDialog, job: Job) -> None:
    page = dialog.survey
    wanted = [kind for kind, _ in job.users]
    for number in reversed(range(len(page.survey.use.users))):
        if page.survey.use.users[number].kind not in wanted:
            hand.press(page.users.entries[number].off)
    for kind, mass in job.users:
        there = [user.kind for user in page.survey.use.users]
        if kind not in there:
            hand.choose(page.users.add_box, kind.capitalize())
            there = [user.kind for user in page.survey.use.users]
        hand.type(page.users.entries[there.index(kind)], mass)


def walk(desk: Desk, job: Job, longest_s: float = LONGEST_S) -> Hand:
    """Walk a job from New to the last step; the hand that did it has counted."""
    hand = Hand()
    with hand.step("New"):
        hand.count += 1
        desk.filing.new()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    survey(hand, dialog, job)
    ways = iter(job.gives_way)
    while True:
        with hand.step("look for ramps"):
            hand.press(dialog.look)
            wait(lambda: not dialog.looking, longest_s)
        if dialog.proposals.count:
            break
        print(f"  {job.name}: {dialog.words.text()}")
        with hand.step("give way"):
            give_way(hand, dialog, *next(ways))
    with hand.step("take one"):
        buttons = dialog.proposals.findChildren(QPushButton)
        hand.press(next(one for one in buttons if one.text() == "Open this ramp" and one.isVisible()))
    wait(lambda: not desk.checks.rolling_awaited, longest_s)
    fails = tally(desk.checks.known)[Result.FAILS]
    assert not fails, f"{fails} checks fail"
    return hand


def give_way(hand: Hand, dialog: ProposeDialog, what: str, text: str) -> None:
    """Type another value into the survey: of a path, or the mass of a class of users."""
    page = dialog.survey
    kinds = [user.kind for user in page.survey.use.users]
    hand.type(page.users.entries[kinds.index(what)] if what in kinds else page.entry(what), text)


def onward(hand: Hand, desk: Desk) -> None:
    """Go through the steps by what each says is next, until the pack is offered."""
    with hand.step("through the steps to the pack"):
        for step in ("survey", *(step.key for step in STEPS[1:])):
            if desk.step_work.step != step:  # something in the step before is left unjudged: by the list
                hand.count += 1
                desk.step_work.take(step)
            assert desk.step_work.need.kind in ("step", "judge", "pack"), desk.step_work.strip.need.words
            if desk.step_work.need.kind == "step":
                hand.press(desk.step_work.strip.need)
        assert desk.step_work.need.kind == "pack", desk.step_work.strip.need.words


def wait(done: Any, longest_s: float) -> None:
    """Wait until something is done."""
    until = time.monotonic() + longest_s
    while not done() and time.monotonic() < until:
        QTest.qWait(50)
    assert done()


def main() -> None:
    """Walk all jobs and print what was counted."""
    from rampdraft.app.shell.main import application
    from rampdraft.app.shell.window import Window

    app = application()
    window = Window()
    window.resize(1280, 800)
    window.show()
    desk = window.furnish()
    desk.filing.begin()
    app.processEvents()
    for job in (job for job in JOBS if job.name.startswith(tuple(sys.argv[1:]) or "")):
        desk.document.give_up()
        began = time.monotonic()
        hand = walk(desk, job)
        passing = hand.count
        onward(hand, desk)
        print(f"{job.name}: {passing} actions to a ramp in which nothing fails ({MOST} at most)")
        for words, count in hand.steps:
            print(f"  {count:3}  {words}")
        print(f"  {hand.count} with the walk through the steps; {time.monotonic() - began:.0f} s in all")
    window.close_unasked()


if __name__ == "__main__":
    main()
