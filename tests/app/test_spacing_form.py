"""The form says which spacings follow; one click fixes or frees them, and each is one undo."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from rampdraft.app.shell.desk import Desk
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at, with_value
from rampdraft.model.spacing import SPACINGS, fixed, follows, freed
from rampdraft.model.starter import starter_design

PITCH = "inner_leaf.slat_pitch_mm"
LENGTH = "inner_leaf.length_mm"


def opened(desk: Desk, *, following: bool) -> None:
    design = starter_design()
    for spacing in SPACINGS:
        path = spacing.values[0]
        if follows(design, path) != following:
            design = freed(design, path) if following else fixed(design, path)
    desk.document.open(design, None)


def design_of(desk: Desk) -> Design:
    assert desk.document.design is not None
    return desk.document.design


def line_of(desk: Desk, path: str) -> QLineEdit:
    line = desk.form.field(path).editor.widget
    assert isinstance(line, QLineEdit)
    return line


def said(desk: Desk, path: str) -> str:
    words = desk.form.field(path).follows
    assert words is not None
    return words.text()


def click(desk: Desk, path: str) -> None:
    words = desk.form.field(path).follows
    assert words is not None
    words.linkActivated.emit("#")


def typed(line: QLineEdit, text: str) -> None:
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()


def test_a_click_fixes_what_follows_as_it_is_and_another_frees_it(desk: Desk) -> None:
    opened(desk, following=True)
    before = value_at(design_of(desk), PITCH)
    assert "follows" in said(desk, PITCH)
    assert line_of(desk, PITCH).property("follows") is True
    click(desk, PITCH)
    assert not follows(design_of(desk), PITCH)
    assert value_at(design_of(desk), PITCH) == before
    assert "given" in said(desk, PITCH)
    assert line_of(desk, PITCH).property("follows") is False
    click(desk, PITCH)
    assert follows(design_of(desk), PITCH)
    assert desk.document.undo_stack.count() == 2
    desk.document.undo_stack.undo()
    desk.document.undo_stack.undo()
    assert follows(design_of(desk), PITCH)
    assert value_at(design_of(desk), PITCH) == before


def test_what_follows_is_shown_as_it_becomes(desk: Desk) -> None:
    opened(desk, following=True)
    before = line_of(desk, "inner_leaf.cross_positions_mm").text()
    typed(line_of(desk, LENGTH), "1200")
    assert not desk.document.stale
    assert line_of(desk, "inner_leaf.cross_positions_mm").text() != before
    desk.document.undo_stack.undo()
    assert line_of(desk, "inner_leaf.cross_positions_mm").text() == before


def test_what_is_typed_over_a_value_that_follows_is_given(desk: Desk) -> None:
    opened(desk, following=True)
    typed(line_of(desk, PITCH), "115")
    assert value_at(design_of(desk), PITCH) == 115
    assert not follows(design_of(desk), PITCH)
    desk.document.undo_stack.undo()
    assert follows(design_of(desk), PITCH)


def test_only_what_is_asked_for_is_shown(desk: Desk) -> None:
    opened(desk, following=False)
    assert desk.form.field("inner_leaf.slat_greatest_gap_mm").isHidden()
    assert desk.form.field("rails.count").isHidden()
    desk.document.edit("inner_leaf.slats", "even", "Slats")
    assert not desk.form.field("inner_leaf.slat_greatest_gap_mm").isHidden()
    assert desk.form.field("inner_leaf.cross_count").isHidden()
    desk.document.edit("inner_leaf.cross_members", "spacing", "Cross members")
    assert desk.form.field("inner_leaf.cross_count").isHidden()
    assert not desk.form.field("inner_leaf.cross_greatest_mm").isHidden()


def test_one_edit_changes_the_length_of_a_leaf_that_follows(desk: Desk) -> None:
    """Where all is given, the same edit freezes the drawing."""
    opened(desk, following=False)
    desk.document.edit(LENGTH, 1100.0, "Shorter")
    assert desk.document.stale
    opened(desk, following=True)
    desk.document.edit(LENGTH, 1100.0, "Shorter")
    assert not desk.document.stale
    assert design_of(desk) == with_value(design_of(desk), LENGTH, 1100.0)


def test_sizes_that_are_sold_are_told(desk: Desk) -> None:
    opened(desk, following=True)
    assert "Sold: " in desk.form.field("inner_leaf.slat_thickness_mm").help_text()
    assert "Sold: " not in desk.form.field(LENGTH).help_text()
