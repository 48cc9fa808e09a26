"""The rolling view: a user on its way over the ramp at a site, with the place that matters enlarged; its
charts, or the table of all users, sites and ways, below.
"""

from dataclasses import dataclass, replace
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import chooser, column, fit_button, put_items, splitter, switches
from rampdraft.app.views.following import DrawingView
from rampdraft.app.views.roll_bar import RollBar
from rampdraft.app.views.rolling_table import RollingTable
from rampdraft.app.views.side import site_words
from rampdraft.drawing.ghost import SIDE, ghosted
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.rolling import RollingSheet, rolling_sheet
from rampdraft.drawing.rolling_charts import front_of
from rampdraft.drawing.rolling_words import ALL_WAYS, Told, facing_of
from rampdraft.drawing.side import ramp_marks
from rampdraft.drawing.solid.riders import Rider, rider
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.carrier.at_rest import AtRest
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolled import AlongSite
from rampdraft.mechanics.rolling.results import CannotRoll, Facing, Roll, Way
from rampdraft.mechanics.rolling.roll import cannot_roll, roll
from rampdraft.mechanics.rolling.sinking import Sunk, roll_sinking
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

LOW_PX: Final = 420
STEP_MM: Final = 5.0
DRAGGED_STEP_MM: Final = 20.0
"""The charts' places, fewer in the frame of an edit and while something is dragged. What is worst lies at
kinks, which are looked at all the same; that no worse place hides between them is made sure of after it.
"""
BELOW: Final = (
    ("Charts", "Clearance, pitch and force along the way"),
    ("All users", "Every user over every site, each way"),
)
NOBODY: Final = "Nobody rolls over this ramp yet. Add a wheeled user under Use."
NOT_REACHED: Final = "The ramp does not reach the ground at this site."
Rolling = tuple[Roll, tuple[AlongSite, ...]]
"""A roll, and the user along each of its stretches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """A user at the place where the scrubber stands, for other views."""

    evaluation: Evaluation
    """What it is of."""
    site: SitePose
    rider: Rider


class RollingPanel(DrawingView):
    """Canvas, choosers of user, site and way, the scrubber with its charts, and the table."""

    rolled = Signal()
    """Another user, or another place of the same, is shown."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(document, say("Rolling"), parent)
        self._rolling: Rolling | CannotRoll | None = None
        self._rolled: object = None
        """What was worked out last: the evaluation's number, user, site and facing; None for nothing."""
        self._told: object = None
        """What the scrubber shows."""
        self.here: Here | None = None
        """Who is shown, and where; None for nobody."""
        self._sheet: tuple[object, RollingSheet] | None = None
        """What lies still, and what it was drawn for."""
        self.user = chooser(say("User"), self._chose, self)
        self.site = chooser(say("Site and deck"), self._chose, self)
        self.way = chooser(say("Way"), self._chose, self)
        put_items(self.way, [(say(way.capitalize()), way) for way in ALL_WAYS])
        fit = fit_button(self.canvas, self)
        top = ChooserRow((self.user, self.site, self.way, fit), self)
        self.bar, self.table = RollBar(self), RollingTable(document, answers, self)
        self.charts, self.all_users = switches(BELOW, self._turn_page, self)
        for one in (self.charts, self.all_users):
            self.bar.top.add(one)
        self._pages = QStackedWidget(self)
        for page in (self.bar.curves, self.table):
            self._pages.addWidget(page)
        lower = QWidget(self)
        column(lower, (self.bar, 0), (self._pages, 1))
        parts = splitter(Qt.Orientation.Vertical, self, (self.canvas, 1), (lower, 0))
        parts.setChildrenCollapsible(False)
        column(self, (top, 0), (parts, 1))
        self.bar.moved.connect(self._redraw)
        self.bar.turned.connect(self._turn)
        self.table.chose.connect(self._go)
        self.table.rolling.line.came.connect(self._rolled_all)
        self.table.rolling.line.failed.connect(self._rolled_all)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave a low panel to the scrubber and its charts: another view then shows who rolls."""
        self.canvas.setVisible(self.height() >= LOW_PX)

    @property
    def _way(self) -> Way:
        return self.way.currentData()

    def _begin(self) -> None:
        for one in (self.user, self.site, self.way):
            one.setCurrentIndex(0)
        self.bar.reset()
        super()._begin()

    def _clear(self) -> None:
        self._rolling = self._rolled = self._sheet = self._told = None
        for box in (self.user, self.site):
            box.clear()
        self.table.clear()
        super()._clear()

    def _take(self, evaluation: Evaluation) -> None:
        super()._take(evaluation)
        users = enumerate(evaluation.design.use.users, start=1)
        put_items(self.user, [(f"{number}  {user.name}", number) for number, user in users])
        sites = (pose for pose in _poses(evaluation) if pose.site_number > 0)
        put_items(self.site, [(site_words(pose), (pose.site_number, pose.state)) for pose in sites])

    def _draw(self, evaluation: Evaluation) -> None:
        site, number = self._site(evaluation), self.user.currentData()
        rolling = self._worked_out(evaluation, site, number)
        mass_kg = evaluation.design.use.users[number - 1].mass_kg if number else 0.0
        told = (self._rolled, self._way, self._greyed)
        if told != self._told:
            self._told = told
            shown = rolling[0] if isinstance(rolling, tuple) else None
            self.bar.show_roll(shown, site, self._way, mass_kg, greyed=self._greyed)
            self.table.follow()
        if not isinstance(rolling, tuple):
            self.here = None
            self.rolled.emit()
            self.canvas.show_picture(None, note=self._note or _why_not(rolling, number))
            return
        front = front_of(rolling[0], self.bar.share)
        stretch = rolling[0].about(front)
        sheet = self._sheet_of(evaluation, stretch)
        here = rolling[1][rolling[0].stretches.index(stretch.stretches[0])].at(front)
        self.bar.show_here(here)
        on_it = rider(sheet.shape, sheet.path, here)
        self.here = Here(evaluation=evaluation, site=stretch.pose, rider=on_it)
        self.rolled.emit()
        picture = sheet.picture(here)
        self.canvas.set_box(picture.box)
        self.canvas.show_picture(picture, note=self._note)

    def _rescale(self) -> None:
        if self.canvas.fitted:  # made for the sheet's size, whatever the zoom
            self._redraw()

    def _site(self, evaluation: Evaluation) -> SitePose:
        poses = _poses(evaluation)
        found = (pose for pose in poses if (pose.site_number, pose.state) == self.site.currentData())
        return next(found, poses[0])

    def _worked_out(
        self, evaluation: Evaluation, site: SitePose, number: int | None
    ) -> Rolling | CannotRoll | None:
        """Return the chosen user's roll over the chosen site; None where there is none to be had."""
        facing = facing_of(self._way)[0]
        settled = self._document.whole and not self._document.previewing
        step_mm = STEP_MM if settled else DRAGGED_STEP_MM
        rolled = (self._made, number, site.site_number, site.state, facing, step_mm)
        if rolled != self._rolled:
            self._rolled, design, self._rolling = rolled, evaluation.design, None
            if number and site.reaches:
                self._rolling = cannot_roll(design, number)
                if self._rolling is None:
                    self._rolling = _roll_of(evaluation, number, site, facing, step_mm)
        return self._rolling

    def _sheet_of(self, evaluation: Evaluation, found: Roll) -> RollingSheet:
        """Return what lies still, drawn again for another roll, worst place or size."""
        worst = self.bar.worst
        assert worst is not None
        kept, room_mm = self._kept, self.canvas.room_mm
        drawn_for = (self._rolled, self._way, worst.key, room_mm, found.stretches[0].from_mm, id(kept))
        if self._sheet is None or self._sheet[0] != drawn_for:
            sheet = rolling_sheet(evaluation, found.pose, found, self._way, worst.worst, room_mm)
            self._sheet = drawn_for, sheet if kept is None else _with_ghost(sheet, kept, found.pose)
        return self._sheet[1]

    def _rolled_all(self) -> None:
        if self.isVisible():
            self.table.follow()

    def _chose(self) -> None:
        """Another user, site or way: begin at its worst place."""
        self.bar.reset()
        self._refit()

    def _turn(self, way: Way) -> None:
        """Go the other way, facing alike, from where it is."""
        self.way.setCurrentIndex(ALL_WAYS.index(way))
        self._redraw()

    def _turn_page(self) -> None:
        self._pages.setCurrentIndex(1 if self.all_users.isChecked() else 0)

    def _go(self, user: int, site_number: int, way: Way, told: Told) -> None:
        """Show what a cell of the table tells."""
        for box, datum in ((self.user, user), (self.site, (site_number, told.state)), (self.way, way)):
            rows = [row for row in range(box.count()) if box.itemData(row) == datum]
            box.setCurrentIndex(rows[0] if rows else box.currentIndex())
        self._chose()


def _with_ghost(sheet: RollingSheet, kept: Evaluation, at: SitePose) -> RollingSheet:
    """Return a sheet with a kept ramp as it lies at the same site."""
    places = ((one.site_number, one.state) for one in kept.sites)
    site = dict(zip(places, kept.sites, strict=True)).get((at.site_number, at.state))
    if site is None:
        return sheet
    flap_rad = site.flap_rad if site.flap is not None else None
    marks = ramp_marks(kept, pose=site.pose, drop_mm=site.drop_mm, flap_rad=flap_rad)
    still = Picture(marks=sheet.still, box=sheet.box)
    over = ghosted(still, Picture(marks=marks, box=sheet.box), kept.assembly, SIDE)
    return replace(sheet, still=over.marks)


def _poses(evaluation: Evaluation) -> tuple[SitePose, ...]:
    """Return each site in the states of the deck that users roll in; where it sinks on the way, as that
    begins.
    """
    sinks = isinstance(evaluation.at_rest, AtRest)
    found: list[SitePose] = []
    for pose in evaluation.sites:
        if pose.state != "starting":
            found.append(evaluation.props_set.borne(pose))
        if pose.state == "empty" and sinks:
            found.append(replace(pose, state="sinking"))
    return tuple(found)


def _roll_of(
    evaluation: Evaluation, number: int, site: SitePose, facing: Facing, step_mm: MM
) -> Rolling | None:
    """Return a user's roll over a site; None where its weight tips the carrier."""
    design, assembly, sure = evaluation.design, evaluation.assembly, step_mm < DRAGGED_STEP_MM
    if site.state == "sinking" and isinstance(evaluation.at_rest, AtRest):
        sunk = Sunk(design, assembly, evaluation.straight, evaluation.at_rest, evaluation.props_set)
        found = roll_sinking(sunk, number, site, facing, step_mm=step_mm, sure=sure)
        if found is None:
            return None
        placed = [sunk.at(site.site_number, one.pose.drop_mm, one.pose.nod_rad) for one in found.stretches]
    else:
        placed = [(site, Surfaces(design, assembly, site))]
        found = roll(design, number, site, placed[0][1], facing, step_mm=step_mm, sure=sure)
    return found, tuple(AlongSite(design, number, pose, surfaces, facing) for pose, surfaces in placed)


def _why_not(cannot: CannotRoll | None, number: int | None) -> str:
    """Return why nothing rolls."""
    if cannot is not None:
        width, room = fixed(cannot.width_mm, 0, "mm"), fixed(cannot.room_mm, 0, "mm")
        return say("Too wide: {width} over its wheels, and the way is {room} wide.", width=width, room=room)
    return say(NOT_REACHED) if number else say(NOBODY)
