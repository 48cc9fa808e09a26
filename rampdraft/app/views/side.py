"""The side view: the ramp standing at a site, or anywhere on its fold."""

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.furniture import across, chooser, column, fit_button, put_items, switches
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.following import DrawingView
from rampdraft.drawing.ghost import SIDE, ghosted
from rampdraft.drawing.handling import hands_at
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.insets import with_insets
from rampdraft.drawing.side import side_places, side_view, standing_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.outline import Outline
from rampdraft.mechanics.folding.clearance import clashing_at
from rampdraft.mechanics.folding.envelope import swept_outlines
from rampdraft.mechanics.results import ClashingPair, SitePose

if TYPE_CHECKING:
    from rampdraft.mechanics.folding.search import Blocked

SWEPT_POSES: Final = 181
"""So many that the outer leaf's toe leaves no notches that show."""

FOLD_SITE: Final = 1
"""The fold is judged at the first site, with the deck empty."""

WAYS: Final = (
    ("Standing", "The ramp put down at a site"),
    ("Folding", "The ramp on its way between deployed and stowed"),
)


class SidePanel(DrawingView):
    """Canvas, chooser of what is shown, and the scrubber."""

    def __init__(self, document: Document, fold_bar: FoldBar, parent: QWidget | None = None) -> None:
        super().__init__(document, "Side view", parent)
        self._blocked: Blocked | None = None
        self._hands, self._swept, self._details = True, False, True
        self._sweep: tuple[Outline, ...] | None = None
        """The room that the fold of the ramp shown goes through, once it is found."""
        self.fold_bar = fold_bar
        self.fold_bar.moved.connect(self._follow_fold)
        self.standing, self.folding = switches(WAYS, self._changed_way, self)
        self.site = chooser("Site and deck", self._chose_site, self)
        fit = fit_button(self.canvas, self)
        top = across((self.standing, 0), (self.folding, 0), (self.site, 1), (fit, 0))
        column(self, (top, 0), (self.canvas, 1))

    @property
    def waits(self) -> bool:
        """Return whether the fold is shown, which all is judged of first."""
        return self.folding.isChecked()

    def sizeHint(self) -> QSize:
        """Return a roomy sheet."""
        return QSize(640, 560)

    def show_site(self, site_number: int, state: str = "") -> None:
        """Stand the ramp at a site."""
        for row in range(self.site.count()):
            place = self.site.itemData(row)
            if place[0] == site_number and state in ("", place[1]):
                self.site.setCurrentIndex(row)
                break
        self.standing.setChecked(True)
        self._redraw()

    def show_share(self, share: float) -> None:
        """Go to a place on the fold."""
        self.folding.setChecked(True)
        self.fold_bar.go(share)

    def show_hands(self, shown: bool) -> None:
        """Draw hands where they hold, or not."""
        self._hands = shown
        self._redraw()

    def show_details(self, shown: bool) -> None:
        """Enlarge deck edge, joint and toe where the sheet is empty, or not."""
        self._details = shown
        self._redraw()

    def show_swept(self, shown: bool) -> None:
        """Leave all the room that the fold goes through on the sheet, or not."""
        self._swept = shown
        if shown:
            self.folding.setChecked(True)
        self._refit()

    def show_blocked(self, blocked: "Blocked") -> None:
        """Show the pose where every way to fold is blocked, with what stands in the way, until the scrubber
        moves.
        """
        self.folding.setChecked(True)
        self.fold_bar.pause()
        self._blocked = blocked
        self._redraw()

    def _begin(self) -> None:
        self.standing.setChecked(True)
        self.site.setCurrentIndex(0)
        super()._begin()

    def _take(self, evaluation: Evaluation) -> None:
        super()._take(evaluation)
        self._blocked = self._sweep = None
        sites = (pose for pose in evaluation.sites if pose.site_number > 0)
        places = [(site_words(pose), (pose.site_number, pose.state, False)) for pose in sites]
        risen = [
            (f"{site_words(one.site)}, as the springs lift it", (one.site.site_number, one.site.state, True))
            for one in evaluation.staying
            if one.rest is not None
        ]
        put_items(self.site, [*places, *risen])

    def _place(self, evaluation: Evaluation) -> tuple[SitePose, Pose]:
        """Return the site chosen, and the pose there: put down, or where springs let the empty ramp rest."""
        number, state, risen = self.site.currentData() or (0, "", False)
        found = (pose for pose in evaluation.sites if (pose.site_number, pose.state) == (number, state))
        site = next(found, evaluation.sites[0])
        rests = (one.rest for one in evaluation.staying if one.site == site and one.rest is not None)
        return site, next(rests, site.pose) if risen else site.pose

    def _chose_site(self) -> None:
        self.standing.setChecked(True)
        self._changed_way()

    def _changed_way(self) -> None:
        self.fold_bar.pause()
        self._follow()

    def _follow_fold(self) -> None:
        self.folding.setChecked(True)
        self._follow()

    def _follow(self) -> None:
        self._blocked = None
        self._redraw()

    def _draw(self, evaluation: Evaluation) -> None:
        """Show the picture again: after an edit, at each frame of the fold, and when the scale has
        changed.
        """
        at = (self.folding.isChecked(), self.site.currentData())
        if at != self._boxed_at:
            # Once for each ramp and place, so that the sheet lies still while the fold moves.
            self._boxed_at = at
            picture = self.canvas.fit_to(partial(self._picture, evaluation, 1.0))
            if self.folding.isChecked():
                picture = self._picture(evaluation, self.fold_bar.share)
        else:
            picture = self._picture(evaluation, self.fold_bar.share)
        self.canvas.show_picture(self._with_details(evaluation, picture), note=self._note)

    def _picture(self, evaluation: Evaluation, share: float) -> Picture:
        """Return the ramp, with the ghost of one that is kept beside it."""
        picture, kept = self._alone(evaluation, share), self._kept
        if kept is None:
            return picture
        return ghosted(picture, self._alone(kept, share), kept.assembly, SIDE)

    def _with_details(self, evaluation: Evaluation, picture: Picture) -> Picture:
        """Return the ramp put down with deck edge, joint and toe enlarged, while the whole is shown."""
        if not self._details or self.folding.isChecked() or not self.canvas.fitted:
            return picture
        site, pose = self._place(evaluation)
        places = side_places(evaluation, replace(site, pose=pose))
        sheet, per_mm = self.canvas.sheet, self.canvas.per_paper_mm
        return with_insets(picture, places, sheet, per_mm, theme.text_scale())

    def _alone(self, evaluation: Evaluation, share: float) -> Picture:
        """Return the ramp standing, or at a share of the fold; stowed, at 1, it takes most room."""
        if self.folding.isChecked():
            return self._folding(evaluation, share)
        site, pose = self._place(evaluation)
        flap = evaluation.design.toe.kind == "flap"
        return standing_view(evaluation, replace(site, pose=pose), self.canvas.per_paper_mm, flap=flap)

    def _folding(self, evaluation: Evaluation, share: float) -> Picture:
        blocked = self._blocked
        pose = blocked.pose if blocked is not None else evaluation.fold.path.pose(share)
        tightest = evaluation.fold.clearance.tightest
        nearest = tightest if share == tightest.at and blocked is None else None
        return side_view(
            evaluation,
            pose=pose,
            drop_mm=0.0,
            site_number=FOLD_SITE,
            nearest=nearest,
            dimensions=nearest is None and blocked is None,
            hands=hands_at(evaluation, share) if self._hands and blocked is None else (),
            swept=self._swept_room(evaluation) if self._swept else (),
            clashing=blocked.bodies if blocked is not None else clashing_on_path(evaluation, pose),
            frame="fold",
            per_mm=self.canvas.per_paper_mm,
        )

    def _swept_room(self, evaluation: Evaluation) -> tuple[Outline, ...]:
        """Return the room that the fold goes through, found once for each ramp."""
        if self._sweep is None:
            self._sweep = swept_outlines(
                evaluation.design, evaluation.assembly, evaluation.fold.path, SWEPT_POSES
            )
        return self._sweep


def clashing_on_path(evaluation: Evaluation, pose: Pose) -> tuple[ClashingPair, ...]:
    """Return the pairs that clash in a pose of the path; none are looked for where the certificate says that
    none can.
    """
    if evaluation.fold.clearance.tightest.certified_mm >= 0:
        return ()
    return clashing_at(evaluation.design, evaluation.assembly, pose, evaluation.design.sites[FOLD_SITE - 1])


def site_words(pose: SitePose) -> str:
    """Return a site by its number and name, with the state of the deck."""
    way = "lower" if pose.drop_mm > 0 else "higher"
    drop = f", {format.number(round(abs(pose.drop_mm), 1))} mm {way}" if pose.drop_mm else ""
    return f"{pose.site_number}  {pose.site}, {pose.deck}{drop}"
