"""Two views at once, a view in a window of its own, and the solid that follows both scrubbers."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.drawing.ink import Path
from rampdraft.drawing.solid.camera import Camera
from rampdraft.files.samples import sample_paths


@pytest.fixture
def trailer(desk: Desk, qapp: QApplication) -> Desk:
    desk.filing.open_path(next(path for path in sample_paths() if path.stem == "library-trailer"))
    desk.step_work.take("")
    qapp.processEvents()
    return desk


def test_a_view_stands_beside_and_goes_back_to_its_place(trailer: Desk):
    views = trailer.views
    views.setCurrentWidget(trailer.side)
    at = views.indexOf(trailer.plan)
    views.put_beside(trailer.plan)
    assert trailer.plan.isVisible()
    assert trailer.side.isVisible()
    assert views.indexOf(trailer.plan) < 0
    views.put_beside(trailer.end)
    assert views.pane.panel is trailer.end
    assert views.indexOf(trailer.plan) == at
    views.pane.close_button.click()
    assert views.pane.panel is None
    assert [views.widget(number) for number in range(views.count())] == [panel for panel, _ in views.named]


def test_a_view_in_its_own_window_goes_back_when_that_is_closed(trailer: Desk, qapp: QApplication):
    views, solid = trailer.views, trailer.solid
    views.put_apart(solid)
    window = solid.window()
    assert window is not trailer.window
    assert solid.isVisible()
    trailer.document.edit("inner_leaf.length_mm", 1300.0, "Inner leaf length")
    assert solid._shown is trailer.document.evaluation, "it follows the document"
    window.close()
    qapp.processEvents()
    assert views.indexOf(solid) >= 0


def test_where_views_stand_is_remembered(trailer: Desk):
    views = trailer.views
    views.put_beside(trailer.solid)
    views.pane.turn(below=True)
    views.put_apart(trailer.plan)
    views.remember()
    beside, below, apart = settings.views()
    assert (beside, below, list(apart)) == ("solid", True, ["plan"])
    views.arrange_as_remembered()
    assert trailer.plan.window() is not trailer.window
    assert views.pane.below
    views.put_back(trailer.plan)


def test_the_solid_is_turned_by_hand_and_by_keys(trailer: Desk):
    solid = trailer.solid
    trailer.views.setCurrentWidget(solid)
    before, first = solid.camera, solid.canvas.picture
    QTest.mousePress(solid.canvas, Qt.MouseButton.LeftButton, pos=QPoint(200, 150))
    QTest.mouseMove(solid.canvas, QPoint(260, 150))
    QTest.mouseRelease(solid.canvas, Qt.MouseButton.LeftButton, pos=QPoint(260, 150))
    assert solid.camera.round_deg < before.round_deg
    assert solid.canvas.picture != first
    QTest.keyClick(solid.canvas, Qt.Key.Key_Up)
    assert solid.camera.over_deg == pytest.approx(before.over_deg + 5.0)
    assert solid.seen.currentIndex() == -1
    solid.seen.setCurrentIndex(0)
    solid.seen.activated.emit(0)
    assert solid.camera == Camera()


def test_the_solid_follows_both_scrubbers(trailer: Desk, qapp: QApplication):
    solid = trailer.solid
    trailer.views.setCurrentWidget(solid)
    trailer.fold_bar.go(0.5)
    assert solid.folding.isChecked()
    half = solid.canvas.picture
    trailer.fold_bar.go(0.8)
    assert solid.canvas.picture != half
    solid.ways[2].click()
    qapp.processEvents()
    assert trailer.rolling.isVisible(), "its scrubber stands beside"
    assert not trailer.fold_bar.isVisible()

    def wheels() -> set[object]:
        assert solid.canvas.picture is not None
        marks = solid.canvas.picture.marks
        return {mark.vertices for mark in marks if isinstance(mark, Path) and mark.fill == "tyre"}

    here = wheels()
    assert here
    trailer.rolling.bar.go(0.3)
    assert wheels()
    assert wheels() != here
