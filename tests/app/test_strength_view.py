"""The strength view follows the document while it is seen, and tells every verdict in words."""

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from rampdraft.app.shell.desk import Desk
from rampdraft.checks.demands.strength import member_rows
from rampdraft.checks.result import Result
from rampdraft.drawing.ink import Label
from rampdraft.model.fields.paths import with_value


def shown(desk: Desk) -> Desk:
    desk.views.setCurrentWidget(desk.strength)
    QApplication.processEvents()
    return desk


def words(desk: Desk) -> list[str]:
    picture = desk.strength.canvas.picture
    assert picture is not None
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def cells(desk: Desk, column: int) -> list[str]:
    table = desk.strength.table
    return [table.item(row, column).text() for row in range(table.rowCount())]  # type: ignore[union-attr]


def test_every_member_has_its_share_factor_and_verdict_in_words_worst_first(desk: Desk) -> None:
    shown(desk)
    evaluation = desk.document.evaluation
    assert evaluation is not None
    rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
    checks = [check for check in evaluation.checks if check.id.startswith("own/strength/")]
    assert cells(desk, 0) == [row.name for row in rows]
    assert [row.key for row in rows] == [check.id.removeprefix("own/strength/") for check in checks]
    assert cells(desk, 1) == [f"{100 * (check.value or 0):.0f} %" for check in checks]
    assert cells(desk, 3) == [str(check.result) for check in checks]
    for row, check in zip(rows, checks, strict=True):
        assert row.factor is not None
        figure = f"= {row.factor:.2f}".rstrip("0").rstrip(".")
        assert any(line.startswith("safety factor") and line.endswith(figure) for line in check.working)
    assert all(cells(desk, 2))


def test_nothing_is_drawn_while_the_view_is_hidden(desk: Desk) -> None:
    assert desk.strength.canvas.picture is None
    assert desk.strength.table.rowCount() == 0
    shown(desk)
    before = desk.strength.canvas.picture
    desk.views.setCurrentWidget(desk.side)
    desk.document.edit("inner_leaf.length_mm", 1400.0, "Longer")
    assert desk.strength.canvas.picture is before
    shown(desk)
    assert desk.strength.canvas.picture is not before


def test_the_view_follows_an_edit_and_fills_the_sheet(desk: Desk) -> None:
    shown(desk)
    before = words(desk)
    assert desk.document.design is not None
    desk.document.edit("use.rated_load_kg", 2 * desk.document.design.use.rated_load_kg, "Twice the load")
    QApplication.processEvents()
    assert words(desk) != before
    canvas = desk.strength.canvas
    assert canvas.fitted
    assert canvas.picture is not None
    x0, _, x1, _ = canvas.picture.box
    # What is planned for a mm of paper is a mm of screen, so that letters have the room that was planned for
    # them.
    assert canvas.per_paper_mm == pytest.approx(1.0, rel=0.02)
    across = canvas.place_of(QPointF(canvas.width(), 0)).x() - canvas.place_of(QPointF(0, 0)).x()
    assert (x1 - x0) / across > 0.9


def test_a_load_is_chosen_and_kept_through_edits(desk: Desk) -> None:
    shown(desk)
    evaluation = desk.document.evaluation
    assert evaluation is not None
    loads = evaluation.carried.loads
    box = desk.strength.load
    assert [box.itemText(row) for row in range(1, box.count())] == [load.words for load in loads]
    assert box.itemText(0).startswith("The worst: ")
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert words(desk)[0] == loads[0].words
    desk.document.edit("inner_leaf.length_mm", 1400.0, "Longer")
    QApplication.processEvents()
    assert box.currentIndex() == 1
    assert words(desk)[0] == loads[0].words


def test_a_value_that_cannot_be_greys_the_view(desk: Desk) -> None:
    shown(desk)
    line = desk.form.field("inner_leaf.length_mm").editor.widget
    assert isinstance(line, QLineEdit)
    desk.form.reveal("inner_leaf.length_mm")
    line.selectAll()
    QTest.keyClicks(line, "99999")
    QTest.keyClick(line, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert desk.document.stale
    assert desk.strength.canvas.note
    assert not desk.strength.table.isEnabled()


def test_where_nothing_holds_the_joint_rails_cannot_be_judged(desk: Desk) -> None:
    shown(desk)
    desk.document.edit("stop.kind", "none", "No stop")
    QApplication.processEvents()
    assert any(text.startswith("Nothing holds the joint") for text in words(desk))
    verdicts = dict(zip(cells(desk, 0), cells(desk, 3), strict=True))
    assert verdicts["Rails in bending and shear (inner leaf)"] == Result.UNJUDGED
    assert cells(desk, 1)[cells(desk, 3).index(str(Result.UNJUDGED))] == ""


def test_a_chosen_member_is_lit_on_the_drawings_and_pointing_names_a_rail(desk: Desk) -> None:
    shown(desk)
    found: list[object] = []
    desk.strength.chose.connect(found.append)
    desk.strength.table.selectRow(0)
    evaluation = desk.document.evaluation
    assert evaluation is not None
    row = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)[0]
    assert found[-1] == frozenset((row.member,))
    desk.strength.canvas.pointed.emit("inner rail 1")
    assert desk.window.statusBar().currentMessage().startswith("Inner rail 1")


def test_the_view_is_named_for_those_who_cannot_see_it(desk: Desk) -> None:
    shown(desk)
    assert "Strength" in [name for _, name in desk.views.named]
    assert desk.strength.load.accessibleName() == "Load"
    assert desk.strength.table.accessibleName()
    assert "Greatest design moment" in desk.strength.canvas.accessibleDescription()
    assert desk.strength.canvas.focusPolicy() == Qt.FocusPolicy.StrongFocus


def test_a_mended_design_fills_the_view_again(desk: Desk) -> None:
    assert desk.document.design is not None
    design = with_value(desk.document.design, "use.rated_load_kg", 250.0)
    shown(desk)
    desk.document.edit("use.rated_load_kg", design.use.rated_load_kg, "Less")
    QApplication.processEvents()
    assert any("250 kg" in desk.strength.load.itemText(row) for row in range(desk.strength.load.count()))
