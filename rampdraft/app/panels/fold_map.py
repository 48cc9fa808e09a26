"""The fold map: clearance over both angles, the path on it to be pulled about, and the ramp in the pose of the cursor."""

import math
import time
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSplitter, QVBoxLayout, QWidget

from rampdraft.app import format
from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.canvas.map_canvas import MapCanvas
from rampdraft.app.document import Document
from rampdraft.app.panels.fold_bar import FoldBar
from rampdraft.app.panels.map_job import MapJob
from rampdraft.app.panels.side import FOLD_SITE, NOTHING_NOTE, STALE_NOTE, clashing_on_path
from rampdraft.app.way_points import Corner, added, corner_of, moved, nearest_share, own_stages, removed, with_stages

if TYPE_CHECKING:
    from rampdraft.drawing.ink import Picture
    from rampdraft.evaluate import Evaluation
    from rampdraft.geometry.pose import Pose
    from rampdraft.mechanics.clearance_map import ClearanceMap
    from rampdraft.mechanics.results import FoldPath
    from rampdraft.model.design import Design

WHOLE_DEG: Final = 1.0
FINE_DEG: Final = 0.1
QUICK_S: Final = 0.08
"""A design that takes longer is worked out when the way-point is let go, not while it moves."""
SEEN_MM: Final = 20.0
"""How much further than the map says the pointed pose is searched for what is nearest."""
HELP: Final = (
    "Drag a way-point of the path, by whole degrees (Shift: tenths; Esc gives it back). Page Up and Page Down choose one, the "
    "arrow keys move it. Anywhere else: go to the nearest place of the fold. The wheel zooms, the middle button moves the sheet."
)


class FoldMapPanel(QWidget):
    """Map and pose side by side; both follow the scrubber, and the map moves it."""

    def __init__(self, document: Document, fold_bar: FoldBar, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document, self._bar = document, fold_bar
        self._chosen, self._runs = -1, 0
        self._pending: Design | None = None
        self._quick = True
        self._pointed: QPointF | None = None
        self._surface: ClearanceMap | None = None
        self._drawn: tuple[float, str] | None = None
        """The map painted, and for which scale and with which note."""
        self.map = MapJob(self)
        self.canvas = MapCanvas("Fold map", self)
        self.canvas.setToolTip(HELP)
        self.canvas.setWhatsThis(HELP)
        self.pose = Canvas("The ramp at the cursor", self)
        self._which = QLabel(self)
        self._which.setProperty("role", "quiet")
        self._which.setWordWrap(True)
        self.add = self._button("Add a way-point", "Put a way-point on the path where the cursor stands", self._add)
        self.remove = self._button("Remove it", "Take the chosen way-point out of the path", self._remove)
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
        canvas.took.connect(self._take)
        canvas.dragged.connect(self._drag)
        canvas.dropped.connect(self._drop)
        canvas.gave_back.connect(self._give_back)
        canvas.nudged.connect(self._nudge)
        canvas.turned.connect(self._turn)
        self.pose.scaled.connect(self._draw_pose)
        self.map.changed.connect(self.refresh)
        self._bar.moved.connect(self._follow)
        self._document.changed.connect(self.refresh)
        self._document.opened.connect(self._begin)

    # What is shown

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def refresh(self) -> None:
        """Follow the document, if anybody sees it; a map that is not of the ramp in hand is asked for anew."""
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
        self._hover(self._pointed)
        if self._chosen >= len(evaluation.fold.path.poses) - 1:
            self._choose(-1)
        self._draw_ground(evaluation)
        self._follow()

    @property
    def _evaluation(self) -> "Evaluation | None":
        return self._document.evaluation

    def _draw_ground(self, evaluation: "Evaluation") -> None:
        surface, made_of = self.map.surface, self.map.evaluation
        true = self.map.is_of(evaluation)
        note = STALE_NOTE if self._document.stale else "" if true else "The map is being worked out for this ramp."
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
        self._draw_path(evaluation.fold.path, evaluation.fold.path.pose(self._bar.share), greyed=self._document.stale)
        self._draw_pose()
        self._say_which(evaluation)

    def _draw_path(self, path: "FoldPath", cursor: "Pose | None", *, greyed: bool) -> None:
        from rampdraft.drawing.fold_map import fold_map_path

        assert self._evaluation is not None
        marks = fold_map_path(self._evaluation.design, path, cursor, self.canvas.per_paper_mm)
        self.canvas.show_live(marks, greyed=greyed)

    def _draw_pose(self) -> None:
        from rampdraft.drawing.side import side_view

        evaluation = self._evaluation
        if evaluation is None or not self.isVisible():
            return
        pose = evaluation.fold.path.pose(self._bar.share)
        picture = side_view(
            evaluation,
            pose=pose,
            drop_mm=0.0,
            site_number=FOLD_SITE,
            dimensions=False,
            clashing=clashing_on_path(evaluation, pose),
            per_mm=self.pose.per_paper_mm,
        )
        self.pose.set_box(picture.box)
        self.pose.show_picture(picture, note=STALE_NOTE if self._document.stale else "")

    def _say_which(self, evaluation: "Evaluation") -> None:
        path, number = evaluation.fold.path, self._chosen
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
        words = f"Way-point {number} of {len(path.poses) - 2}: inner leaf {_degrees(inner)}, joint {_degrees(fold)}"
        self._which.setText(f"{words}. Arrow keys move it.")

    # The pointer

    def _hover(self, place: QPointF | None) -> None:
        """Say at the pointer what the pose under it leaves, or which bodies clash."""
        from rampdraft.drawing.fold_map import map_pose
        from rampdraft.mechanics.clearance import closer_than

        evaluation, self._pointed = self._evaluation, place
        if place is None or evaluation is None or self._document.stale or not self.map.is_of(evaluation):
            self.canvas.say(())
            return
        design, surface = evaluation.design, self.map.surface
        assert surface is not None
        pose = map_pose(design, (place.x(), place.y()))
        if self.canvas.dragging:
            pose = evaluation.fold.path.poses[self._chosen]
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
            lines += [f"clash, {format.number(-near[0].clearance_mm, 1)} mm deep:", f"{near[0].member_a} in {near[0].member_b}"]
        else:
            clear = format.number(near[0].clearance_mm, 1)
            lines += [f"clearance {clear} mm:", f"{near[0].member_a} to {near[0].member_b}"]
        self.canvas.say(tuple(lines))

    def _go(self, place: QPointF) -> None:
        """Go to the place of the path that is nearest to a place of the map."""
        from rampdraft.drawing.fold_map import map_pose

        if self._evaluation is not None:
            self._choose(-1)
            target = map_pose(self._evaluation.design, (place.x(), place.y()))
            self._bar.go(nearest_share(self._evaluation.fold.path, target))

    # Way-points

    def _begin(self) -> None:
        self._choose(-1)
        self._surface = self._drawn = self._pointed = None
        self.canvas.fit()
        self.pose.fit()

    def _choose(self, number: int) -> None:
        if number != self._chosen:
            self._runs += 1
        self._chosen = number
        self.canvas.choose(number)
        if self._evaluation is not None:
            self._say_which(self._evaluation)

    def _turn(self, step: int) -> None:
        if self._evaluation is None or self.canvas.dragging:
            return
        path = self._evaluation.fold.path
        if len(path.poses) > 2:
            here = self._chosen if self._chosen > 0 else 0 if step > 0 else len(path.poses) - 1
            self._choose(min(max(here + step, 1), len(path.poses) - 2))
            self._bar.go(path.at[self._chosen])

    def _take(self, number: int) -> None:
        evaluation = self._evaluation
        if evaluation is None or self._document.stale:
            self.canvas.let_go()
            return
        path = evaluation.fold.path
        self._bar.go(path.at[number])
        if not 0 < number < len(path.poses) - 1:
            self.canvas.let_go()
            self._choose(-1)
            end = "where the ground holds it" if number == 0 else "by the stowed and the closed angle, in Fold"
            self.canvas.say((f"{'Deployed' if number == 0 else 'Stowed'}: this end is set", end))
            return
        self._choose(number)
        self._pending, self._quick = None, True

    def _drag(self, place: QPointF, fine: bool) -> None:
        from rampdraft.drawing.fold_map import map_pose

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
                self._bar.go(self._evaluation.fold.path.at[self._chosen])
        else:
            self._draw_path(_path_of(self._pending, evaluation), None, greyed=True)

    def _moved(self, evaluation: "Evaluation", corner: Corner) -> "Design":
        inner, fold = corner
        sense = 1 if evaluation.design.fold.closing == "faces" else -1
        fold = sense * min(max(sense * fold, 0.0), 180.0)
        stages = moved(own_stages(evaluation), self._chosen, (min(max(inner, -90.0), 180.0), fold))
        return with_stages(evaluation.design, stages)

    def _drop(self) -> None:
        if self._pending is not None:
            design, self._pending = self._pending, None
            self._document.replace(design, f"Move way-point {self._chosen}")

    def _give_back(self) -> None:
        if self._pending is None:
            self._choose(-1)
            return
        self._pending = None
        self._document.give_back()
        self.refresh()

    def _nudge(self, across: int, up: int, fine: bool) -> None:
        evaluation = self._evaluation
        if evaluation is None or self._document.stale:
            return
        step = FINE_DEG if fine else WHOLE_DEG
        inner, fold = corner_of(evaluation.fold.path.poses[self._chosen], FINE_DEG)
        sense = 1 if evaluation.design.fold.closing == "faces" else -1
        design = self._moved(evaluation, (round(inner + up * step, 6), round(fold + sense * across * step, 6)))
        self._document.replace(design, f"Move way-point {self._chosen}", run=f"way-point {self._runs}")
        if self._evaluation is not None:
            self._bar.go(self._evaluation.fold.path.at[self._chosen])

    def _add(self) -> None:
        evaluation = self._evaluation
        if evaluation is None:
            return
        path, share = evaluation.fold.path, self._bar.share
        before = next((at for at, end in enumerate(path.at) if end > share), len(path.at) - 1)
        stages = added(own_stages(evaluation), max(before, 1), corner_of(path.pose(share), FINE_DEG))
        self._document.replace(with_stages(evaluation.design, stages), "Add a way-point")
        self._choose(before)
        self.canvas.setFocus()

    def _remove(self) -> None:
        evaluation, number = self._evaluation, self._chosen
        if evaluation is not None and number > 0:
            self._choose(-1)
            stages = removed(own_stages(evaluation), number)
            self._document.replace(with_stages(evaluation.design, stages), f"Remove way-point {number}")


def _on_map(surface: "ClearanceMap", pose: "Pose") -> tuple[int, int] | None:
    """Return the place of the grid nearest to a pose; None off the map."""
    axes = ((surface.inner_rad, pose.inner_rad), (surface.fold_rad, pose.fold_rad))
    if any(not axis[0] <= angle <= axis[-1] for axis, angle in axes):
        return None
    inner, fold = (int(abs(axis - angle).argmin()) for axis, angle in axes)
    return inner, fold


def _path_of(design: "Design", evaluation: "Evaluation") -> "FoldPath":
    from rampdraft.mechanics.fold import fold_path

    return fold_path(design, design.sites[0], evaluation.sites[0].pose)


def _degrees(angle: float) -> str:
    return f"{format.number(angle, 0 if math.isclose(angle, round(angle)) else 1)}°"
