"""What the views of the whole ramp do alike: it stands at a site, or anywhere on its fold."""

from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.document import Document
from rampdraft.app.furniture import chooser, put_items, switches
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.following import DrawingView
from rampdraft.app.views.side import WAYS, site_words
from rampdraft.drawing.solid.scene import Solid, Stand
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.results import SitePose
from rampdraft.words.say import say


class PlacedView(DrawingView):
    """A drawing of the ramp as the chooser or the fold's scrubber has it."""

    def __init__(
        self,
        document: Document,
        canvas: str | Canvas,
        fold_bar: FoldBar,
        parent: QWidget | None = None,
        *,
        ways: tuple[tuple[str, str], ...] = WAYS,
    ) -> None:
        super().__init__(document, canvas, parent)
        self._bar = fold_bar
        self._solid: Solid | None = None
        self._other_solid: tuple[Evaluation, Solid] | None = None
        """Of the ramp that is kept beside."""
        self.ways = switches(ways, self._chose, self)
        self.standing, self.folding, *_ = self.ways
        self.site = chooser(say("Site and deck"), self._stand, self)
        fold_bar.moved.connect(self._follow_fold)

    @property
    def waits(self) -> bool:
        """Return whether it is seen folding, or rolled over, which all is judged of first."""
        return not self.standing.isChecked()

    def _begin(self) -> None:
        self.standing.setChecked(True)
        self.site.setCurrentIndex(0)
        super()._begin()

    def _take(self, evaluation: Evaluation) -> None:
        super()._take(evaluation)
        self._solid = Solid(evaluation)
        sites = (pose for pose in evaluation.sites if pose.site_number > 0)
        put_items(self.site, [(site_words(pose), (pose.site_number, pose.state)) for pose in sites])

    def _chose(self) -> None:
        self._bar.pause()
        self._refit()

    def _stand(self) -> None:
        self.standing.setChecked(True)
        self._chose()

    def _follow_fold(self) -> None:
        if self.folding.isChecked():
            self._redraw()
        else:
            self.folding.setChecked(True)
            self._refit()

    def _place(self, evaluation: Evaluation) -> SitePose:
        found = (
            pose for pose in evaluation.sites if (pose.site_number, pose.state) == self.site.currentData()
        )
        return next(found, evaluation.sites[0])

    @property
    def solid(self) -> Solid:
        """Return the ramp that was taken last as a solid."""
        assert self._solid is not None
        return self._solid

    def _other(self, evaluation: Evaluation, stand: Stand) -> tuple[Solid, Stand] | None:
        """Return the kept ramp as a solid, and how it stands at the same place; None without one."""
        kept = self._kept
        if kept is None:
            return None
        if self._other_solid is None or self._other_solid[0] is not kept:
            self._other_solid = kept, Solid(kept)
        if self.folding.isChecked():
            there = Stand(pose=kept.path.pose(self._bar.share))
        else:
            state = _state(evaluation, stand.site_number, stand.drop_mm)
            places = (one for one in kept.sites if (one.site_number, one.state) == (stand.site_number, state))
            there = stand_at(next(places, kept.sites[0]))
        return self._other_solid[1], there

    def _stood(self, evaluation: Evaluation) -> tuple[Stand, tuple[Stand, ...]]:
        """Return how it stands, and what the sheet must have room for besides."""
        if self.folding.isChecked():
            path = evaluation.path
            room = tuple(Stand(pose=path.pose(share)) for share in (0.0, 0.5, 1.0))
            return Stand(pose=path.pose(self._bar.share)), room
        return stand_at(self._place(evaluation)), ()


def _state(evaluation: Evaluation, site_number: int, drop_mm: float) -> str:
    found = (
        one.state for one in evaluation.sites if (one.site_number, one.drop_mm) == (site_number, drop_mm)
    )
    return next(found, "empty")


def stand_at(site: SitePose) -> Stand:
    """Return the ramp put down at a site."""
    return Stand(
        pose=site.pose, drop_mm=site.drop_mm, site_number=max(site.site_number, 1), flap_rad=site.flap_rad
    )
