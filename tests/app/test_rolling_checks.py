"""Checks of rolling follow in the background: the list says so meanwhile, and never shows those of before."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rampdraft.app import kept_rolling
from rampdraft.app.checklist import checks
from rampdraft.app.checklist.check_list import CHECK_ROLE
from rampdraft.app.shell.desk import Desk
from rampdraft.checks.demands.rolling import rolling_checks
from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check, Subjects
from rampdraft.drawing.ink import Path
from rampdraft.drawing.side import ramp_marks
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.model.fields.paths import with_value

LOW = "own/roll-clears"
FOOTREST = "use.users[1].footrest_height_mm"


@pytest.fixture(autouse=True)
def dear_once() -> None:
    """Roll each time: it matters here when that is."""


@pytest.fixture
def barn(desk: Desk, qtbot: QtBot) -> Desk:
    path = next(path for path in sample_paths() if path.stem == "barn-stage")
    desk.document.open(load_design(path), path, path.parent)
    rolled(desk, qtbot)
    return desk


def words(desk: Desk) -> str:
    return desk.checks._count.text()


def listed(desk: Desk) -> dict[str, Check]:
    model = desk.checks.model
    found = [model.index(row).data(CHECK_ROLE) for row in range(model.rowCount())]
    return {check.id: check for check in found}


def rolled(desk: Desk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: checks.WORKING not in words(desk))


def test_rolling_is_said_to_be_worked_out_and_then_stands(barn: Desk, qtbot: QtBot) -> None:
    assert listed(barn)[LOW].value == pytest.approx(25.2, abs=0.1)
    barn.document.edit(FOOTREST, 50.0, "Footrest height")
    assert checks.WORKING in words(barn)
    assert not any(one.startswith("own/roll-") for one in listed(barn) if one != "own/roll-width")
    rolled(barn, qtbot)
    assert listed(barn)[LOW].fails
    evaluation = barn.document.evaluation
    assert evaluation is not None
    assert tuple(listed(barn).values()) == evaluation.all_checks
    assert "fails: 1" in words(barn).replace("\u00a0", " ")


def test_what_rolling_does_not_read_keeps_it(barn: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept_rolling, "work_out", None)  # nothing is asked
    barn.document.edit("about.note", "another note", "Note")
    assert checks.WORKING not in words(barn)
    assert LOW in listed(barn)


def test_the_open_check_comes_back_with_rolling(barn: Desk, qtbot: QtBot) -> None:
    panel = barn.checks
    panel.list.setCurrentIndex(panel.model.row_of(LOW))
    assert panel._opened.isVisible()
    barn.document.edit(FOOTREST, 50.0, "Footrest height")
    assert not panel._opened.isVisible()
    rolled(barn, qtbot)
    assert panel._opened.isVisible()
    assert "−1.4" in panel.working.toPlainText()
    assert panel.list.currentIndex().data(Qt.ItemDataRole.DisplayRole).startswith("Room under what hangs low")


def test_the_newest_edit_wins_and_a_drag_waits(barn: Desk, qtbot: QtBot) -> None:
    document = barn.document
    document.edit(FOOTREST, 50.0, "Footrest height")
    assert document.design is not None
    with qtbot.waitSignal(document.changed):  # the hand rests
        document.preview(with_value(document.design, FOOTREST, 70.0))
    assert checks.WAITING in words(barn)
    document.replace(with_value(document.design, FOOTREST, 95.0), "Footrest height")
    rolled(barn, qtbot)
    assert checks.WAITING not in words(barn)
    assert listed(barn)[LOW].value == pytest.approx(25.2, abs=0.1)
    evaluation = document.evaluation
    assert evaluation is not None
    assert evaluation.stands(Evaluation.rolled)


def test_a_fault_is_told_where_the_checks_would_stand(
    barn: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rampdraft.errors import RampdraftError

    def faulty(*_: object) -> None:
        raise RampdraftError("a fault for the test")

    monkeypatch.setattr(kept_rolling, "work_out", faulty)
    barn.document.edit(FOOTREST, 50.0, "Footrest height")
    rolled(barn, qtbot)
    assert checks.BROKEN in words(barn)
    assert LOW not in listed(barn)


def test_a_check_of_a_deck_that_sinks_shows_the_deck_as_it_lies_then(desk: Desk) -> None:
    """The trolley under whoever rolls: neither the empty deck nor the loaded one is where it is worst."""
    path = next(path for path in sample_paths() if path.stem == "orchard-trolley")
    desk.document.open(load_design(path), path, path.parent)
    evaluation = desk.document.evaluation
    assert evaluation is not None
    sinking = tuple(one for one in evaluation.rolling if isinstance(one, Roll) and one.state == "sinking")
    checks_then = rolling_checks(Subjects(evaluation.design, {"rolling": sinking}))
    check = next(one for one in checks_then if one.id == LOW)
    assert isinstance(check.found, Rolled)
    side = desk.side
    desk._show_check(check)
    QApplication.processEvents()
    assert side.site.currentData() == (check.site_number, "sinking", False)
    site, pose = side._place(evaluation)
    (roll,) = (one for one in sinking if (one.user, one.site_number) == (check.about.user, check.site_number)
               and one.facing == check.found.facing)  # fmt: skip
    then = roll.about(check.found.worst.front_mm).pose
    assert (site.drop_mm, site.nod_rad, pose) == (then.drop_mm, then.nod_rad, then.pose)
    assert pose not in [one.pose for one in evaluation.sites]
    drawn = side.canvas.picture
    assert drawn is not None
    outlines = {mark.vertices for mark in drawn.marks if isinstance(mark, Path)}
    ramp = ramp_marks(evaluation, pose=then.pose, drop_mm=then.drop_mm, flap_rad=then.flap_rad)
    assert {mark.vertices for mark in ramp if isinstance(mark, Path) and mark.owner} <= outlines
    desk.document.edit("inner_leaf.length_mm", evaluation.design.inner_leaf.length_mm + 20, "Length")
    assert side.site.currentData() == (check.site_number, "sinking", False)
