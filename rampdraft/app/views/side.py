"""The side view: the ramp standing at a site, or anywhere on its fold."""

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, QSize, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QButtonGroup, QComboBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.document import Document
from rampdraft.app.form import format
from rampdraft.app.views.fold_bar import FoldBar

if TYPE_CHECKING:
    from rampdraft.drawing.ink import Picture
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.geometry.outline import Outline
    from rampdraft.geometry.pose import Pose
    from rampdraft.mechanics.folding.search import Blocked
    from rampdraft.mechanics.results import ClashingPair, SitePose

SWEPT_POSES: Final = 181
"""So many that the outer leaf's toe leaves no notches that show."""

FOLD_SITE = 1
"""The fold is judged at the first site, with the deck empty."""

STALE_NOTE = "This is the last good ramp. Mend the values marked on the left, and the drawing follows."

NOTHING_NOTE = "Nothing can be drawn yet. Mend the values marked on the left."


class SidePanel(QWidget):
    """Canvas, chooser of what is shown, and the scrubber."""

    said = Signal(str)
    """What the view shows now, in words."""

    def __init__(self, document: Document, fold_bar: FoldBar, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._blocked: Blocked | None = None
        self._hands, self._swept = True, False
        self._sweep: tuple[Evaluation, tuple[Outline, ...]] | None = None
        self._shown: Evaluation | None = None
        self._boxed: Evaluation | None = None
        self._boxed_at: object = None
        self.canvas = Canvas("Side view", self)
        self.canvas.scaled.connect(self._rescale)
        self.fold_bar = fold_bar
        self.fold_bar.moved.connect(self._follow_fold)
        self.standing = QPushButton("Standing", self)
        self.standing.setToolTip("The ramp put down at a site")
        self.folding = QPushButton("Folding", self)
        self.folding.setToolTip("The ramp on its way between deployed and stowed")
        self._ways = QButtonGroup(self)
        for button in (self.standing, self.folding):
            button.setCheckable(True)
            self._ways.addButton(button)
        self.standing.setChecked(True)
        self._ways.buttonClicked.connect(self._changed_way)
        self.site = QComboBox(self)
        self.site.setAccessibleName("Site and deck")
        self.site.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.site.setMinimumContentsLength(16)
        self.site.activated.connect(self._chose_site)
        self._fit = QPushButton("Fit", self)
        self._fit.setToolTip("Show the whole (double click, or 0 on the drawing)")
        self._fit.clicked.connect(self.canvas.fit)
        top = QHBoxLayout()
        top.setContentsMargins(10, 8, 10, 8)
        top.setSpacing(4)
        for widget in (self.standing, self.folding):
            top.addWidget(widget)
        top.addWidget(self.site, 1)
        top.addWidget(self._fit)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(top)
        column.addWidget(self.canvas, 1)
        document.changed.connect(self.refresh)
        document.opened.connect(self._begin)

    def sizeHint(self) -> QSize:
        """Return a roomy sheet."""
        return QSize(640, 560)

    def refresh(self) -> None:
        """Follow the document, if anybody sees it."""
        evaluation = self._document.evaluation
        if not self.isVisible():
            return
        if evaluation is None:
            self._shown = None
            self.canvas.show_picture(None, note=NOTHING_NOTE if self._document.design is not None else "")
            return
        if evaluation is not self._shown:
            self._shown, self._blocked = evaluation, None
            self._list_sites(evaluation)
        self._draw()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def show_site(self, site_number: int, state: str = "") -> None:
        """Stand the ramp at a site."""
        for row in range(self.site.count()):
            place = self.site.itemData(row)
            if place[0] == site_number and state in ("", place[1]):
                self.site.setCurrentIndex(row)
                break
        self.standing.setChecked(True)
        self._draw()

    def show_share(self, share: float) -> None:
        """Go to a place on the fold."""
        self.folding.setChecked(True)
        self.fold_bar.go(share)

    def show_hands(self, shown: bool) -> None:
        """Draw hands where they hold, or not."""
        self._hands = shown
        self._draw()

    def show_swept(self, shown: bool) -> None:
        """Leave all the room that the fold goes through on the sheet, or not."""
        self._swept, self._boxed = shown, None
        if shown:
            self.folding.setChecked(True)
        self._draw()

    def show_blocked(self, blocked: "Blocked") -> None:
        """Show the pose where every way to fold is blocked, with what stands in the way, until the scrubber
        moves.
        """
        self.folding.setChecked(True)
        self.fold_bar.pause()
        self._blocked = blocked
        self._draw()

    def _begin(self) -> None:
        self.standing.setChecked(True)
        self.site.setCurrentIndex(0)
        self.canvas.fit()

    def _list_sites(self, evaluation: "Evaluation") -> None:
        items = [
            (_site_words(pose), (pose.site_number, pose.state))
            for pose in evaluation.sites
            if pose.site_number > 0
        ]
        if items == [(self.site.itemText(row), self.site.itemData(row)) for row in range(self.site.count())]:
            return
        before = self.site.currentData()
        with QSignalBlocker(self.site):
            self.site.clear()
            for words, place in items:
                self.site.addItem(words, place)
            places = [place for _, place in items]
            self.site.setCurrentIndex(places.index(before) if before in places else 0)

    def _place(self, evaluation: "Evaluation") -> "SitePose":
        chosen = self.site.currentData()
        found = (pose for pose in evaluation.sites if (pose.site_number, pose.state) == chosen)
        return next(found, evaluation.sites[0])

    def _chose_site(self) -> None:
        self.standing.setChecked(True)
        self._changed_way()

    def _changed_way(self) -> None:
        self._blocked = None
        self.fold_bar.pause()
        self._draw()

    def _follow_fold(self) -> None:
        self.folding.setChecked(True)
        self._blocked = None
        self._draw()

    def _rescale(self) -> None:
        if self.canvas.fitted:
            self._boxed = None
        self._draw()

    def _draw(self) -> None:
        """Show the picture again: after an edit, at each frame of the fold, and when the scale has
        changed.
        """
        if self._shown is None:
            return
        at = (self._shown is self._boxed, self.folding.isChecked(), self.site.currentData())
        if at == self._boxed_at:
            picture = self._picture()
        else:
            # Once for each ramp and place, so that the sheet lies still while the fold moves.
            self._boxed, self._boxed_at = self._shown, (True, *at[1:])
            picture = self.canvas.fit_to(self._picture_of_room)
            if self.folding.isChecked():
                picture = self._picture()
        self.canvas.show_picture(picture, note=STALE_NOTE if self._document.stale else "")

    def _picture(self) -> "Picture":
        assert self._shown is not None
        return (
            self._folding(self._shown, self.fold_bar.share)
            if self.folding.isChecked()
            else self._standing(self._shown)
        )

    def _picture_of_room(self) -> "Picture":
        """Return the picture that takes most room: stowed, while folding."""
        assert self._shown is not None
        return self._folding(self._shown, 1.0) if self.folding.isChecked() else self._standing(self._shown)

    def _standing(self, evaluation: "Evaluation") -> "Picture":
        from rampdraft.drawing.side import side_view

        place = self._place(evaluation)
        return side_view(
            evaluation,
            pose=place.pose,
            drop_mm=place.drop_mm,
            site_number=place.site_number,
            flap_rad=place.flap_rad,
            frame="pose",
            per_mm=self.canvas.per_paper_mm,
        )

    def _folding(self, evaluation: "Evaluation", share: float) -> "Picture":
        from rampdraft.drawing.handling import hand_at
        from rampdraft.drawing.side import side_view

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
            hands=(hand_at(evaluation, share),) if self._hands and blocked is None else (),
            swept=self._swept_room(evaluation) if self._swept else (),
            clashing=blocked.bodies if blocked is not None else clashing_on_path(evaluation, pose),
            frame="fold",
            per_mm=self.canvas.per_paper_mm,
        )

    def _swept_room(self, evaluation: "Evaluation") -> "tuple[Outline, ...]":
        """Return the room that the fold goes through, found once for each ramp."""
        from rampdraft.mechanics.folding.envelope import swept_outlines

        if self._sweep is None or self._sweep[0] is not evaluation:
            path = evaluation.fold.path
            self._sweep = (
                evaluation,
                swept_outlines(evaluation.design, evaluation.assembly, path, SWEPT_POSES),
            )
        return self._sweep[1]


def clashing_on_path(evaluation: "Evaluation", pose: "Pose") -> "tuple[ClashingPair, ...]":
    """Return the pairs that clash in a pose of the path; none are looked for where the certificate says that
    none can.
    """
    from rampdraft.mechanics.folding.clearance import clashing_at

    if evaluation.fold.clearance.tightest.certified_mm >= 0:
        return ()
    return clashing_at(evaluation.design, evaluation.assembly, pose, evaluation.design.sites[FOLD_SITE - 1])


def _site_words(pose: "SitePose") -> str:
    drop = f", {format.number(pose.drop_mm)} mm lower" if pose.drop_mm else ""
    return f"{pose.site_number}  {pose.site}, deck {pose.state}{drop}"
