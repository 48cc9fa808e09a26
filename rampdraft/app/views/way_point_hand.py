"""The hand on the way-points of the fold path: it moves the real stages of the design."""

import time
from typing import Final

from PySide6.QtCore import QObject, QPointF, Signal

from rampdraft.app.canvas.map_canvas import MapCanvas
from rampdraft.app.document import Document
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.drawing.fold_map import map_pose
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.folding.folding import fold_path
from rampdraft.mechanics.folding.way_points import (
    Corner,
    added,
    corner_of,
    moved,
    own_stages,
    reachable,
    removed,
    stepped,
    with_stages,
)
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design

WHOLE_DEG: Final = 1.0
FINE_DEG: Final = 0.1
QUICK_S: Final = 0.08
"""A design that takes longer is worked out when the way-point is let go, not while it moves."""


class WayPointHand(QObject):
    """Drags, nudges, adds and removes way-points; a design with the usual sequence first takes it as stages
    of its own.
    """

    chose = Signal(int)
    """Another way-point is the chosen one, or with -1 none."""
    waits = Signal(object)
    """The path as it will be once the way-point is let go, where it takes too long to follow."""

    def __init__(self, document: Document, fold_bar: FoldBar, canvas: MapCanvas, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._bar, self._canvas = document, fold_bar, canvas
        self.chosen, self._runs = -1, 0
        self._pending: Design | None = None
        self._quick = True
        canvas.took.connect(self.take)
        canvas.dragged.connect(self.drag)
        canvas.dropped.connect(self.drop)
        canvas.gave_back.connect(self.give_back)
        canvas.nudged.connect(self.nudge)
        canvas.turned.connect(self.turn)

    @property
    def _evaluation(self) -> Evaluation | None:
        return self._document.evaluation

    def choose(self, number: int) -> None:
        """Choose a way-point, or with -1 none."""
        if number != self.chosen:
            self._runs += 1
        self.chosen = number
        self._canvas.choose(number)
        self.chose.emit(number)

    def turn(self, step: int) -> None:
        """Choose the next way-point, or the one before."""
        if self._evaluation is None or self._canvas.dragging:
            return
        path = self._evaluation.fold.path
        if len(path.poses) > 2:
            here = self.chosen if self.chosen > 0 else 0 if step > 0 else len(path.poses) - 1
            self.choose(min(max(here + step, 1), len(path.poses) - 2))
            self._bar.go(path.at[self.chosen])

    def take(self, number: int) -> None:
        """Take a way-point in hand; the ends of the path are set elsewhere, and say where."""
        evaluation = self._evaluation
        if evaluation is None or self._document.stale:
            self._canvas.let_go()
            return
        path = evaluation.fold.path
        self._bar.go(path.at[number])
        if not 0 < number < len(path.poses) - 1:
            self._canvas.let_go()
            self.choose(-1)
            end = (
                "where the ground holds it" if number == 0 else "by the stowed and the closed angle, in Fold"
            )
            self._canvas.say((f"{'Deployed' if number == 0 else 'Stowed'}: this end is set", end))
            return
        self.choose(number)
        self._pending, self._quick = None, True

    def drag(self, place: QPointF, fine: bool) -> None:
        """Move the way-point in hand to a place of the map."""
        if self._evaluation is not None:
            pose = map_pose(self._evaluation.design, (place.x(), place.y()))
            self._put(corner_of(pose, FINE_DEG if fine else WHOLE_DEG))

    def _put(self, corner: Corner) -> None:
        """Move the way-point in hand; the rest follows at once where it is quick, else when it is let go."""
        evaluation = self._evaluation
        assert evaluation is not None
        self._pending = self._moved(evaluation, corner)
        if self._quick:
            start = time.perf_counter()
            self._document.preview(self._pending)
            self._quick = time.perf_counter() - start < QUICK_S
            if self._evaluation is not None:
                self._bar.go(self._evaluation.fold.path.at[self.chosen])
        else:
            self.waits.emit(_path_of(self._pending, evaluation))

    def _moved(self, evaluation: Evaluation, corner: Corner) -> Design:
        design = evaluation.design
        stages = own_stages(design, evaluation.fold.path)
        return with_stages(design, moved(stages, self.chosen, reachable(design, corner)))

    def drop(self) -> None:
        """Let go: what was dragged becomes one edit."""
        design, self._pending = self._pending, None
        if design is not None and self._document.previewing:  # not where undo came in between
            self._document.replace(design, f"Move way-point {self.chosen}")

    def give_back(self) -> None:
        """Put the way-point in hand back; with none in hand, choose none."""
        if self._pending is None:
            self.choose(-1)
            return
        self._pending = None
        self._document.give_back()

    def nudge(self, across: int, up: int, fine: bool) -> None:
        """Move the chosen way-point by a step; many of them are undone together."""
        evaluation = self._evaluation
        if evaluation is None or self._document.stale:
            return
        step = FINE_DEG if fine else WHOLE_DEG
        corner = corner_of(evaluation.fold.path.poses[self.chosen], FINE_DEG)
        corner = stepped(evaluation.design, corner, up_deg=up * step, closing_deg=across * step)
        design = self._moved(evaluation, corner)
        self._document.replace(design, f"Move way-point {self.chosen}", run=f"way-point {self._runs}")
        if self._evaluation is not None:
            self._bar.go(self._evaluation.fold.path.at[self.chosen])

    def add(self) -> None:
        """Put a way-point on the path where the cursor stands."""
        evaluation = self._evaluation
        if evaluation is None:
            return
        path, share = evaluation.fold.path, self._bar.share
        before = next((at for at, end in enumerate(path.at) if end > share), len(path.at) - 1)
        stages = added(
            own_stages(evaluation.design, path), max(before, 1), corner_of(path.pose(share), FINE_DEG)
        )
        self._document.replace(with_stages(evaluation.design, stages), "Add a way-point")
        self.choose(before)
        self._canvas.setFocus()

    def remove(self) -> None:
        """Take the chosen way-point out of the path."""
        evaluation, number = self._evaluation, self.chosen
        if evaluation is not None and number > 0:
            self.choose(-1)
            stages = removed(own_stages(evaluation.design, evaluation.fold.path), number)
            self._document.replace(with_stages(evaluation.design, stages), f"Remove way-point {number}")


def _path_of(design: Design, evaluation: Evaluation) -> FoldPath:
    return fold_path(design, design.sites[0], evaluation.sites[0].pose)
