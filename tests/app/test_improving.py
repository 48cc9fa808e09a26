"""The design in hand made better: in the window, with a stand-in for the search."""

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from rampdraft.app.proposing import improve_dialog as improving
from rampdraft.app.proposing.improve_dialog import NONE, Better, ImproveDialog
from rampdraft.app.shell.desk import Desk
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.results import Proposal, figures_of
from rampdraft.explore.proposals.words import better_words
from rampdraft.model.design import Design, Towards
from rampdraft.model.fields.paths import with_value
from rampdraft.progress import Progress

WIDTH = "inner_leaf.width_mm"


@pytest.fixture
def opened(desk: Desk) -> ImproveDialog:
    desk.propose_work.improve()
    assert desk.propose_work.improving is not None
    return desk.propose_work.improving


def told(design: Design) -> Proposal:
    return Proposal(design=design, figures=figures_of(evaluate(design)))


def look(dialog: ImproveDialog, qtbot: QtBot, words: str) -> None:
    dialog.look.click()
    qtbot.waitUntil(lambda: dialog.words.text().startswith(words))


def test_what_is_found_is_shown_and_one_edit_takes_it(
    desk: Desk, opened: ImproveDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = desk.document.design
    assert before is not None
    thinner = with_value(before, "bridge.thickness_mm", 3.0)
    asked: list[tuple[Towards, tuple[str, ...]]] = []

    def work(
        design: Design, _f: Path | None, towards: Towards, locked: tuple[str, ...], _p: Progress
    ) -> tuple[Better, str]:
        asked.append((towards, locked))
        better = told(design), told(thinner)
        return better, better_words(*better)

    monkeypatch.setattr(improving, "work_out", work)
    assert not opened.take.isEnabled()
    opened.aims.setCurrentIndex(2)
    opened.keeps[WIDTH].click()
    opened.keeps["joint"].click()
    mass = told(before).figures.mass_kg
    look(opened, qtbot, f"{mass:.1f} →")
    assert asked == [("cheap", (WIDTH, "joint"))]
    assert "ridge plate thickness" in opened.changes.toPlainText()
    opened.take.click()
    assert desk.document.design == thinner
    assert desk.propose_work.improving is None
    desk.document.undo_stack.undo()
    assert desk.document.design == before


def test_where_nothing_better_is_found_it_says_so(
    opened: ImproveDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(improving, "work_out", lambda *_: None)
    look(opened, qtbot, NONE)
    assert not opened.take.isEnabled()


def test_another_wish_puts_away_what_was_found(
    opened: ImproveDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = told(replace(opened._design, about=replace(opened._design.about, note="Better")))
    monkeypatch.setattr(improving, "work_out", lambda *_: ((found, found), "better"))
    look(opened, qtbot, "better")
    assert opened.take.isEnabled()
    opened.keeps[WIDTH].click()
    assert not opened.take.isEnabled()
