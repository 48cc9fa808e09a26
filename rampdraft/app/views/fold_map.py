"""The fold map: clearance over both angles, the path on it to be pulled about, and the ramp in the pose of
the cursor.
"""

import math
from typing import Final

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.app.answers import Answers
from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.canvas.map_canvas import MapCanvas
from rampdraft.app.document import Document
from rampdraft.app.furniture import across, button, column, label, splitter
from rampdraft.app.variant import Variant
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.following import FollowingView
from rampdraft.app.views.kept_map import KeptMap
from rampdraft.app.views.side import FOLD_SITE, clashing_on_path, held_at
from rampdraft.app.views.way_points import WayPoints
from rampdraft.drawing.fold_map import fold_map_ground, fold_map_path, kept_path, map_pose
from rampdraft.drawing.grips.grip import FINE
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.side import side_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.folding.clearance import closer_than
from rampdraft.mechanics.folding.way_points import corner_of, nearest_share
from rampdraft.words.figures import fixed
from rampdraft.words.say import named, say

SEEN_MM: Final = 20.0
"""How much further than the map says the pointed pose is searched for what is nearest."""
LOW_PX: Final = 440
CHOOSE: Final = "Choose a way-point to move it."
ENDS: Final = {
    0.0: "This end is set where the ground holds it.",
    1.0: "This end is set by the stowed and the closed angle, in Fold.",
}
"""Of the path, where it cannot be pulled."""
HELP: Final = (
    "Drag a way-point of the path, by whole degrees (Shift: tenths; Esc gives it back). Page Up and Page Down"
    " choose one, the arrow keys move it, Enter or a double click has its angles typed. Anywhere else: go to"
    " the nearest place of the fold. The wheel zooms, the middle button moves the sheet."
)


class FoldMapPanel(FollowingView):
    """Map and pose side by side; both follow the scrubber, and the map moves it."""

    goes_along = True

    def __init__(
        self, document: Document, fold_bar: FoldBar, answers: Answers, parent: QWidget | None = None
    ) -> None:
        super().__init__(document, parent)
        self._bar = fold_bar
        self._variant: Variant | None = None
        self._pointed: QPointF | None = None
        self._ground_of: object = None
        """What the map painted is about, and for which scale and with which note it was."""
        self.map = KeptMap(answers)
        self.canvas = MapCanvas(say("Fold map"), self)
        self.canvas.setWhatsThis(say(HELP))
        self.way_points = WayPoints(document, fold_bar, self.canvas, self)
        self.pose = Canvas(say("The ramp at the cursor"), self)
        self._which = label("", self, role="quiet", toolTip=say(HELP))
        put = say("Put a way-point on the path where the cursor stands")
        take = say("Take the chosen way-point out of the path")
        self.add = button(say("Add a way-point"), self.way_points.add, self, put)
        self.remove = button(say("Remove it"), self.way_points.remove, self, take)
        parts = ((self._which, 1), (self.add, 0), (self.remove, 0))
        row = across(*parts, margins=(10, 6, 10, 6), spacing=-1)
        for canvas in (self.canvas, self.pose):
            canvas.setMinimumHeight(80)
        split = splitter(Qt.Orientation.Vertical, self, (self.canvas, 3), (self.pose, 2))
        split.setSizes([340, 180])
        column(self, (split, 1), (row, 0))
        self._wire()

    def _wire(self) -> None:
        canvas = self.canvas
        canvas.scaled.connect(self._rescale)
        canvas.hovered.connect(self._hover)
        canvas.went.connect(self._go)
        self.way_points.chose.connect(self._say_which)
        self.pose.scaled.connect(self._draw_pose)
        self.map.line.came.connect(self.refresh)
        self.map.line.failed.connect(self.refresh)
        self._bar.moved.connect(self._follow)

    # What is shown

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave a low sheet to the map alone."""
        self.pose.setVisible(self.height() >= LOW_PX * theme.text_scale())

    def _take(self, evaluation: Evaluation) -> None:
        """Have the map made that is not of the ramp in hand."""
        if not self._document.previewing:
            self.map.want(evaluation)

    def _say_broken(self) -> None:
        self._set_out(usable=False)
        for canvas in (self.canvas, self.pose):
            canvas.show_picture(canvas.picture, note=self._note)

    def _clear(self) -> None:
        self._set_out(usable=False)
        self.canvas.say(())
        self.canvas.show_picture(None, note=self._note)
        self.canvas.show_live((), greyed=True)
        self.way_points.show(None)
        self.pose.show_picture(None, note=self._note)

    def _draw(self, evaluation: Evaluation) -> None:
        self._set_out(usable=not self._greyed)
        if not self.canvas.dragging:  # else each move says it
            self._hover(self._pointed)
        self._draw_ground(evaluation)
        self.way_points.show(None if self._greyed else evaluation)
        self._follow()

    def _set_out(self, *, usable: bool) -> None:
        for one in (self.add, self.remove):
            one.setEnabled(usable)

    def _draw_ground(self, evaluation: Evaluation) -> None:
        note = self._note or ("" if self.map.is_of(evaluation.design) else self.map.words)
        if self.map.surface is None:
            self.canvas.show_picture(None, note=note)
            return
        if self._ground_of == (self.map.line.answered, self.canvas.per_paper_mm, note):
            return
        picture = self.canvas.fit_to(self._ground)
        self._ground_of = (self.map.line.answered, self.canvas.per_paper_mm, note)
        self.canvas.show_picture(picture, note=note)

    def _ground(self) -> Picture:
        assert self.map.surface is not None
        assert self.map.design is not None
        return fold_map_ground(self.map.surface, self.map.design, self.canvas.per_paper_mm)

    def compare_with(self, variant: Variant) -> None:
        """Show the path of a kept ramp as a ghost on the map."""
        self._variant = variant
        variant.changed.connect(self._follow)

    def _rescale(self) -> None:
        if self._shown is not None and self.isVisible():
            self._draw_ground(self._shown)
            self._follow()

    def _follow(self) -> None:
        """Show path and cursor where the scrubber stands."""
        evaluation = self._shown
        if evaluation is None or not self.isVisible():
            return
        path, per_mm = evaluation.path, self.canvas.per_paper_mm
        kept = self._variant.shown if self._variant is not None else None
        ghost = kept_path(kept.design, kept.path) if kept is not None else ()
        marks = (*ghost, *fold_map_path(evaluation.design, path, path.pose(self._bar.share), per_mm))
        self.canvas.show_live(marks, greyed=self._greyed)
        self._draw_pose()
        self._say_which()

    def _draw_pose(self) -> None:
        evaluation = self._shown
        if evaluation is None or not self.pose.isVisible():
            return
        pose = evaluation.path.pose(self._bar.share)
        picture = side_view(
            evaluation,
            pose=pose,
            drop_mm=0.0,
            site_number=FOLD_SITE,
            dimensions=False,
            hands=held_at(evaluation, self._bar.share),
            clashing=clashing_on_path(evaluation, pose),
            per_mm=self.pose.per_paper_mm,
        )
        self.pose.set_box(picture.box)
        self.pose.show_picture(picture, note=self._note)

    def _say_which(self) -> None:
        evaluation = self._shown
        if evaluation is None:
            return
        path, number = evaluation.path, self.way_points.chosen
        self.remove.setEnabled(number > 0 and not self._greyed)
        if number < 0:
            kind = say("own stages") if evaluation.design.fold_stages else say("the usual sequence")
            proved = say("its clearance is being worked out")
            if evaluation.shares(Evaluation.clearance):
                tightest = evaluation.clearance.tightest
                proved = say(
                    "clearance {clearance} or more all the way",
                    clearance=fixed(tightest.certified_mm, 1, "mm"),
                )
                if tightest.certified_mm < 0:
                    proved = say("clash, {depth} deep", depth=fixed(-tightest.clearance_mm, 1, "mm"))
            way_out = say(ENDS.get(self._bar.share, CHOOSE))
            self._which.setText(
                say("The path is {kind}: {proved}. {way_out}", kind=kind, proved=proved, way_out=way_out)
            )
            return
        inner, fold = corner_of(path.poses[number], FINE)
        words = say(
            "Way-point {number} of {count}: inner leaf {inner}, joint {joint}",
            number=number,
            count=len(path.poses) - 2,
            inner=_degrees(inner),
            joint=_degrees(fold),
        )
        self._which.setText(say("{words}. Arrow keys move it.", words=words))

    # The pointer

    def _hover(self, place: QPointF | None) -> None:
        """Say at the pointer what the pose under it leaves, or which bodies clash."""
        evaluation, surface, self._pointed = self._shown, self.map.surface, place
        known = evaluation is not None and not self._greyed and self.map.is_of(evaluation.design)
        if place is None or evaluation is None or surface is None or not known:
            self.canvas.say(())
            return
        design = evaluation.design
        pose = map_pose(design, (place.x(), place.y()))
        if self.canvas.dragging:
            pose = evaluation.path.poses[self.way_points.chosen]
        inner, fold = corner_of(pose, FINE)
        about_mm = surface.near(pose)
        if about_mm is None:
            self.canvas.say(())
            return
        within = max(about_mm, 0.0) + SEEN_MM
        near = closer_than(design, evaluation.assembly, pose, design.sites[FOLD_SITE - 1], within)
        lines = [say("inner leaf {inner}, joint {joint}", inner=_degrees(inner), joint=_degrees(fold))]
        if not near:
            lines.append(say("over {room} free", room=fixed(within, 0, "mm")))
        elif near[0].clearance_mm < 0:
            lines += [
                say("clash, {depth} deep:", depth=fixed(-near[0].clearance_mm, 1, "mm")),
                say("{one} in {other}", one=named(near[0].member_a), other=named(near[0].member_b)),
            ]
        else:
            clear = fixed(near[0].clearance_mm, 1, "mm")
            lines += [
                say("clearance {clearance}:", clearance=clear),
                say("{a} to {b}", a=named(near[0].member_a), b=named(near[0].member_b)),
            ]
        self.canvas.say(tuple(lines))

    def _go(self, place: QPointF) -> None:
        """Go to the place of the path that is nearest to a place of the map."""
        if self._shown is not None:
            self.way_points.choose(-1)
            target = map_pose(self._shown.design, (place.x(), place.y()))
            self._bar.go(nearest_share(self._shown.path, target))

    # Way-points

    def _begin(self) -> None:
        self.way_points.choose(-1)
        self._ground_of = self._pointed = None
        self.canvas.fit()
        self.pose.fit()


def _degrees(angle: float) -> str:
    return fixed(angle, 0 if math.isclose(angle, round(angle)) else 1, "°")
