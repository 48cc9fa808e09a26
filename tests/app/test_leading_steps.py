"""The job's steps lead: each shows its values, views and checks, and says what it needs next."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from rampdraft.app import looks
from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.app.steps.finding import Thing, found, things
from rampdraft.checks.result import Result
from rampdraft.checks.steps import BY_KEY, STEPS, step_of_kind
from rampdraft.model.fields.paths import walk
from rampdraft.model.starter import starter_design

LENGTH, PIN = "inner_leaf.length_mm", "joint.pin_diameter_mm"


def shown_views(desk: Desk) -> list[str]:
    views = desk.views
    return [views.tabText(at) for at in range(views.count()) if views.isTabVisible(at)]


def shown_kinds(desk: Desk) -> set[str]:
    model = desk.checks.model
    return {model.check(model.index(row)).about.kind for row in range(model.rowCount())}


def type_words(line: QLineEdit, words: str) -> None:
    line.setFocus()
    line.clear()
    QTest.keyClicks(line, words)
    QApplication.processEvents()


def test_a_step_shows_its_values_views_and_checks_and_everything_shows_all(desk: Desk) -> None:
    every = shown_views(desk)
    desk.step_work.take("carrier")
    assert shown_views(desk) == ["Carrier"]
    assert desk.views.currentWidget() is desk.carrier
    assert {step_of_kind(kind) for kind in shown_kinds(desk)} <= {"carrier"}
    assert desk.form.field("carrier_body.body_kg").isVisibleTo(desk.form)
    assert desk.step_work.step == "carrier"
    desk.step_work.take("")
    assert shown_views(desk) == every
    assert len(shown_kinds(desk)) > 30
    assert settings.step() == ""


def test_every_view_belongs_to_a_step(desk: Desk) -> None:
    in_steps = {getattr(desk, key) for step in STEPS for key in step.views}
    assert in_steps == {desk.views.widget(at) for at in range(desk.views.count())}


def test_the_form_has_a_field_for_every_value_of_a_step_and_no_other(desk: Desk) -> None:
    for step in STEPS:
        desk.step_work.take(step.key)
        mine = {path for path, _, _ in walk(starter_design()) if step.has_field(path)}
        for path in mine:
            desk.form.go_to_section(path)
        assert desk.form.paths == mine, step.key
        assert desk.step_work.step == step.key


def test_a_value_of_another_step_takes_that_step_into_hand(desk: Desk) -> None:
    desk.step_work.take("carrier")
    desk.form.reveal(PIN)
    assert desk.step_work.step == "fold"
    assert desk.step_work.list.step == "fold"
    assert desk.window.focusWidget() is desk.form.field(PIN).editor.widget


def test_the_steps_are_chosen_by_keys(desk: Desk) -> None:
    steps = desk.step_work.list
    steps.setFocus()
    desk.step_work.take("survey")
    QTest.keyClick(steps, Qt.Key.Key_Down)
    assert desk.step_work.step == "size"
    tip = steps.model().data(steps.currentIndex(), Qt.ItemDataRole.ToolTipRole)
    assert tip == f"Size: {BY_KEY['size'].about}"


def test_what_fails_is_told_by_word_and_mark_and_gone_to(desk: Desk) -> None:
    desk.document.edit("carrier.stow_height_mm", 600.0, "Less room")
    row = next(row for row in desk.step_work.list.rows if row.step == "size")
    assert row.result is Result.FAILS
    assert row.lines[0].endswith(("fails", "fail"))
    desk.step_work.take("size")
    assert desk.step_work.strip.need.words.startswith("Cure next: ")
    desk.step_work.strip.need.click()
    chosen = desk.checks.model.check(desk.checks.list.currentIndex())
    assert chosen.fails
    assert step_of_kind(chosen.about.kind) == "size"


def test_a_value_that_cannot_be_bars_all_else(desk: Desk) -> None:
    desk.step_work.take("size")
    line = desk.form.field(LENGTH).editor.widget
    assert isinstance(line, QLineEdit)
    line.setFocus()
    line.setText("wide")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert desk.step_work.strip.need.words == "Correct first: Inner leaf length"
    assert next(row for row in desk.step_work.list.rows if row.step == "size").lines[0] == "1 to correct"


def test_a_value_a_check_and_a_part_are_found_by_typing(desk: Desk) -> None:
    find = desk.step_work.find
    desk.step_work.take("carrier")
    type_words(find, "pin diam joint")
    assert find.found[0].key == PIN
    QTest.keyClick(find, Qt.Key.Key_Return)
    assert desk.window.focusWidget() is desk.form.field(PIN).editor.widget
    type_words(find, "stowed height")
    assert find.found[0].kind == "check"
    QTest.keyClick(find, Qt.Key.Key_Return)
    assert desk.step_work.step == "size"
    assert desk.checks.model.check(desk.checks.list.currentIndex()).about.kind == "own/stowed"
    type_words(find, "rail inner 2")
    part = next(one for one in find.found if one.kind == "part")
    assert part.words.startswith("rail, inner, 2")
    desk.step_work.go_to(part.kind, part.key)
    assert "Inner rail 2" in desk.window.statusBar().currentMessage()


def test_words_find_what_has_all_of_them_names_first() -> None:
    among = (
        Thing(kind="value", key="a", words="Toe length", beside="a pin"),
        Thing(kind="value", key="b", words="Hinge pin"),
        Thing(kind="value", key="c", words="Pin of the hinge"),
    )
    assert [one.key for one in found("pin", among)] == ["c", "b", "a"]
    assert [one.key for one in found("hinge pin", among)] == ["b", "c"]
    assert not found("rail", among)
    assert not found("  ", among)
    every = things(starter_design(), None, ())
    assert len({one.key for one in every}) == len(every) == len(list(walk(starter_design())))


def test_help_says_what_a_value_is_a_typical_figure_and_what_it_moves_and_shows_it(desk: Desk) -> None:
    desk.form.reveal(LENGTH)
    told = desk.form.help.words.text()
    assert told.startswith("Inner leaf length. ")
    assert "Typical: " in told
    assert "Moves: " in told
    assert desk.form.help.picture.isVisibleTo(desk.form)
    desk.form.reveal("about.name")
    assert not desk.form.help.picture.isVisibleTo(desk.form)


def test_a_site_is_another_ordinary_place_by_two_edits(desk: Desk) -> None:
    desk.step_work.take("survey")
    desk.form.go_to_section("sites")
    preset = desk.form.presets[0]
    at = preset.kinds.findData("kerb")
    preset.kinds.setCurrentIndex(at)
    preset.kinds.activated.emit(at)
    preset = desk.form.presets[0]
    assert preset.entry is not None
    preset.entry.editor.given.emit(150.0)
    design = desk.document.design
    assert design is not None
    assert design.sites[0].kind == "kerb"
    assert design.sites[0].ground_mm[2][1] == 150
    assert desk.document.undo_stack.count() == 2


def test_cautions_stand_in_a_line_that_opens(desk: Desk) -> None:
    cautions = desk.checks.cautions
    assert not cautions.page.isVisibleTo(desk.checks)
    cautions.line.click()
    assert cautions.page.isVisibleTo(desk.checks)
    assert "not approval" in cautions.page.toPlainText()


@pytest.mark.parametrize("per_cent", [100, 200])
def test_no_step_is_cut_off_at_the_side_of_a_small_screen(desk: Desk, per_cent: int) -> None:
    desk.window.resize(1280, 800)
    looks.choose_text_size(per_cent)
    QApplication.processEvents()
    try:
        for step in STEPS:
            desk.step_work.take(step.key)
            for name in ("use", "sites", "inner_leaf", "carrier_body", "wishes"):
                if desk.form.has(name):
                    desk.form.go_to_section(name)
            QApplication.processEvents()
            assert desk.window.width() == 1280
            assert desk.form.cut_off_px == 0, step.key
    finally:
        looks.choose_text_size(100)
