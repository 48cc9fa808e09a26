"""A kept ramp beside the one in hand, and the edits by name."""

from PySide6.QtWidgets import QApplication

from rampdraft.app.shell.desk import Desk
from rampdraft.drawing.ink import Path


def ghosts(desk: Desk) -> int:
    picture = desk.side.canvas.picture
    assert picture is not None
    return sum(isinstance(mark, Path) and mark.pen == "other" for mark in picture.marks)


def test_the_ghost_stands_on_the_views_of_the_ramp(desk: Desk, qapp: QApplication):
    desk.step_work.take("")
    desk.variant.keep()
    desk.document.edit("outer_leaf.length_mm", 900.0, "Outer leaf length")
    for panel in (desk.plan, desk.end, desk.solid, desk.rolling):
        desk.views.setCurrentWidget(panel)
        qapp.processEvents()
        assert panel.canvas.picture is not None
        marks = panel.canvas.picture.marks
        assert any(isinstance(mark, Path) and mark.pen == "other" for mark in marks), panel


def told(desk: Desk) -> dict[str, tuple[str, ...]]:
    table = desk.compare.table
    rows = [[table.item(row, at) for at in range(4)] for row in range(table.rowCount())]
    cells = [[item.text() if item is not None else "" for item in row] for row in rows]
    return {name: tuple(rest) for name, *rest in cells}


def test_what_differs_stands_in_the_table_and_on_the_drawing(desk: Desk, qapp: QApplication):
    desk.step_work.take("")
    desk.views.put_beside(desk.compare)
    desk.views.setCurrentWidget(desk.side)
    assert desk.document.design is not None
    before = desk.document.design.inner_leaf.length_mm
    desk.compare.keep.click()
    assert ghosts(desk) == 0
    assert told(desk) == {}
    desk.document.edit("inner_leaf.length_mm", before + 50.0, "Inner leaf length")
    qapp.processEvents()
    assert told(desk)["Inner leaf length"] == (f"{before:g} mm", f"{before + 50:g} mm", "+50")
    assert any("→" not in name and rest[2] in ("▼ worse", "▲ better") for name, rest in told(desk).items())
    assert ghosts(desk) > 0
    desk.compare.ghost.setChecked(False)
    assert ghosts(desk) == 0
    desk.compare.ghost.setChecked(True)
    desk.compare.take.click()
    assert desk.document.design.inner_leaf.length_mm == before
    assert told(desk) == {}
    desk.document.undo_stack.undo()
    assert ghosts(desk) > 0
    desk.compare.forget.click()
    assert ghosts(desk) == 0


def test_a_click_on_an_edit_goes_there(desk: Desk):
    desk.step_work.take("")
    desk.views.setCurrentWidget(desk.compare)
    assert desk.document.design is not None
    first = desk.document.design.inner_leaf.length_mm
    for length in (first + 10.0, first + 20.0):
        desk.document.edit("inner_leaf.length_mm", length, "Inner leaf length", old="a", new=f"{length:g}")
    edits = desk.compare.edits
    model = edits.model()
    assert [model.index(row, 0).data() for row in range(model.rowCount())] == [
        "As opened",
        f"Inner leaf length a → {first + 10:g}",
        f"Inner leaf length a → {first + 20:g}",
    ]
    edits.setCurrentIndex(model.index(0, 0))
    assert desk.document.design.inner_leaf.length_mm == first
    assert desk.document.undo_stack.index() == 0
