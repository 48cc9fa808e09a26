"""The side view: the ramp standing at a site, or anywhere on its fold."""

import re
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, QSize
from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import chooser, column, fit_button, put_items, switches
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.following import DrawingView
from rampdraft.app.views.hand import Hand
from rampdraft.drawing.ghost import SIDE, ghosted
from rampdraft.drawing.grips.grip import IN_PLACE, Grip, within_details
from rampdraft.drawing.grips.ramp import folding_grips, standing_grips
from rampdraft.drawing.handling import hands_at
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.insets import Inset, insets, with_these
from rampdraft.drawing.side import side_places, side_view, standing_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.outline import Outline
from rampdraft.mechanics.folding.clearance import clashing_at
from rampdraft.mechanics.folding.envelope import swept_outlines
from rampdraft.mechanics.results import ClashingPair, SitePose
from rampdraft.mechanics.standing.props import sink
from rampdraft.units import MM, RAD
from rampdraft.words.figures import mm
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.mechanics.folding.search import Blocked

SWEPT_POSES: Final = 181
"""So many that the outer leaf's toe leaves no notches that show."""

FOLD_SITE: Final = 1
"""The fold is judged at the first site, with the deck empty."""

HELP: Final = (
    "Drag a grip to change its value, in whole millimetres and sizes that are sold (Shift: tenths). Tab goes"
    " from grip to grip, the arrow keys move one, Enter takes, Esc gives back. Enter or a double click at a"
    " grip or a dimension: type its value. At a point of the ground: click on the line, or press Insert, to"
    " set another; Delete takes it away. The wheel zooms; drag the sheet to move it."
)
STOWED: Final = (
    "fold.stowed_deg",
    "fold.closed_deg",
    "carrier.stow_height_mm",
    "carrier.stow_out_mm",
    "carrier.stow_in_mm",
)
"""Values that are seen where the ramp is stowed."""
PUT_DOWN: Final = ("prop", "toe", "bridge")
"""Parts that are seen where the ramp is put down."""
_ROW: Final = re.compile(r"\[(\d+)\]")

WAYS: Final = (
    ("Standing", "The ramp put down at a site"),
    ("Folding", "The ramp on its way between deployed and stowed"),
)


class SidePanel(DrawingView):
    """Canvas with grips, chooser of what is shown, and the scrubber."""

    goes_along = True

    def __init__(self, document: Document, fold_bar: FoldBar, parent: QWidget | None = None) -> None:
        self._grips = GripCanvas(say("Side view"))
        super().__init__(document, self._grips, parent)
        self.hand = Hand(document, self._grips, self)
        self._grips.setWhatsThis(say(HELP))
        self._blocked: Blocked | None = None
        self._hands, self._swept, self._details = True, False, True
        self._sunk: tuple[int, MM, RAD] | None = None
        """Site, drop and nod of the deck as a check tells of it."""
        self._sweep: tuple[Outline, ...] | None = None
        """The room that the fold of the ramp shown goes through, once it is found."""
        self._insets: tuple[Inset, ...] = ()
        self._stood: tuple[int, str, bool] | None = None
        """Where it stood before it was folded; None while it stands."""
        self.fold_bar = fold_bar
        self.fold_bar.moved.connect(self._follow_fold)
        self.standing, self.folding = switches(WAYS, self._changed_way, self)
        self.site = chooser(say("Site and deck"), self._chose_site, self)
        fit = fit_button(self.canvas, self)
        top = ChooserRow((self.standing, self.folding, self.site, fit), self)
        column(self, (top, 0), (self.canvas, 1))

    def sizeHint(self) -> QSize:
        """Return a roomy sheet."""
        return QSize(640, 560)

    def show_site(self, site_number: int, state: str = "") -> None:
        """Stand the ramp at a site."""
        self._name_site()
        for row in range(self.site.count()):
            place = self.site.itemData(row)
            if place[0] == site_number and state in ("", place[1]):
                self._stood = None
                self.site.setCurrentIndex(row)
                break
        self.standing.setChecked(True)
        self._redraw()

    def _name_site(self) -> None:
        """Name the site whose ground is drawn: the ramp folds at the first one, deck empty."""
        box, at = self.site, (FOLD_SITE, "empty", False)
        if self.folding.isChecked() == (self._stood is not None):
            return
        self._stood, at = (box.currentData(), at) if self.folding.isChecked() else (None, self._stood)
        with QSignalBlocker(box):
            box.setCurrentIndex(next((row for row in range(box.count()) if box.itemData(row) == at), 0))

    def show_field(self, path: str) -> None:
        """Show where a value is seen best: its site, its stage of the fold, or the ramp stowed."""
        group, _, name = path.partition(".")
        number = int(found[1]) if (found := _ROW.search(group)) else 0
        evaluation = self._shown
        if evaluation is None or self._document.stale:
            return
        if group.startswith("sites["):
            self.show_site(number)
        elif name == "deck_drop_mm":
            self.show_site(self._site_number, "loaded")
        elif group.startswith("fold_stages[") and number <= len(evaluation.path.stages):
            self.show_share(evaluation.path.stages[number - 1].end)
        elif path in STOWED:
            self.show_share(1.0)
        elif group in PUT_DOWN and self.folding.isChecked():
            self.show_site(self._site_number)

    @property
    def _site_number(self) -> int:
        """Return the number of the site named."""
        return (self._stood or self.site.currentData() or (1,))[0]

    def show_sunk(self, site_number: int, drop_mm: MM, nod_rad: RAD) -> None:
        """Stand the ramp at a site with the deck sunk so far under somebody who rolls."""
        self._sunk = site_number, drop_mm, nod_rad
        self._boxed_at = None
        if self._shown is not None:
            self._put_sites(self._shown)
        self.show_site(site_number, "sinking")

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
        self._stood = None
        self.standing.setChecked(True)
        self.site.setCurrentIndex(0)
        super()._begin()

    def _take(self, evaluation: Evaluation) -> None:
        super()._take(evaluation)
        self._blocked = self._sweep = None
        if not self._document.previewing:  # while something is dragged the sites are those that they were
            self._put_sites(evaluation)

    def _put_sites(self, evaluation: Evaluation) -> None:
        sites = (pose for pose in evaluation.sites if pose.site_number > 0)
        places = [(site_words(pose), (pose.site_number, pose.state, False)) for pose in sites]
        risen = [
            (
                say("{site}, as the springs lift it", site=site_words(one.site)),
                (one.site.site_number, one.site.state, True),
            )
            for one in evaluation.staying
            if one.rest is not None
        ]
        sunk = self._sunk_pose(evaluation)
        sinking = [] if sunk is None else [(site_words(sunk), (sunk.site_number, sunk.state, False))]
        put_items(self.site, [*places, *risen, *sinking])

    def _sunk_pose(self, evaluation: Evaluation) -> SitePose | None:
        """Return the ramp on a deck that has sunk under somebody who rolls; None where none was asked for, or
        its site is gone.
        """
        if self._sunk is None or self._sunk[0] > len(evaluation.design.sites):
            return None
        return sink(evaluation.design, evaluation.straight, evaluation.props_set, *self._sunk)

    def _place(self, evaluation: Evaluation) -> tuple[SitePose, Pose]:
        """Return the site chosen, and the pose there: put down, on its props if it has any, or where springs
        let the empty ramp rest.
        """
        number, state, risen = self.site.currentData() or (0, "", False)
        sunk = self._sunk_pose(evaluation) if state == "sinking" else None
        if sunk is not None:
            return sunk, sunk.pose
        found = (pose for pose in evaluation.sites if (pose.site_number, pose.state) == (number, state))
        site = next(found, evaluation.sites[0])
        if not risen:
            borne = evaluation.props_set.borne(site)
            return borne, borne.pose
        rests = (one.rest for one in evaluation.staying if one.site == site and one.rest is not None)
        return site, next(rests, site.pose)

    def _chose_site(self) -> None:
        self._stood = None
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
        self._name_site()
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
        self._grips.show_grips(self._pulled(evaluation))

    def _clear(self) -> None:
        super()._clear()
        self._grips.show_grips(())

    def _pulled(self, evaluation: Evaluation) -> tuple[Grip, ...]:
        """Return what can be taken hold of: nothing while the fold plays, or of a ramp that is not in
        hand.
        """
        if self._greyed or self.fold_bar.playing or self._blocked is not None:
            return ()
        if self.folding.isChecked():
            pose = evaluation.path.pose(self.fold_bar.share)
            return folding_grips(evaluation.design, pose, FOLD_SITE)
        site, pose = self._place(evaluation)
        grips = standing_grips(evaluation, replace(site, pose=pose))
        return within_details(grips, tuple(inset.detail for inset in self._insets))

    def _picture(self, evaluation: Evaluation, share: float) -> Picture:
        """Return the ramp, with the ghost of one that is kept beside it."""
        picture, kept = self._alone(evaluation, share), self._kept
        if kept is None:
            return picture
        return ghosted(picture, self._alone(kept, share), kept.assembly, SIDE)

    def _with_details(self, evaluation: Evaluation, picture: Picture) -> Picture:
        """Return the ramp put down with deck edge, joint and toe enlarged, while the whole is shown. Their
        frames stay while something is dragged; so does what they show, where it is dragged in one of them.
        """
        if not self._details or self.folding.isChecked() or not self.canvas.fitted:
            self._insets = ()
            return picture
        site, pose = self._place(evaluation)
        per_mm = self.canvas.per_paper_mm
        if not self._document.previewing or not self._insets:
            places = side_places(evaluation, replace(site, pose=pose))
            self._insets = insets(picture, places, self.canvas.sheet, per_mm)
        elif not self._held_in_detail:
            places = side_places(evaluation, replace(site, pose=pose))
            self._insets = tuple(
                replace(inset, place=place) for inset, place in zip(self._insets, places, strict=True)
            )
        return with_these(picture, self._insets, per_mm)

    @property
    def _held_in_detail(self) -> bool:
        """Return whether what is in hand is pulled in a detail."""
        held = self.hand.held
        return held is not None and held.rank > IN_PLACE

    def _alone(self, evaluation: Evaluation, share: float) -> Picture:
        """Return the ramp standing, or at a share of the fold; stowed, at 1, it takes most room."""
        if self.folding.isChecked():
            return self._folding(evaluation, share)
        site, pose = self._place(evaluation)
        flap = evaluation.design.toe.kind == "flap"
        return standing_view(evaluation, replace(site, pose=pose), self.canvas.per_paper_mm, flap=flap)

    def _folding(self, evaluation: Evaluation, share: float) -> Picture:
        blocked = self._blocked
        pose = blocked.pose if blocked is not None else evaluation.path.pose(share)
        nearest = None
        if blocked is None and evaluation.shares(Evaluation.clearance):
            tightest = evaluation.clearance.tightest
            nearest = tightest if share == tightest.at else None
        return side_view(
            evaluation,
            pose=pose,
            drop_mm=0.0,
            site_number=FOLD_SITE,
            nearest=nearest,
            dimensions=nearest is None and blocked is None,
            hands=held_at(evaluation, share) if self._hands and blocked is None else (),
            swept=self._swept_room(evaluation) if self._swept and not self._document.previewing else (),
            clashing=blocked.bodies if blocked is not None else clashing_on_path(evaluation, pose),
            frame="fold",
            per_mm=self.canvas.per_paper_mm,
        )

    def _swept_room(self, evaluation: Evaluation) -> tuple[Outline, ...]:
        """Return the room that the fold goes through, found once for each ramp."""
        if self._sweep is None:
            self._sweep = swept_outlines(evaluation.design, evaluation.assembly, evaluation.path, SWEPT_POSES)
        return self._sweep


def clashing_on_path(evaluation: Evaluation, pose: Pose) -> tuple[ClashingPair, ...]:
    """Return the pairs that clash in a pose of the path; none are looked for where the certificate says that
    none can, nor before there is one.
    """
    if not evaluation.shares(Evaluation.clearance) or evaluation.clearance.tightest.certified_mm >= 0:
        return ()
    return clashing_at(evaluation.design, evaluation.assembly, pose, evaluation.design.sites[FOLD_SITE - 1])


def held_at(evaluation: Evaluation, share: float) -> tuple[str, ...]:
    """Return the places that hands hold at a share of the fold; none before they are known."""
    return hands_at(evaluation, share) if evaluation.shares(Evaluation.hand) else ()


def site_words(pose: SitePose) -> str:
    """Return a site by its number and name, with the state of the deck."""
    way = say("lower") if pose.drop_mm > 0 else say("higher")
    drop = f", {mm(abs(pose.drop_mm))} {way}" if pose.drop_mm else ""
    return f"{pose.site_number}  {pose.site}, {say(pose.deck)}{drop}"
