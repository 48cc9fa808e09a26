"""The fold in the window: its map, its way-points, and what the Fold menu answers."""

import math
import threading

import pytest
from pulling import Mouse
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from stand_in import answers

from rampdraft.app.shell.desk import Desk
from rampdraft.drawing.fold_map import map_point
from rampdraft.drawing.ink import Label, Path
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.way_points import own_stages
from rampdraft.model.design import FoldStage
from rampdraft.model.starter import starter_design


@pytest.fixture
def map_desk(desk: Desk, qtbot: QtBot) -> Desk:
    desk.views.setCurrentIndex(1)
    qtbot.waitUntil(lambda: desk.fold_map.map.surface is not None)
    QApplication.processEvents()
    return desk


def evaluation(desk: Desk) -> Evaluation:
    found = desk.document.evaluation
    assert found is not None
    assert not desk.document.stale
    return found


def place(desk: Desk, pose: Pose) -> QPointF:
    """Return where a pose lies on the map, in pixels."""
    canvas = desk.fold_map.canvas
    return canvas._view().map(QPointF(*map_point(evaluation(desk).design, pose)))


def mouse(desk: Desk) -> Mouse:
    return Mouse(desk.fold_map.canvas)


def corners(stages: tuple[FoldStage, ...]) -> list[list[tuple[float, float]]]:
    return [[*stage.via_deg, (stage.inner_deg, stage.fold_deg)] for stage in stages]


def test_undo_in_the_middle_of_a_drag_is_not_undone_by_letting_go(map_desk: Desk) -> None:
    desk = map_desk
    desk.document.edit("inner_leaf.length_mm", 1341.0, "Length")
    start = place(desk, evaluation(desk).fold.path.poses[8])
    hand = mouse(desk)
    hand.press(start)
    hand.move(start + QPointF(0, -30))
    desk.document.undo_stack.undo()
    hand.release(start)
    assert evaluation(desk).design == starter_design()


def test_pressing_the_map_moves_the_scrubber_and_the_scrubber_the_cross(map_desk: Desk) -> None:
    desk = map_desk
    path, hand = evaluation(desk).fold.path, mouse(desk)
    hand.press(place(desk, path.pose(0.87)) + QPointF(2, 2))
    hand.release(QPointF())
    assert desk.fold_bar.share == pytest.approx(0.87, abs=0.03)
    before = desk.fold_map.canvas._live
    desk.fold_bar.go(0.3)
    assert desk.fold_map.canvas._live != before
    assert not desk.window.isWindowModified()


def test_a_way_point_is_dragged_in_whole_degrees_as_one_edit(map_desk: Desk) -> None:
    desk = map_desk
    before = evaluation(desk)
    start = place(desk, before.fold.path.poses[10])
    hand = mouse(desk)
    hand.press(start)
    for step in (3, 9, 15):
        hand.move(start + QPointF(-step, -step))
        assert evaluation(desk) is not before
    assert desk.document.undo_stack.count() == 0
    hand.release(start)
    assert desk.document.undo_stack.undoText().startswith("Way-point 10 ")
    stages = evaluation(desk).design.fold_stages
    assert [stage.say for stage in stages] == [stage.say for stage in before.fold.path.stages]
    moved_to = corners(stages)[0][9]
    assert all(angle == round(angle) for angle in moved_to)
    assert moved_to != corners(own_stages(before.design, before.fold.path))[0][9]
    assert (
        evaluation(desk).fold.clearance.tightest.certified_mm != before.fold.clearance.tightest.certified_mm
        or stages
    )
    desk.document.undo_stack.undo()
    assert evaluation(desk).design == before.design
    assert not desk.document.undo_stack.canUndo()


def test_esc_gives_a_dragged_way_point_back(map_desk: Desk) -> None:
    desk = map_desk
    design = evaluation(desk).design
    start = place(desk, evaluation(desk).fold.path.poses[8])
    hand = mouse(desk)
    hand.press(start)
    hand.move(start + QPointF(0, -30))
    assert evaluation(desk).design != design
    QTest.keyClick(desk.fold_map.canvas.knobs["way-point 8"], Qt.Key.Key_Escape)
    hand.release(start)
    assert evaluation(desk).design is design
    assert desk.document.undo_stack.count() == 0


def test_what_a_dragged_way_point_leaves_is_worked_out_once_the_hand_rests(
    map_desk: Desk, qtbot: QtBot
) -> None:
    desk = map_desk
    start, hand = place(desk, evaluation(desk).fold.path.poses[8]), mouse(desk)
    hand.press(start)
    for step in (10, 40):
        hand.move(start + QPointF(0, -step))
        assert not evaluation(desk).stands(Evaluation.clearance)
    with qtbot.waitSignal(desk.document.changed):
        pass
    assert desk.document.previewing
    assert evaluation(desk).stands(Evaluation.clearance)
    hand.release(start)
    assert desk.document.undo_stack.undoText().startswith("Way-point 8 ")


def test_way_points_are_chosen_moved_added_and_removed_by_keys_and_buttons(map_desk: Desk) -> None:
    desk, canvas = map_desk, map_desk.fold_map.canvas
    canvas.setFocus()
    QTest.keyClick(canvas, Qt.Key.Key_PageUp)
    QTest.keyClick(canvas.knobs["way-point 1"], Qt.Key.Key_PageUp)
    before = corners(own_stages(evaluation(desk).design, evaluation(desk).fold.path))[0][1]
    QTest.keyClick(canvas.knobs["way-point 2"], Qt.Key.Key_Up)
    QTest.keyClick(canvas.knobs["way-point 2"], Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    after = corners(evaluation(desk).design.fold_stages)[0][1]
    assert after == pytest.approx((math.floor(before[0]) + 1.1, before[1]))
    assert desk.document.undo_stack.count() == 1
    count = len(evaluation(desk).fold.path.poses)
    desk.fold_bar.go(0.9)
    desk.fold_map.add.click()
    assert len(evaluation(desk).fold.path.poses) == count + 1
    desk.fold_map.remove.click()
    assert len(evaluation(desk).fold.path.poses) == count


def test_the_ends_of_the_path_are_not_dragged(map_desk: Desk) -> None:
    desk = map_desk
    start = place(desk, evaluation(desk).fold.path.poses[-1])
    hand = mouse(desk)
    hand.press(start)
    hand.move(start + QPointF(-30, 30))
    hand.release(start)
    assert desk.document.undo_stack.count() == 0


def test_what_clashes_is_said_at_the_pointer(map_desk: Desk) -> None:
    desk, hand = map_desk, mouse(map_desk)
    hand.move(place(desk, Pose(0.0, -2.0)))
    assert desk.fold_map.canvas._words[1].startswith("clash, ")
    hand.move(place(desk, Pose(1.2, -1.5)))
    assert desk.fold_map.canvas._words[1].startswith("clearance ")
    desk.filing.load(sample_paths()[0])
    assert desk.fold_map.canvas._words == ()


def test_a_map_of_an_earlier_ramp_is_greyed_until_the_new_one_is_there(map_desk: Desk, qtbot: QtBot) -> None:
    desk, canvas = map_desk, map_desk.fold_map.canvas
    assert not canvas.note
    desk.document.edit("inner_leaf.length_mm", 1400.0, "Length")
    assert canvas.note
    assert "worked out" in canvas.accessibleDescription()
    qtbot.waitUntil(lambda: not canvas.note)
    desk.document.edit("assist.kind", "torsion", "Spring")
    assert not canvas.note


def test_of_two_edits_the_newest_map_wins(map_desk: Desk, qtbot: QtBot) -> None:
    desk = map_desk
    for length in (1390.0, 1400.0, 1410.0):
        desk.document.edit("inner_leaf.length_mm", length, "Length")
    qtbot.waitUntil(lambda: not desk.fold_map.canvas.note)
    made_of = desk.fold_map.map.design
    assert made_of is not None
    assert made_of.inner_leaf.length_mm == 1410


def test_a_way_to_fold_is_found_and_taken_as_one_edit(desk: Desk, qtbot: QtBot) -> None:
    desk.fold_work.find()
    qtbot.waitUntil(lambda: bool(evaluation(desk).design.fold_stages))
    assert desk.document.undo_stack.undoText() == "Find a way to fold"
    assert "A way to fold in" in desk.notice.words
    desk.document.edit("inner_leaf.width_mm", 870.0, "Width")
    assert desk.notice.words == ""
    desk.document.undo_stack.undo()
    desk.fold_work.use_usual()
    assert not evaluation(desk).design.fold_stages
    assert desk.document.undo_stack.count() == 2


def test_the_fold_is_tried_at_each_site(desk: Desk, qtbot: QtBot) -> None:
    before = evaluation(desk).design
    desk.fold_work.find_at_sites()
    qtbot.waitUntil(lambda: "Ways to fold" in desk.notice.words)
    assert all(f"{site.name}: " in desk.notice.words for site in before.sites)
    assert desk.notice.words.count("of clearance or more all the way") == len(before.sites)
    assert evaluation(desk).design == before


def test_a_blocked_fold_says_what_blocks_it_and_is_outdated_by_an_edit(desk: Desk, qtbot: QtBot) -> None:
    desk.filing.load(next(path for path in sample_paths() if path.stem == "too-steep"))
    desk.fold_work.find()
    qtbot.waitUntil(lambda: bool(desk.notice.buttons))
    assert "stand in the way" in desk.notice.words
    picture = desk.side.canvas.picture
    assert picture is not None
    assert any(getattr(mark, "fill", "") == "clash" for mark in picture.marks)
    (button,) = desk.notice.buttons
    desk.document.edit("inner_leaf.length_mm", 830.0, "Length")
    assert not button.isEnabled()
    assert "before the last change" in desk.notice.words


def test_what_would_free_a_fold_is_listed_and_applied(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("rampdraft.explore.folds.FREEING", ("joint.height_mm",))
    design = starter_design()
    desk.document.edit("joint.height_mm", design.joint.height_mm + 3, "Joint")
    desk.fold_work.find()
    qtbot.waitUntil(lambda: bool(desk.notice.buttons))
    desk.notice.buttons[0].click()
    assert desk.notice.close_button.text() == "Cancel"
    qtbot.waitUntil(lambda: desk.notice.close_button.text() == "Close")
    assert "→" in desk.notice.buttons[0].accessibleName()
    desk.notice.buttons[0].click()
    assert evaluation(desk).fold.clearance.tightest.certified_mm >= design.fold.clearance_mm
    assert desk.document.undo_stack.undoText().startswith("Free the fold: ")


def test_an_edit_drops_the_work_for_the_ramp_before(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on = threading.Event()
    monkeypatch.setattr("rampdraft.mechanics.folding.search.find_fold", lambda *_: go_on.wait(10))
    desk.fold_work.find()
    desk.document.edit("inner_leaf.length_mm", 1400.0, "Length")
    go_on.set()
    QTest.qWait(100)
    assert "changed meanwhile" in desk.notice.words
    assert not evaluation(desk).design.fold_stages


def test_a_spring_is_sized_or_says_what_it_needs(desk: Desk, qtbot: QtBot) -> None:
    desk.document.edit("assist.kind", "none", "Spring")
    desk.fold_work.size_spring()
    assert "Choose a torsion or a gas spring" in desk.notice.words
    desk.document.edit("assist.kind", "torsion", "Spring")
    answers(desk).amount = 300.0
    desk.fold_work.size_spring()
    qtbot.waitUntil(lambda: desk.document.undo_stack.undoText() == "Size the spring")
    assert abs(evaluation(desk).fold.hand.peak.peak_n) <= 300
    answers(desk).amount = 20.0
    desk.fold_work.size_spring()
    qtbot.waitUntil(lambda: "No strength" in desk.notice.words)


def test_slats_that_cannot_interleave_say_why(desk: Desk, qtbot: QtBot) -> None:
    answers(desk).amount = 3.0
    desk.fold_work.interleave()
    qtbot.waitUntil(lambda: "faces together" in desk.notice.words)
    assert desk.document.undo_stack.count() == 0


def test_play_rests_where_a_stage_ends(desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rampdraft.app.views.fold_bar.PLAY_S", 0.1)
    monkeypatch.setattr("rampdraft.app.views.fold_bar.REST_S", 60.0)
    end = evaluation(desk).fold.path.stages[0].end
    desk.fold_bar.toggle_play()
    qtbot.waitUntil(lambda: desk.fold_bar.share == end)
    QTest.qWait(100)
    assert desk.fold_bar.playing
    assert desk.fold_bar.share == end


def test_hands_and_swept_room_are_drawn_while_they_are_switched_on(desk: Desk) -> None:
    actions = {action.text().replace("&", ""): action for action in desk.window.findChildren(QAction)}

    def owners() -> set[str]:
        picture = desk.side.canvas.picture
        assert picture is not None
        words = {mark.text for mark in picture.marks if isinstance(mark, Label)}
        return words | {mark.fill for mark in picture.marks if isinstance(mark, Path)}

    desk.fold_bar.go(0.2)
    assert "joint" in owners()
    assert "swept" not in owners()
    actions["Show hands"].trigger()
    actions["Show swept room"].trigger()
    assert "joint" not in owners()
    assert "swept" in owners()
    assert "out from the deck edge" in desk.window.statusBar().currentMessage()
