"""The hand on the drawing: dragged, moved by keys, typed over, and lit from the form and back."""

import pytest
from pulling import Mouse, grip_at
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.canvas.type_over import TypeOver
from rampdraft.app.shell.desk import Desk
from rampdraft.drawing.ink import Label
from rampdraft.model.fields.paths import value_at
from rampdraft.model.starter import starter_design

LENGTH = "inner_leaf.length_mm"
PITCH = "inner_leaf.slat_pitch_mm"
HEIGHT = "carrier.deck_height_mm"
RAIL = "inner_leaf.rail_section"


def canvas_of(desk: Desk) -> GripCanvas:
    canvas = desk.side.canvas
    assert isinstance(canvas, GripCanvas)
    return canvas


def value(desk: Desk, path: str) -> object:
    assert desk.document.design is not None
    return value_at(desk.document.design, path)


def label_at(desk: Desk, path: str) -> QPointF:
    """Return where the value of a dimension is written, in pixels."""
    canvas = canvas_of(desk)
    assert canvas.picture is not None
    label = next(mark for mark in canvas.picture.marks if isinstance(mark, Label) and mark.owner == path)
    return canvas._view().map(QPointF(*label.at)) + QPointF(0, -4)


def near(desk: Desk, key: str) -> QPointF:
    """Return where a grip is, in pixels, after going near enough that it has room."""
    canvas = canvas_of(desk)
    canvas.zoom(6.0, grip_at(canvas, key))
    return grip_at(canvas, key)


def typed(desk: Desk) -> TypeOver:
    return next(one for one in canvas_of(desk).findChildren(TypeOver) if not one.isHidden())


def test_a_leaf_is_dragged_live_in_whole_mm_as_one_edit(desk: Desk, qtbot: QtBot) -> None:
    canvas, before = canvas_of(desk), starter_design().inner_leaf.length_mm
    start, hand = grip_at(canvas, LENGTH), Mouse(canvas)
    hand.press(start)
    for step in (2, 8, 20):
        hand.move(start + QPointF(step, 0))
    longer = value(desk, LENGTH)
    assert isinstance(longer, float)
    assert longer == round(longer) > before
    assert canvas.knobs[LENGTH].grip.values == (longer,)
    assert f"L {longer:g} mm" in canvas._words
    evaluation = desk.document.evaluation
    assert evaluation is not None
    assert not {"clearance", "carried", "checks", "staying"} & evaluation.worked
    assert not desk.document.undo_stack.canUndo()
    with qtbot.waitSignal(desk.document.changed):  # the hand rests
        pass
    assert desk.document.previewing
    hand.release(start)
    assert desk.document.undo_stack.undoText() == f"Inner leaf length {before:g} → {longer:g}"
    assert desk.document.undo_stack.count() == 1
    desk.document.undo_stack.undo()
    assert value(desk, LENGTH) == before


def test_with_shift_it_goes_by_tenths_and_a_click_moves_nothing(desk: Desk) -> None:
    canvas, hand = canvas_of(desk), Mouse(canvas_of(desk))
    start = grip_at(canvas, HEIGHT)
    hand.press(start)
    hand.release(start)
    assert not desk.document.undo_stack.canUndo()
    hand.press(start)
    hand.move(start + QPointF(0, -7), fine=True)
    found = value(desk, HEIGHT)
    assert isinstance(found, float)
    assert round(found, 1) == found
    QTest.keyClick(canvas.knobs[HEIGHT], Qt.Key.Key_Escape)
    assert value(desk, HEIGHT) == starter_design().carrier.deck_height_mm
    hand.move(start + QPointF(0, -30))  # the button is still held
    hand.release(start)
    assert not desk.document.undo_stack.canUndo()
    assert not desk.document.previewing


def test_rails_are_dragged_to_what_is_sold(desk: Desk) -> None:
    canvas, hand = canvas_of(desk), Mouse(canvas_of(desk))
    start = near(desk, RAIL)
    hand.press(start)
    hand.move(start + QPointF(0, -11))
    hand.release(start)
    sizes = canvas.knobs[RAIL].grip.ways[0].sizes
    assert canvas.knobs[RAIL].grip.values[0] in sizes
    assert desk.document.undo_stack.undoText().startswith("Inner leaf rail section box ")


def test_where_no_ramp_can_be_built_it_stays_and_the_pointer_says_why(desk: Desk) -> None:
    canvas, hand = canvas_of(desk), Mouse(canvas_of(desk))
    desk.document.edit("inner_leaf.slats", "given", "Slats")
    QApplication.processEvents()
    start = near(desk, PITCH)
    hand.press(start)
    hand.move(start + QPointF(-25, 0))
    assert any("overlap" in line for line in canvas._words)
    assert desk.document.problems == ()
    assert desk.document.design == desk.document.decided
    hand.release(start)
    assert desk.document.undo_stack.count() == 1


def test_keys_go_to_a_grip_and_move_it_as_one_edit_that_esc_gives_back(desk: Desk) -> None:
    canvas = canvas_of(desk)
    canvas.setFocus()
    names: list[str] = []
    for _ in canvas.knobs:
        QTest.keyClick(desk.window.focusWidget(), Qt.Key.Key_Tab)
        names.append(desk.window.focusWidget().accessibleName())
    assert set(names) == {knob.accessibleName() for knob in canvas.knobs.values()}
    assert f"Carrier deck height, empty: H {value(desk, HEIGHT):g} mm" in names
    before = starter_design().carrier.deck_height_mm
    knob = canvas.knobs[HEIGHT]
    knob.setFocus()
    QTest.keyClick(knob, Qt.Key.Key_Up)
    QTest.keyClick(knob, Qt.Key.Key_Up)
    QTest.keyClick(knob, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(knob, Qt.Key.Key_Right)  # across its way: nothing
    assert value(desk, HEIGHT) == pytest.approx(before + 2.1)
    assert desk.document.undo_stack.count() == 1
    QTest.keyClick(knob, Qt.Key.Key_Escape)
    assert value(desk, HEIGHT) == before
    assert not desk.document.undo_stack.canUndo()
    QTest.keyClick(knob, Qt.Key.Key_Down)
    QTest.keyClick(knob, Qt.Key.Key_Return)
    QTest.keyClick(knob, Qt.Key.Key_Escape)
    assert value(desk, HEIGHT) == before - 1


def test_a_dimension_is_typed_over_where_it_stands(desk: Desk) -> None:
    canvas = canvas_of(desk)
    QTest.mouseDClick(canvas, Qt.MouseButton.LeftButton, pos=label_at(desk, LENGTH).toPoint())
    line = typed(desk).line
    assert line.text() == f"{value(desk, LENGTH):g}"
    for text, why in (("wide", "no number"), ("13", "from 200 to 6000")):
        line.setText(text)
        QTest.keyClick(line, Qt.Key.Key_Return)
        assert why in typed(desk).reason.text()
    line.setText("2*700 - 12")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert value(desk, LENGTH) == 1388
    assert desk.document.undo_stack.count() == 1
    assert not [one for one in canvas.findChildren(TypeOver) if not one.isHidden()]


def test_at_a_grip_enter_has_its_values_typed_a_point_as_two(desk: Desk) -> None:
    canvas = canvas_of(desk)
    knob = canvas.knobs["deck_hinge"]
    knob.setFocus()
    QTest.keyClick(knob, Qt.Key.Key_Return)
    line = typed(desk).line
    line.setText("50, 27")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert (value(desk, "deck_hinge.out_mm"), value(desk, "deck_hinge.below_mm")) == (50, 27)
    assert desk.window.focusWidget() is knob
    QTest.keyClick(knob, Qt.Key.Key_Return)
    typed(desk).line.setText("50, 9000")
    QTest.keyClick(typed(desk).line, Qt.Key.Key_Return)
    assert "500" in typed(desk).reason.text()
    QTest.keyClick(typed(desk).line, Qt.Key.Key_Escape)
    assert desk.document.undo_stack.count() == 1


def test_a_value_that_followed_is_given_once_it_is_dragged(desk: Desk) -> None:
    canvas, hand = canvas_of(desk), Mouse(canvas_of(desk))
    assert value(desk, "inner_leaf.slats") == "even"
    start = near(desk, PITCH)
    hand.press(start)
    hand.move(start + QPointF(6, 0))
    assert any("given from now on" in line for line in canvas._words)
    hand.release(start)
    assert value(desk, "inner_leaf.slats") == "given"
    desk.document.undo_stack.undo()
    assert value(desk, "inner_leaf.slats") == "even"


def test_every_field_with_a_grip_or_a_dimension_lights_it_and_is_lit_by_it(desk: Desk) -> None:
    canvas = canvas_of(desk)
    assert canvas.picture is not None
    drawn = {mark.owner for mark in canvas.picture.marks if mark.owner.endswith("_mm")}
    paths = drawn | {path for knob in canvas.knobs.values() for path in knob.grip.paths if "[" not in path}
    for path in paths:
        field = desk.form.field(path)
        enter = QEnterEvent(QPointF(1, 1), QPointF(1, 1), QPointF(1, 1))
        QApplication.sendEvent(field, enter)
        assert canvas._hovered == path
        QApplication.sendEvent(field, QEvent(QEvent.Type.Leave))
        assert canvas._hovered == ""
        canvas.pointed.emit(path)
        assert field.property("lit")
        canvas.pointed.emit("")
        assert not field.property("lit")


def test_the_drawing_goes_where_the_cursor_of_the_form_is(desk: Desk) -> None:
    def enter(path: str) -> None:
        desk.form.reveal(path)
        assert isinstance(desk.form.field(path).editor.widget, QLineEdit)

    enter("sites[2].ground_mm")
    assert desk.side.site.currentData()[0] == 2
    assert any(key.startswith("sites[2].") for key in canvas_of(desk).knobs)
    enter("fold.stowed_deg")
    assert desk.side.folding.isChecked()
    assert desk.fold_bar.share == 1.0
    assert desk.side.site.currentData()[0] == 1  # on whose ground it folds
    assert "fold.stowed_deg" in canvas_of(desk).knobs
    enter("toe.length_mm")
    assert desk.side.standing.isChecked()
    assert desk.side.site.currentData()[0] == 2


def test_points_of_the_ground_are_set_by_a_click_on_its_line_and_taken_away(desk: Desk) -> None:
    canvas, hand = canvas_of(desk), Mouse(canvas_of(desk))
    ground = "sites[1].ground_mm"
    before = value(desk, ground)
    canvas.knobs[f"{ground}[1]"].setFocus()
    on_line = canvas.at_pixels((1700.0, 0.0))
    for at in (on_line + QPointF(0, -60), on_line):  # the first is not at the line, and the cursor goes
        canvas.knobs[f"{ground}[1]"].setFocus()
        canvas.setFocus(Qt.FocusReason.MouseFocusReason)  # as a press does
        hand.press(at)
        hand.release(at)
    points = value(desk, ground)
    assert isinstance(points, tuple)
    assert isinstance(before, tuple)
    assert (points[0], points[2:]) == (before[0], before[1:])
    assert points[1] == pytest.approx((1700.0, 0.0), abs=1 / canvas._scale)
    assert desk.document.undo_stack.count() == 1
    assert desk.window.focusWidget() is canvas.knobs[f"{ground}[2]"]
    QTest.keyClick(desk.window.focusWidget(), Qt.Key.Key_Up)
    assert value(desk, f"{ground}[2]") == (points[1][0], 1.0)
    QTest.keyClick(desk.window.focusWidget(), Qt.Key.Key_Insert)
    assert len(value(desk, ground)) == 4  # type: ignore[arg-type]
    for _ in range(2):
        QTest.keyClick(desk.window.focusWidget(), Qt.Key.Key_Delete)
    assert value(desk, ground) == before
    assert desk.window.focusWidget() is canvas.knobs[f"{ground}[1]"]
    for _ in range(2):  # the last point stays, and the pointer says why
        QTest.keyClick(desk.window.focusWidget(), Qt.Key.Key_Delete)
    assert len(value(desk, ground)) == 1  # type: ignore[arg-type]
    assert any("cannot be" in line for line in canvas._words)


def test_on_the_plan_width_and_rails_are_dragged_moved_by_keys_and_typed(desk: Desk) -> None:
    desk.views.setCurrentWidget(desk.plan)
    QApplication.processEvents()
    canvas = desk.plan.hand.canvas
    width, rail = "outer_leaf.width_mm", "outer_leaf.rail_lanes_mm[3]"
    before = value(desk, width)
    assert isinstance(before, float | int)
    canvas.zoom(20.0, grip_at(canvas, width))
    start, hand = grip_at(canvas, width), Mouse(canvas)
    hand.press(start)
    hand.move(start + QPointF(0, -12))
    hand.release(start)
    wider = value(desk, width)
    assert isinstance(wider, float | int)
    assert wider - before == pytest.approx(2 * 12 / canvas._scale, abs=2)
    knob, lane = canvas.knobs[rail], value(desk, rail)
    assert isinstance(lane, float | int)
    assert knob.accessibleName() == f"Outer leaf rail lanes, number 3: {lane:g} mm"
    knob.setFocus()
    QTest.keyClick(knob, Qt.Key.Key_Up)
    assert any("beside" in line for line in canvas._words)  # it would meet a rail of the inner leaf
    assert value(desk, rail) == lane
    QTest.keyClick(knob, Qt.Key.Key_Down)
    QTest.keyClick(knob, Qt.Key.Key_Down)
    assert value(desk, rail) == lane - 2
    assert desk.document.undo_stack.count() == 2
    QTest.keyClick(knob, Qt.Key.Key_Return)
    QTest.keyClick(knob, Qt.Key.Key_Return)
    line = next(one for one in canvas.findChildren(TypeOver) if not one.isHidden()).line
    line.setText(f"{lane - 1:g}")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert [one.reason.text() for one in canvas.findChildren(TypeOver) if not one.isHidden()] == []
    assert value(desk, rail) == lane - 1


def test_from_the_toe_the_width_is_dragged_live(desk: Desk) -> None:
    desk.views.setCurrentWidget(desk.end)
    QApplication.processEvents()
    canvas, width = desk.end.hand.canvas, "outer_leaf.width_mm"
    before = value(desk, width)
    assert isinstance(before, float | int)
    canvas.zoom(20.0, grip_at(canvas, width))
    start, hand = grip_at(canvas, width), Mouse(canvas)
    hand.press(start)
    hand.move(start + QPointF(12, 0))
    wider = value(desk, width)
    assert isinstance(wider, float | int)
    assert wider - before == pytest.approx(2 * 12 / canvas._scale, abs=2)
    assert canvas.knobs[width].grip.values == (wider,)
    hand.release(start)
    assert desk.document.undo_stack.count() == 1
    desk.end.folding.click()
    assert not canvas.knobs
