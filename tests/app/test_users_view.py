"""Wheeled users in the window: chosen by their pictures, measured, of another class, kept in a list."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton
from stand_in import answers

from rampdraft.app.canvas.icon import icon_of
from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.drawing.ink import Label
from rampdraft.drawing.users.silhouette import user_picture
from rampdraft.files.user_list import keep_user, load_users
from rampdraft.model.design import WheeledUser
from rampdraft.model.rolling_shape import of_class, shape_of, user_classes


@pytest.fixture
def users_desk(desk: Desk) -> Desk:
    """Return a desk with one user, who is as the class."""
    assert desk.document.design is not None
    desk.document.edit("use.users", (of_class("Chair", "manual wheelchair"),), "One user")
    desk.document.undo_stack.clear()
    return desk


def users(desk: Desk) -> tuple[WheeledUser, ...]:
    assert desk.document.design is not None
    return desk.document.design.use.users


def pick(desk: Desk, name: str) -> None:
    shown = desk.users.picker.list
    row = next(row for row in range(shown.count()) if shown.item(row).text().startswith(name))
    shown.setCurrentRow(row)


def texts(desk: Desk) -> list[str]:
    picture = desk.users.canvas.picture
    assert picture is not None
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def press(desk: Desk, name: str) -> None:
    found = [
        one for one in desk.window.findChildren(QPushButton)
        if name in (one.text(), one.accessibleName()) and one.isVisible()
    ]  # fmt: skip
    assert found, name
    found[0].click()
    QApplication.processEvents()


def type_into(desk: Desk, path: str, text: str) -> QLineEdit:
    line = desk.form.field(path).editor.widget
    assert isinstance(line, QLineEdit)
    line.setFocus()
    line.selectAll()
    if text:
        QTest.keyClicks(line, text)
    else:
        QTest.keyClick(line, Qt.Key.Key_Delete)
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    return line


# Chosen by picture


def test_a_user_is_added_by_its_picture_with_all_its_values_in_one_step(users_desk: Desk) -> None:
    desk = users_desk
    desk.form.go_to_section("use")
    press(desk, "Add a wheeled user")
    assert desk.views.currentWidget() is desk.users
    assert desk.users.picking
    assert desk.users.picker.list.count() == len(user_classes())
    assert not desk.users.picker.off.isEnabled()
    pick(desk, "Scooter")
    press(desk, "Add")
    assert users(desk)[1] == of_class("Scooter", "scooter")
    assert not desk.users.picking
    assert "B 900" in texts(desk)
    focused = QApplication.focusWidget()
    assert isinstance(focused, QLineEdit)
    assert focused.text() == "Scooter"
    assert desk.document.undo_stack.count() == 1
    desk.document.undo_stack.undo()
    assert len(users(desk)) == 1


def test_the_pictures_are_chosen_from_by_key_and_left_with_esc(users_desk: Desk) -> None:
    desk = users_desk
    press_add = desk.user_work.choose
    for name in ("Barrow", "Barrow 2"):
        press_add()
        pick(desk, "Barrow")
        QTest.keyClick(desk.users.picker.list, Qt.Key.Key_Return)
        QApplication.processEvents()
        assert users(desk)[-1].name == name
    press_add()
    QTest.keyClick(desk.users.picker.list, Qt.Key.Key_Escape)
    assert not desk.users.picking
    assert len(users(desk)) == 3


def test_a_card_says_its_figures_and_where_they_are_from(users_desk: Desk) -> None:
    users_desk.user_work.choose()
    card = users_desk.users.picker.list.item(0)
    assert card.text() == "Manual wheelchair\n150 kg, wheelbase 450\nwheels 100 / 305 mm"
    assert "1991 ADA Standards" in card.toolTip()
    assert not card.icon().isNull()


def test_pictures_of_a_list_are_to_one_scale_but_for_those_that_would_not_fit(users_desk: Desk) -> None:
    def reach(user: WheeledUser) -> tuple[int, int]:
        """Return how many pixels wide and high the ink is."""
        drawn = icon_of(user_picture(shape_of(user)), QSize(116, 92), 20.5, users_desk.window)
        image = drawn.pixmap(QSize(116, 92)).toImage()
        inked = [
            (x, y)
            for x in range(image.width())
            for y in range(image.height())
            if image.pixelColor(x, y).alpha()
        ]
        xs, ys = [x for x, _ in inked], [y for _, y in inked]
        assert min(xs) >= 0
        assert max(ys) < image.height()
        return max(xs) - min(xs), max(ys) - min(ys)

    chair = of_class("A", "self-propelled wheelchair")
    box = user_picture(shape_of(chair)).box
    assert reach(chair)[1] == pytest.approx((box[3] - box[1]) / 20.5, abs=3)
    long = replace(chair, wheelbase_mm=3000.0)
    assert 100 < reach(long)[0] <= 116


# Measured


def test_the_drawing_follows_the_form_and_lights_the_value_with_the_cursor(users_desk: Desk) -> None:
    desk = users_desk
    desk.document.edit("use.users", (*users(desk), of_class("Truck", "sack truck")), "Two")
    desk.form.go_to_section("use")
    press(desk, "What to measure of Wheeled user 2")
    assert desk.views.currentWidget() is desk.users
    assert "B 900" in texts(desk)
    type_into(desk, "use.users[1].wheelbase_mm", "480")
    assert desk.users.user.currentData() == 1
    assert "B 480" in texts(desk)
    desk.users.canvas.picked.emit("use.users[1].width_mm")
    assert QApplication.focusWidget() is desk.form.field("use.users[1].width_mm").editor.widget
    assert desk.users.canvas._lit == {"use.users[1].width_mm"}


def test_a_ramp_without_users_says_so_and_offers_one(users_desk: Desk) -> None:
    desk = users_desk
    desk.views.setCurrentWidget(desk.users)
    desk.document.edit("use.users", (), "Nobody")
    assert "Nobody" in desk.users.canvas.note
    assert not desk.users.keep.isEnabled()
    press(desk, "Add…")
    assert desk.users.picking


def test_a_user_is_shown_though_the_ramp_cannot_be_built(users_desk: Desk) -> None:
    desk = users_desk
    desk.views.setCurrentWidget(desk.users)
    desk.document.edit("inner_leaf.slat_pitch_mm", 20.0, "Pitch")
    desk.document.edit("use.users[1].wheelbase_mm", 470.0, "Wheelbase")
    assert desk.document.stale
    assert "B 470" in texts(desk)


# Left to the class


def test_a_value_left_to_the_class_says_what_it_is_and_is_no_0(users_desk: Desk) -> None:
    desk, path = users_desk, "use.users[1].front_radius_mm"
    desk.form.field(path)
    line = type_into(desk, path, "0")
    assert (line.text(), line.placeholderText()) == ("", "100 of its class")
    assert desk.document.undo_stack.undoText().endswith("100 → as its class")
    desk.side.canvas.pointed.emit(path)
    assert "100 of its class" in desk.window.statusBar().currentMessage()
    type_into(desk, path, "")
    assert desk.document.undo_stack.count() == 1
    QTest.keyClick(line, Qt.Key.Key_Up)
    assert users(desk)[0].front_radius_mm == 101.0, "a step begins at what the class gives"
    type_into(desk, path, "")
    assert users(desk)[0].front_radius_mm == 0.0
    assert not desk.document.problems
    none = desk.form.field("use.users[1].anti_tip_height_mm").editor.widget
    assert isinstance(none, QLineEdit)
    assert none.placeholderText() == "none of its class"
    attendant = desk.form.field("use.users[1].attendant_kg").editor.widget
    type_into(desk, "use.users[1].attendant_kg", "0")
    assert isinstance(attendant, QLineEdit)
    assert attendant.text() == "0", "0 is 0 where nothing is left to a class"


def test_an_axle_left_to_the_class_is_named(users_desk: Desk) -> None:
    users_desk.document.edit("use.users[1].braked", "class", "Braked")
    combo = users_desk.form.field("use.users[1].braked").editor.widget
    assert isinstance(combo, QComboBox)
    assert combo.currentText() == "as its class: rear"


# Another class


def choose_class(desk: Desk, word: str) -> QComboBox:
    combo = desk.form.field("use.users[1].kind").editor.widget
    assert isinstance(combo, QComboBox)
    row = combo.findData(word)
    combo.setCurrentIndex(row)
    combo.activated.emit(row)
    QApplication.processEvents()
    return combo


def test_another_class_fills_all_unasked_where_nothing_is_own(users_desk: Desk) -> None:
    choose_class(users_desk, "scooter")
    assert users(users_desk) == (of_class("Chair", "scooter"),)
    assert users_desk.notice.words == ""
    assert users_desk.document.undo_stack.undoText() == "“Chair” manual wheelchair → scooter"
    users_desk.document.undo_stack.undo()
    assert users(users_desk) == (of_class("Chair", "manual wheelchair"),)


@pytest.mark.parametrize(
    ("answer", "after"),
    [
        ("Fill all", of_class("Chair", "scooter")),
        ("Keep own values", replace(of_class("Chair", "scooter"), mass_kg=131.0)),
        ("Leave as it was", replace(of_class("Chair", "manual wheelchair"), mass_kg=131.0)),
    ],
)
def test_another_class_asks_once_where_values_are_own(
    users_desk: Desk, answer: str, after: WheeledUser
) -> None:
    desk = users_desk
    desk.document.edit("use.users[1].mass_kg", 131.0, "Mass")
    combo = choose_class(desk, "scooter")
    assert "values of its own: mass." in desk.notice.words
    assert combo.currentData() == "manual wheelchair", "until it is decided"
    next(one for one in desk.notice.buttons if one.text() == answer).click()
    QApplication.processEvents()
    assert users(desk) == (after,)
    assert desk.notice.words == ""
    assert combo.currentData() == after.kind
    assert desk.document.undo_stack.count() == (1 if answer == "Leave as it was" else 2)


def test_a_question_about_the_class_goes_with_the_next_edit(users_desk: Desk) -> None:
    users_desk.document.edit("use.users[1].mass_kg", 131.0, "Mass")
    choose_class(users_desk, "scooter")
    users_desk.document.edit("use.users[1].mass_kg", 132.0, "Mass")
    assert users_desk.notice.words == ""


# A list of one's own


def test_a_user_is_kept_offered_with_other_ramps_and_taken_off(users_desk: Desk) -> None:
    desk = users_desk
    desk.views.setCurrentWidget(desk.users)
    desk.document.edit("use.users[1].wheelbase_mm", 463.0, "Wheelbase")
    press(desk, "Keep in my list")
    path = settings.folder() / "users.toml"
    assert load_users(path) == users(desk)
    kept = users(desk)[0]
    desk.document.undo_stack.setClean()
    desk.filing.begin()
    desk.user_work.choose()
    pick(desk, "Chair (yours)")
    press(desk, "Add")
    assert users(desk)[-1] == kept
    desk.user_work.choose()
    pick(desk, "Chair (yours)")
    press(desk, "Take off my list")
    assert load_users(path) == ()
    assert desk.users.picker.list.count() == len(user_classes())
    assert users(desk)[-1] == kept, "the ramp keeps it"
    press(desk, "Put it back")
    assert load_users(path) == (kept,)
    assert desk.users.picker.list.count() == len(user_classes()) + 1


def test_a_user_with_values_that_cannot_be_is_not_kept(users_desk: Desk) -> None:
    desk = users_desk
    desk.views.setCurrentWidget(desk.users)
    desk.document.edit("use.users[1].front_radius_mm", 5.0, "Radius")
    press(desk, "Keep in my list")
    assert "Correct" in desk.notice.words
    assert load_users(settings.folder() / "users.toml") == ()


def test_a_list_that_cannot_be_read_is_told_and_never_written_over(users_desk: Desk) -> None:
    desk, path = users_desk, settings.folder() / "users.toml"
    keep_user(of_class("Red", "scooter"), path)
    path.write_text(path.read_text(encoding="utf-8").replace("wheelbase_mm = 900", "wheelbase_mm = 9"))
    before = path.read_bytes()
    desk.user_work.choose()
    assert "user[1].wheelbase_mm = 9" in desk.notice.words
    assert str(path) in desk.notice.words
    assert desk.users.picker.list.count() == len(user_classes()), "the classes can be chosen all the same"
    desk.users.show_drawing()
    press(desk, "Keep in my list")
    assert "not kept" in desk.notice.words
    assert path.read_bytes() == before
    assert not answers(desk).said, "nothing that waits for an answer"
