"""All that follows from a design is worked out by a process: what is shown meanwhile is greyed, and nothing
else holds the window up.
"""

import os
import pickle
import time
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from stand_in import StandIn

from rampdraft.app import kept_rolling
from rampdraft.app.answers import Answers
from rampdraft.app.checklist import mend, ways_out
from rampdraft.app.shell import filing, fold_work
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.window import Window
from rampdraft.app.views import carrier, kept_map, pieces, plan
from rampdraft.app.views.following import FAULT_NOTE, JUDGING_NOTE
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.apart import Crew
from rampdraft.progress import Progress

PATIENCE_MS = 60_000
LONG_S = 60.0


@pytest.fixture
def apart(alone: None, qapp: QApplication, qtbot: QtBot) -> Iterator[Desk]:
    """A desk whose answers come from processes, as everybody has it."""
    window = Window()
    window.resize(1200, 800)
    window.show()
    desk = window.furnish()
    desk.dialogs = StandIn(window)
    desk.filing.begin()
    qtbot.waitUntil(lambda: desk.document.whole)
    yield desk
    window.close_unasked()
    window.deleteLater()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)  # as the event loop would
    qapp.processEvents()


def longer(desk: Desk, by_mm: float) -> None:
    assert desk.document.design is not None
    length = desk.document.design.inner_leaf.length_mm
    desk.document.edit("inner_leaf.length_mm", length + by_mm, "Lengthen")


def test_an_edit_is_drawn_at_once_and_its_checks_are_greyed_until_they_come(
    apart: Desk, qtbot: QtBot
) -> None:
    apart.views.setCurrentWidget(apart.side)
    before = apart.document.judged
    longer(apart, -300)
    assert not apart.document.whole
    assert apart.document.judged is before
    assert apart.document.evaluation is not None
    assert apart.document.evaluation.design == apart.document.design
    assert apart.side.canvas.note == "", "the drawing is of the ramp in hand"
    assert apart.checks.list.property("greyed")
    assert apart.step_work.list.property("greyed")
    assert not apart.fold_bar.clearance.isHidden()
    qtbot.waitUntil(lambda: apart.document.whole)
    assert not apart.checks.list.property("greyed")
    fresh = evaluate(apart.document.design).complete()
    assert apart.document.evaluation == fresh
    assert {check.id for check in apart.checks.known} >= {check.id for check in fresh.checks}
    assert apart.document.evaluation.checks == fresh.checks


def test_a_view_of_what_takes_longer_is_greyed_meanwhile(apart: Desk, qtbot: QtBot) -> None:
    apart.views.setCurrentWidget(apart.strength)
    assert apart.strength.canvas.note == ""
    longer(apart, -300)
    assert apart.strength.canvas.note == JUDGING_NOTE
    assert not apart.strength.table.isEnabled()
    qtbot.waitUntil(lambda: apart.document.whole)
    assert apart.strength.canvas.note == ""
    assert apart.strength.table.isEnabled()


def test_the_newest_of_many_edits_stands_at_the_end(apart: Desk, qtbot: QtBot) -> None:
    for _ in range(5):
        longer(apart, -20)
        qtbot.wait(5)
        assert not apart.document.whole
    qtbot.waitUntil(lambda: apart.document.whole)
    assert apart.document.judged is not None
    assert apart.document.judged.design == apart.document.design


def test_what_one_edit_leaves_is_shared_though_it_comes_from_a_process(apart: Desk, qtbot: QtBot) -> None:
    before = apart.document.evaluation
    assert before is not None
    apart.document.edit("workshop.kerf_mm", 4.25, "Change")
    qtbot.waitUntil(lambda: apart.document.whole)
    after = apart.document.evaluation
    assert after is not None
    assert after is not before
    assert after.carried is before.carried
    assert after.plan is not before.plan


def test_a_fault_there_stands_in_the_form_and_undo_goes_on(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = desk.document.evaluation
    with monkeypatch.context() as broken:
        broken.setattr(Evaluation, "complete", fails)
        longer(desk, -300)
    assert desk.document.stale
    assert "ZeroDivisionError" in desk.document.problems[0].rule
    assert desk.document.evaluation is good
    desk.document.undo_stack.undo()
    assert desk.document.whole
    assert not desk.document.problems


def fails(*_: object) -> None:
    raise ZeroDivisionError("on purpose")


def test_a_fault_in_a_drawing_greys_that_view_alone(
    desk: Desk, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk.views.setCurrentWidget(desk.plan)
    drawn = desk.plan.canvas.picture
    with monkeypatch.context() as broken:
        broken.setattr(plan, "plan_view", fails)
        longer(desk, -300)
    qapp.processEvents()
    assert (desk.plan.canvas.note, desk.plan.canvas.picture) == (FAULT_NOTE, drawn)
    assert desk.document.whole, "the rest goes on"
    assert not desk.checks.list.property("greyed")
    desk.document.undo_stack.undo()
    assert desk.plan.canvas.note == ""


def test_every_question_and_what_is_known_can_be_sent(desk: Desk) -> None:
    evaluation = desk.document.evaluation
    works = (
        kept_rolling.work_out, mend.work_out, ways_out.work_out, ways_out.draw_cure, filing.work_out,
        fold_work.find_a_fold, fold_work.find_at_each_site, fold_work.try_what_frees, fold_work.size_a_spring,
        fold_work.let_slats_fall, carrier.work_out, kept_map.work_out, pieces.work_out,
    )  # fmt: skip
    sent = pickle.loads(pickle.dumps((works, evaluation), protocol=5))
    assert sent == (works, evaluation)


def sleeps(progress: Progress) -> None:
    time.sleep(LONG_S)


def own_id(progress: Progress) -> int:
    return os.getpid()


def test_closing_waits_for_nothing_that_does_not_look(alone: None, qtbot: QtBot) -> None:
    answers, crew = Answers(), Crew(ready=1)
    line = answers.line("own", crew)
    found: list[object] = []
    line.came.connect(lambda _, answer: found.append(answer))
    line.ask("id", own_id)
    qtbot.waitUntil(lambda: bool(found))
    line.ask("sleep", sleeps)
    qtbot.wait(100)
    begun = time.monotonic()
    answers.close()
    # Half a second is meant; a busy machine may take more, but never the work's own time.
    assert time.monotonic() - begun < LONG_S / 3
    (process,) = found
    assert isinstance(process, int)
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)
