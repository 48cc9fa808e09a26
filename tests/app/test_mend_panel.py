"""Mend all in the window: looked for off the UI thread, shown before it is taken, one edit, one undo."""

import threading

import pytest
from pytestqt.qtbot import QtBot

from rampdraft.app.checklist.mend import WORKING, MendPanel
from rampdraft.app.shell.desk import Desk
from rampdraft.explore.mending import failing
from rampdraft.model.fields.paths import changed
from rampdraft.model.starter import starter_design
from rampdraft.progress import Progress


@pytest.fixture
def thin(desk: Desk) -> Desk:
    desk.document.open(changed(starter_design(), "inner_leaf.slat_thickness_mm", 2.0), None)
    return desk


def found(desk: Desk, qtbot: QtBot) -> MendPanel:
    panel = desk.checks.mend
    panel.ask.click()
    qtbot.waitUntil(lambda: WORKING not in panel.words.text())
    return panel


def test_it_is_offered_only_where_something_fails(desk: Desk, thin: Desk) -> None:
    assert thin.checks.mend.isVisible()
    desk.document.open(starter_design(), None)
    assert not desk.checks.mend.isVisible()


def test_all_is_shown_before_it_is_taken_and_one_undo_takes_it_back(thin: Desk, qtbot: QtBot) -> None:
    before, document = thin.document.design, thin.document
    panel = found(thin, qtbot)
    assert panel.words.text() == "Correct all: 1 edit, after which nothing fails."
    assert "Inner leaf slat thickness 2 →" in panel.edits.toPlainText()
    assert document.design == before
    panel.take.click()
    assert document.evaluation is not None
    assert not failing(document.evaluation)
    assert document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "Correct all"
    document.undo_stack.undo()
    assert document.design == before


def test_an_answer_goes_with_the_ramp_that_it_is_true_of(thin: Desk, qtbot: QtBot) -> None:
    panel = found(thin, qtbot)
    assert panel.take.isVisible()
    thin.document.edit("inner_leaf.slat_thickness_mm", 3.0, "Thickness")
    assert not panel.take.isVisible()
    assert panel.ask.isVisible()


def test_it_can_be_stopped(thin: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    begun, go, ended = threading.Event(), threading.Event(), []

    def slow(evaluation: object, progress: Progress) -> object:
        begun.set()
        go.wait(10)
        try:
            progress(0.5, "1 of 3 mended")
        except BaseException as stop:
            ended.append(type(stop).__name__)
            raise
        raise AssertionError

    monkeypatch.setattr("rampdraft.explore.mending.mend", slow)
    panel = thin.checks.mend
    panel.ask.click()
    qtbot.waitUntil(begun.is_set)
    assert panel.leave.text() == "Stop"
    panel.leave.click()
    go.set()
    qtbot.waitUntil(lambda: ended == ["Cancelled"])
    assert panel.ask.isVisible()
