"""The ways out below the working of a failing check: found off the UI thread, applied as one edit, taken back
by undo.
"""

import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from rampdraft.app.checklist.ways_out import NONE, WAYS, WORKING, WaysOutPanel
from rampdraft.app.form.format import change_words
from rampdraft.app.shell.desk import Desk
from rampdraft.checks.result import Check
from rampdraft.drawing.ink import Label
from rampdraft.explore.ways_out.results import Effect, WayOut
from rampdraft.explore.ways_out.words import effect_words
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import changed, value_at
from rampdraft.model.section import parse_section
from rampdraft.progress import Progress

GUARD = "us-vehicle-2016/edge-guards/inner-leaf"
START = "own/roll-start"
SLOPE = "us-vehicle-2016/slope-ground/site-1-empty"


@pytest.fixture
def steep(desk: Desk) -> Desk:
    path = next(path for path in sample_paths() if path.stem == "too-steep")
    desk.document.open(load_design(path), path, path.parent)
    return desk


def check_of(desk: Desk, check_id: str) -> Check:
    found = desk.document.evaluation
    assert found is not None
    return next(check for check in found.checks if check.id == check_id)


def opened(desk: Desk, check_id: str) -> WaysOutPanel:
    panel = desk.checks
    panel.list.setCurrentIndex(panel.model.row_of(check_id))
    return panel.ways_out


def waited(qtbot: QtBot, ways: WaysOutPanel) -> tuple[QPushButton, ...]:
    qtbot.waitUntil(lambda: WORKING not in ways.words.text())
    return ways.buttons


def test_opening_a_failing_check_offers_what_cures_it(steep: Desk, qtbot: QtBot) -> None:
    ways = opened(steep, GUARD)
    assert ways.isVisible()
    assert WORKING in ways.words.text()
    (button,) = waited(qtbot, ways)
    assert button.text() == "Apply"
    assert button.accessibleName().startswith("Apply: Inner leaf edge upstand height 30 → 51 mm")
    assert button.isEnabled()
    assert button.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_a_way_is_one_edit_that_undo_takes_back(steep: Desk, qtbot: QtBot) -> None:
    before = steep.document.design
    ways = opened(steep, GUARD)
    (button,) = waited(qtbot, ways)
    button.setFocus()
    QTest.keyClick(button, Qt.Key.Key_Space)
    design = steep.document.design
    assert design is not None
    assert value_at(design, "inner_leaf.upstand_height_mm") == 51
    assert not check_of(steep, GUARD).fails
    assert not ways.isVisible()
    assert steep.checks.list.hasFocus()
    stack = steep.document.undo_stack
    assert stack.count() == 1
    assert stack.undoText() == "Inner leaf edge upstand height 30 → 51"
    assert "Undo takes it back" in steep.window.statusBar().currentMessage()
    stack.undo()
    assert steep.document.design == before
    assert ways.isVisible()
    assert waited(qtbot, ways)[0].isEnabled()


@pytest.mark.soak
def test_every_button_of_a_check_cures_it_and_can_be_undone(steep: Desk, qtbot: QtBot) -> None:
    before = steep.document.design
    check_id = "france-vehicle/vehicle-gap/deck-edge"
    count = len(waited(qtbot, opened(steep, check_id)))
    assert count > 1
    for number in range(count):
        waited(qtbot, opened(steep, check_id))[number].click()
        assert not check_of(steep, check_id).fails
        steep.document.undo_stack.undo()
        assert steep.document.design == before


def test_what_a_way_does_to_the_others_is_told(steep: Desk, qtbot: QtBot) -> None:
    (button,) = waited(qtbot, opened(steep, SLOPE))
    assert "But:" in button.accessibleName()
    assert "stowed height above the deck" in button.accessibleName()
    assert "Cures too: " in button.accessibleName()
    assert "slope to road or kerb (Level yard, deck loaded)" in button.accessibleName()


def test_why_no_ramp_does_it_stands_above_the_ways_out(steep: Desk, qtbot: QtBot) -> None:
    ways = opened(steep, SLOPE)
    waited(qtbot, ways)
    why, told = ways.words.text().split("\n")
    assert why.startswith("Why not: Slope 1:6 (")
    assert told == WAYS
    waited(qtbot, opened(steep, GUARD))
    assert "Why not" not in ways.words.text()


def test_none_found_is_said(steep: Desk, qtbot: QtBot) -> None:
    ways = opened(steep, "us-vehicle-2016/opening")
    assert waited(qtbot, ways) == ()
    assert NONE in ways.words.text()


def test_a_check_within_its_limit_has_no_ways_out(steep: Desk) -> None:
    found = steep.document.evaluation
    assert found is not None
    within = next(check for check in found.checks if not check.fails)
    assert not opened(steep, within.id).isVisible()


def test_buttons_of_another_ramp_do_nothing_and_are_found_anew(steep: Desk, qtbot: QtBot) -> None:
    ways = opened(steep, GUARD)
    (old,) = waited(qtbot, ways)
    steep.document.edit("inner_leaf.upstand_height_mm", 40.0, "Height")
    assert not old.isEnabled()
    assert WORKING in ways.words.text()
    old.click()
    assert steep.document.undo_stack.count() == 1
    (button,) = waited(qtbot, ways)
    assert "40 → 51" in button.accessibleName()
    steep.document.edit(
        "inner_leaf.length_mm", 1.0, "Length"
    )  # can't be built: what is shown is of the last good ramp
    assert not button.isEnabled()


def test_the_search_runs_off_the_ui_thread_and_begins_only_when_asked(
    steep: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rampdraft.explore.ways_out import ways as module

    threads: list[int] = []
    search = module.ways_out

    def spied(*given: object) -> object:
        threads.append(threading.get_ident())
        return search(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "ways_out", spied)
    steep.document.edit("inner_leaf.upstand_height_mm", 40.0, "Height")
    qtbot.wait(50)
    assert threads == []
    waited(qtbot, opened(steep, GUARD))
    assert len(threads) == 1
    assert threads[0] != threading.get_ident()


def test_closing_the_working_calls_the_search_off(
    steep: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go, ended = threading.Event(), threading.Event(), []

    def slow(evaluation: object, only: str, progress: Progress) -> object:
        begun.set()
        go.wait(10)
        try:
            progress(0.5, "")
        except BaseException as stop:
            ended.append(type(stop).__name__)
            raise
        return {only: ()}

    monkeypatch.setattr("rampdraft.explore.ways_out.ways.ways_out", slow)
    ways = opened(steep, GUARD)
    qtbot.waitUntil(begun.is_set)
    steep.checks._close.click()
    go.set()
    qtbot.waitUntil(lambda: ended == ["Cancelled"])
    assert not ways.isVisible()
    assert ways.buttons == ()


def test_a_fault_of_the_search_is_told(steep: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    def faulty(*given: object) -> object:
        raise ZeroDivisionError

    monkeypatch.setattr("rampdraft.explore.ways_out.ways.ways_out", faulty)
    with qtbot.captureExceptions() as caught:
        ways = opened(steep, GUARD)
        qtbot.waitUntil(lambda: "could not be worked out" in ways.words.text())
    assert len(caught) == 1


def test_changes_read_like_the_form() -> None:
    assert change_words("inner_leaf.length_mm", 820.0, 1652.0) == "Inner leaf length 820 → 1652 mm"
    assert change_words("prop.fitted", False, True) == "Prop under the joint: no → yes"
    assert change_words("fold.stowed_deg", -5.0, 90.0) == "Fold stowed angle −5 → 90°"
    rails = change_words(
        "outer_leaf.rail_section", parse_section("box 40x20x2"), parse_section("box 60x40x3")
    )
    assert rails == "Outer leaf rail section box 40x20x2 → box 60x40x3"
    assert change_words("supports[*].rate_n_mm", 300.0, 83.0) == "All supports spring rate 300 → 83 N/mm"
    assert change_words("both_leaves.width_mm", 860.0, 915.0) == "Both leaves surface width 860 → 915 mm"
    assert change_words("stop.kind", "none", "lap").startswith("Stop bars stop bars none → ")


def test_many_effects_are_counted(steep: Desk) -> None:
    found = steep.document.evaluation
    assert found is not None
    effects = tuple(Effect(before=None, after=check) for check in found.checks if check.fails)[:5]
    way = WayOut(path="inner_leaf.length_mm", before=1.0, after=2.0, share=0.5, worsens=effects)
    (told,) = effect_words(way, 3)
    assert told.startswith("But: ")
    assert told.endswith("; and 2 more.")


def test_a_way_out_of_rolling_is_shown_before_and_after(desk: Desk, qtbot: QtBot) -> None:
    """A step of 40 mm at the toe: a thinner toe cures it, and the picture tells both values."""
    path = next(path for path in sample_paths() if path.stem == "barn-stage")
    desk.document.open(changed(load_design(path), "toe.thickness_mm", 40.0), path, path.parent)
    qtbot.waitUntil(lambda: desk.checks.model.row_of(START).isValid())
    ways = opened(desk, START)
    assert waited(qtbot, ways)
    qtbot.waitUntil(lambda: ways.picture.picture is not None)
    assert ways.picture.isVisible()
    assert ways.picture.picture is not None
    words = [mark.text for mark in ways.picture.picture.marks if isinstance(mark, Label)]
    assert "As it is: 40 mm" in words
    assert any(one.startswith("fails: ") for one in words)
    assert any(one.startswith(("passes: ", "close: ")) for one in words)
    shows = [one for one in ways.findChildren(QPushButton) if one.text() == "Show"]
    assert len(shows) == len(ways.buttons)
    assert all(one.accessibleName().startswith("Show before and after: ") for one in shows)
    ways.buttons[0].click()
    index = desk.checks.model.row_of
    qtbot.waitUntil(lambda: index(START).isValid() and not ways.isVisible())
    assert not desk.checks.model.check(index(START)).fails
