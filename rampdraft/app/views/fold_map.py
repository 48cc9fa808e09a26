"""The fold map: clearance over both angles, the path on it to be pulled about, and the ramp in the pose of
the cursor.
"""

import math
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSplitter, QVBoxLayout, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.canvas.map_canvas import MapCanvas
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.map_job import MapJob
from rampdraft.app.views.side import FOLD_SITE, NOTHING_NOTE, STALE_NOTE, clashing_on_path
from rampdraft.app.views.way_point_hand import FINE_DEG, WayPointHand
from rampdraft.app.way_points import corner_of, nearest_share

if TYPE_CHECKING:
    from rampdraft.drawing.ink import Picture
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.geometry.pose import Pose
    from rampdraft.mechanics.folding.clearance_map import ClearanceMap
    from rampdraft.mechanics.results import FoldPath

SEEN_MM: Final = 20.0
"""How much further than the map says the pointed pose is searched for what is nearest."""
LOW_PX: Final = 440
HELP: Final = (
    "Drag a way-point of the path, by whole degrees (Shift: tenths; Esc gives it back). Page Up and Page Down"
    " choose one, the arrow keys move it. Anywhere else: go to the nearest place of the fold. The wheel"
    " zooms, the middle button moves the sheet."
)


class FoldMapPanel(QWidget):
    """Map and pose side by side; both follow the scrubber, and the map moves it."""

    def __init__(self, document: Document, fold_bar: FoldBar, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._bar = document, fold_bar
        self._pointed: QPointF | None = None
        self._surface: ClearanceMap | None = None
        self._drawn: tuple[float, str] | None = None
        """The map painted, and for which scale and with which note."""
        self.map = MapJob(self)
        self.canvas = MapCanvas("Fold map", self)
        self.canvas.setWhatsThis(HELP)
        self.hand = WayPointHand(document, fold_bar, self.canvas, self)
        self.pose = Canvas("The ramp at the cursor", self)
        self._which = QLabel(self)
        self._which.setProperty("role", "quiet")
        self._which.setWordWrap(True)
        self._which.setToolTip(HELP)
        self.add = self._button(
            "Add a way-point", "Put a way-point on the path where the cursor stands", self.hand.add
        )
        self.remove = self._button("Remove it", "Take the chosen way-point out of the path", self.hand.remove)
        row = QHBoxLayout()
        row.setContentsMargins(10, 6, 10, 6)
        row.addWidget(self._which, 1)
        row.addWidget(self.add)
        row.addWidget(self.remove)
        split = QSplitter(Qt.Orientation.Vertical, self)
        split.setHandleWidth(1)
        for canvas, share in ((self.canvas, 3), (self.pose, 2)):
            canvas.setMinimumHeight(80)
            split.addWidget(canvas)
            split.setStretchFactor(split.count() - 1, share)
        split.setSizes([340, 180])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(split, 1)
        column.addLayout(row)
        self._wire()

    def _button(self, text: str, help_text: str, act: object) -> QPushButton:
        button = QPushButton(text, self)
        button.setToolTip(help_text)
        button.setAccessibleDescription(help_text)
        button.clicked.connect(act)
        return button

    def _wire(self) -> None:
        canvas = self.canvas
        canvas.scaled.connect(self._rescale)
        canvas.hovered.connect(self._hover)
        canvas.went.connect(self._go)
        self.hand.chose.connect(self._say_which)
        self.hand.waits.connect(self._draw_waiting)
        self.pose.scaled.connect(self._draw_pose)
        self.map.changed.connect(self.refresh)
        self.map.failed.connect(self.refresh)
        self._bar.moved.connect(self._follow)
        self._document.changed.connect(self.refresh)
        self._document.opened.connect(self._begin)

    # What is shown

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave a low sheet to the map alone."""
        self.pose.setVisible(self.height() >= LOW_PX)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def refresh(self) -> None:
        """Follow the document, if anybody sees it; a map that is not of the ramp in hand is asked for
        anew.
        """
        if not self.isVisible():
            return
        evaluation = self._evaluation
        for button in (self.add, self.remove):
            button.setEnabled(evaluation is not None and not self._document.stale)
        if evaluation is None:
            self.canvas.say(())
            note = NOTHING_NOTE if self._document.design is not None else ""
            self.canvas.show_picture(None, note=note)
            self.canvas.show_live((), greyed=True)
            self.pose.show_picture(None, note=note)
            return
        self.map.ask(evaluation)
        if not self.canvas.dragging:  # else each move says it
            self._hover(self._pointed)
        if self.hand.chosen >= len(evaluation.fold.path.poses) - 1:
            self.hand.choose(-1)
        self._draw_ground(evaluation)
        self._follow()

    @property
    def _evaluation(self) -> "Evaluation | None":
        return self._document.evaluation

    def _draw_ground(self, evaluation: "Evaluation") -> None:
        surface, made_of = self.map.surface, self.map.evaluation
        true = self.map.is_of(evaluation)
        note = STALE_NOTE if self._document.stale else "" if true else self.map.words
        if surface is None or made_of is None:
            self.canvas.show_picture(None, note=note)
            return
        if surface is self._surface and self._drawn == (self.canvas.per_paper_mm, note):
            return
        self._surface = surface
        picture = self.canvas.fit_to(self._ground)
        self._drawn = (self.canvas.per_paper_mm, note)
        self.canvas.show_picture(picture, note=note)

    def _ground(self) -> "Picture":
        from rampdraft.drawing.fold_map import fold_map_ground

        assert self.map.surface is not None
        assert self.map.evaluation is not None
        return fold_map_ground(self.map.surface, self.map.evaluation.design, self.canvas.per_paper_mm)

    def _rescale(self) -> None:
        if self._evaluation is not None and self.isVisible():
            self._draw_ground(self._evaluation)
            self._follow()

    def _follow(self) -> None:
        """Show path and cursor where the scrubber stands."""
        evaluation = self._evaluation
        if evaluation is None or not self.isVisible():
            return
        self._draw_path(
            evaluation.fold.path, evaluation.fold.path.pose(self._bar.share), greyed=self._document.stale
        )
        self._draw_pose()
        self._say_which()

    def _draw_path(self, path: "FoldPath", cursor: "Pose | None", *, greyed: bool) -> None:
        from rampdraft.drawing.fold_map import fold_map_path

        assert self._evaluation is not None
        marks = fold_map_path(self._evaluation.design, path, cursor, self.canvas.per_paper_mm)
        self.canvas.show_live(marks, greyed=greyed)

    def _draw_pose(self) -> None:
        from rampdraft.drawing.handling import hand_at
        from rampdraft.drawing.side import side_view

        evaluation = self._evaluation
        if evaluation is None or not self.pose.isVisible():
            return
        pose = evaluation.fold.path.pose(self._bar.share)
        picture = side_view(
            evaluation,
            pose=pose,
            drop_mm=0.0,
            site_number=FOLD_SITE,
            dimensions=False,
            hands=(hand_at(evaluation, self._bar.share),),
            clashing=clashing_on_path(evaluation, pose),
            per_mm=self.pose.per_paper_mm,
        )
        self.pose.set_box(picture.box)
        self.pose.show_picture(picture, note=STALE_NOTE if self._document.stale else "")

    def _draw_waiting(self, path: "FoldPath") -> None:
        self._draw_path(path, None, greyed=True)

    def _say_which(self) -> None:
        evaluation = self._evaluation
        if evaluation is None:
            return
        path, number = evaluation.fold.path, self.hand.chosen
        self.remove.setEnabled(number > 0 and not self._document.stale)
        if number < 0:
            kind = "own stages" if evaluation.design.fold_stages else "the usual sequence"
            tightest = evaluation.fold.clearance.tightest
            proved = f"clearance {format.number(tightest.certified_mm, 1)} mm or more all the way"
            if tightest.certified_mm < 0:
                proved = f"clash, {format.number(-tightest.clearance_mm, 1)} mm deep"
            self._which.setText(f"The path is {kind}: {proved}. Choose a way-point to move it.")
            return
        inner, fold = corner_of(path.poses[number], FINE_DEG)
        words = (
            f"Way-point {number} of {len(path.poses) - 2}: inner leaf {_degrees(inner)}, joint"
            f" {_degrees(fold)}"
        )
        self._which.setText(f"{words}. Arrow keys move it.")

    # The pointer

    def _hover(self, place: QPointF | None) -> None:
        """Say at the pointer what the pose under it leaves, or which bodies clash."""
        from rampdraft.drawing.fold_map import map_pose
        from rampdraft.mechanics.folding.clearance import closer_than

        evaluation, self._pointed = self._evaluation, place
        if place is None or evaluation is None or self._document.stale or not self.map.is_of(evaluation):
            self.canvas.say(())
            return
        design, surface = evaluation.design, self.map.surface
        assert surface is not None
        pose = map_pose(design, (place.x(), place.y()))
        if self.canvas.dragging:
            pose = evaluation.fold.path.poses[self.hand.chosen]
        inner, fold = corner_of(pose, FINE_DEG)
        about = _on_map(surface, pose)
        if about is None:
            self.canvas.say(())
            return
        within = max(float(surface.clearance_mm[about]), 0.0) + SEEN_MM
        near = closer_than(design, evaluation.assembly, pose, design.sites[FOLD_SITE - 1], within)
        lines = [f"inner leaf {_degrees(inner)}, joint {_degrees(fold)}"]
        if not near:
            lines.append(f"over {format.number(within, 0)} mm free")
        elif near[0].clearance_mm < 0:
            lines += [
                f"clash, {format.number(-near[0].clearance_mm, 1)} mm deep:",
                f"{near[0].member_a} in {near[0].member_b}",
            ]
        else:
            clear = format.number(near[0].clearance_mm, 1)
            lines += [f"clearance {clear} mm:", f"{near[0].member_a} to {near[0].member_b}"]
        self.canvas.say(tuple(lines))

    def _go(self, place: QPointF) -> None:
        """Go to the place of the path that is nearest to a place of the map."""
        from rampdraft.drawing.fold_map import map_pose

        if self._evaluation is not None:
            self.hand.choose(-1)
            target = map_pose(self._evaluation.design, (place.x(), place.y()))
            self._bar.go(nearest_share(self._evaluation.fold.path, target))

    # Way-points

    def _begin(self) -> None:
        self.hand.choose(-1)
        self._surface = self._drawn = self._pointed = None
        self.canvas.fit()
        self.pose.fit()


def _on_map(surface: "ClearanceMap", pose: "Pose") -> tuple[int, int] | None:
    """Return the place of the grid nearest to a pose; None off the map."""
    axes = ((surface.inner_rad, pose.inner_rad), (surface.fold_rad, pose.fold_rad))
    if any(not axis[0] <= angle <= axis[-1] for axis, angle in axes):
        return None
    inner, fold = (int(abs(axis - angle).argmin()) for axis, angle in axes)
    return inner, fold


def _degrees(angle: float) -> str:
    return f"{format.number(angle, 0 if math.isclose(angle, round(angle)) else 1)}°"
