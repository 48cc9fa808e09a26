"""Somebody who does anything in any order: no fault, and nothing shown that is not of the design in hand."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from stand_in import answers

from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.dialogs import Answer, Conflict
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import value_at, walk
from rampdraft.model.fields.record import Dim


def number_of(desk: Desk, chance: random.Random) -> tuple[str, float, float, float]:
    """Return a number of the design, chosen by chance, with what it may be."""
    design = desk.document.design
    assert design is not None
    found = [
        (path, info.record.low, info.record.high, value)
        for path, info, value in walk(design)
        if isinstance(info.record, Dim) and isinstance(value, float)
    ]
    return chance.choice(found)


def edit(desk: Desk, chance: random.Random) -> None:
    path, low, high, value = number_of(desk, chance)
    new = min(
        high, max(low, value * chance.choice((0.9, 0.99, 1.01, 1.1, 2.0)) + chance.choice((-1.0, 0.0, 1.0)))
    )
    desk.document.edit(path, new, "Change")


def type_nonsense(desk: Desk, chance: random.Random) -> None:
    path, _, _, _ = number_of(desk, chance)
    desk.document.refuse(path, chance.choice(("12 parrots", "", "1,2,3", "=1+1")), "is no number")


def undo(desk: Desk, _: random.Random) -> None:
    desk.document.undo_stack.undo()


def redo(desk: Desk, _: random.Random) -> None:
    desk.document.undo_stack.redo()


def look(desk: Desk, chance: random.Random) -> None:
    desk.views.setCurrentIndex(chance.randrange(desk.views.count()))


def save(desk: Desk, _: random.Random) -> None:
    desk.filing.save()


def save_as(desk: Desk, chance: random.Random) -> None:
    path = answers(desk).save_path
    assert path is not None
    answers(desk).save_path = path.with_name(f"ramp{chance.randrange(3)}.toml")
    desk.filing.save_as()


def open_sample(desk: Desk, chance: random.Random) -> None:
    desk.filing.open_sample(chance.choice(sample_paths()))


def meddle(desk: Desk, chance: random.Random) -> None:
    """Change the file under the program's hands."""
    path = desk.document.path
    if path is not None and path.exists():
        text = path.read_text(encoding="utf-8")
        path.write_text(chance.choice((f"{text}# by another\n", "broken = [", text)), encoding="utf-8")


def begin(desk: Desk, _: random.Random) -> None:
    desk.filing.new()


ACTIONS: tuple[Callable[[Desk, random.Random], None], ...] = (
    *(edit,) * 6,
    *(undo, redo, look, save, save_as, open_sample, meddle, begin, type_nonsense),
)


def shown_is_of_the_design(desk: Desk) -> None:
    document = desk.document
    assert document.design is not None
    if document.stale:
        return
    assert document.evaluation is not None
    assert document.evaluation.design == document.design
    assert value_at(document.design, "about.name") == document.evaluation.design.about.name
    assert desk.window.isWindowModified() == document.modified


@pytest.mark.parametrize(
    ("seed", "count"), [(7, 40), pytest.param(8, 10_000, marks=pytest.mark.soak)], ids=["short", "soak"]
)
def test_anything_in_any_order(desk: Desk, qapp: QApplication, tmp_path: Path, seed: int, count: int) -> None:
    chance, done = random.Random(seed), set[str]()
    answers(desk).save_path = tmp_path / "ramp.toml"
    for _ in range(count):
        answers(desk).leave = chance.choice(tuple(Answer))
        answers(desk).over = chance.choice(tuple(Conflict))
        action = chance.choice(ACTIONS)
        action(desk, chance)
        done.add(action.__name__)
        qapp.processEvents()
        shown_is_of_the_design(desk)
    assert len(done) > 5
