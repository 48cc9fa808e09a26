"""What is in the window: three areas side by side, and how they speak with one another."""

from dataclasses import dataclass
from functools import partial
from typing import Final

from PySide6.QtCore import QObject, QPointF, Qt, QTimer
from PySide6.QtWidgets import QLabel, QWidget

from rampdraft.app import speech
from rampdraft.app.answers import Answers
from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.canvas.painting import family
from rampdraft.app.checklist.checks import ChecksPanel
from rampdraft.app.document import Document
from rampdraft.app.form.dimensions import DimensionsPanel
from rampdraft.app.form.giving import why_not
from rampdraft.app.furniture import column, make, splitter
from rampdraft.app.judging import Judging
from rampdraft.app.sheets.work import SheetWork
from rampdraft.app.shell import settings
from rampdraft.app.shell.actions import Actions
from rampdraft.app.shell.dialogs import Dialogs
from rampdraft.app.shell.filing import Filing
from rampdraft.app.shell.fold_work import FoldWork
from rampdraft.app.shell.journal import Journal, Recovery
from rampdraft.app.shell.naming import is_field, words_of
from rampdraft.app.shell.panes import Views
from rampdraft.app.shell.picture_work import PictureWork
from rampdraft.app.shell.propose_work import ProposeWork
from rampdraft.app.shell.step_work import StepWork
from rampdraft.app.shell.user_work import UserWork
from rampdraft.app.shell.watching import Watch
from rampdraft.app.shell.window import Window
from rampdraft.app.start.work import StartWork
from rampdraft.app.tour.work import TourWork
from rampdraft.app.variant import Kept, Variant
from rampdraft.app.views.carrier import CarrierPanel
from rampdraft.app.views.compare import ComparePanel
from rampdraft.app.views.end import EndPanel
from rampdraft.app.views.fold_bar import FoldBar
from rampdraft.app.views.fold_map import FoldMapPanel
from rampdraft.app.views.hand import type_over
from rampdraft.app.views.notice import Notice
from rampdraft.app.views.pieces import PiecesPanel
from rampdraft.app.views.plan import PlanPanel
from rampdraft.app.views.rolling import RollingPanel
from rampdraft.app.views.side import SidePanel
from rampdraft.app.views.solid import SolidPanel
from rampdraft.app.views.strength import StrengthPanel
from rampdraft.app.views.users import UsersPanel
from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.result import Check
from rampdraft.drawing.grips.grip import field_of
from rampdraft.drawing.lit import lit_by
from rampdraft.words.manner import Lengths
from rampdraft.words.say import say

AREAS: Final = ((350, 0, 1), (700, 300, 2), (350, 255, 1))
"""Width at first, least width (0: its own) and share of a wider window, of each area."""

SAY_MS: Final = 8000


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What one desk goes on with from the one before."""

    document: Document
    variant: Kept | None
    view: str
    """Key of the view in front."""


class Desk(QObject):
    """The document in hand and the areas that show it."""

    def __init__(self, window: Window, carried: "Carried | None" = None) -> None:
        """Set it out, with a document of its own, or with what another desk carried over."""
        super().__init__(window)
        self.window = window
        family()  # a screen without fonts of its own shows letters too
        self.dialogs = Dialogs(window)
        self.document = carried.document if carried is not None else Document(self)
        self.document.setParent(self)
        self.answers = Answers(self)
        self.judging = Judging(self.document, self.answers, self)
        self.filing = Filing(self)
        self.journal = Journal(self)
        self.recovery = Recovery(self)
        self.watch = Watch(self)
        self.form = DimensionsPanel(self.document, window)
        self.fold_bar = FoldBar(self.document, window)
        self.side = SidePanel(self.document, self.fold_bar, window)
        self.fold_map = FoldMapPanel(self.document, self.fold_bar, self.answers, window)
        self.rolling = RollingPanel(self.document, self.answers, window)
        self.plan = PlanPanel(self.document, window)
        self.end = EndPanel(self.document, self.fold_bar, window)
        self.solid = SolidPanel(self.document, self.fold_bar, self.rolling, window)
        self.strength = StrengthPanel(self.document, window)
        self.carrier = CarrierPanel(self.document, self.answers, window)
        self.pieces = PiecesPanel(self.document, self.answers, window)
        self.users = UsersPanel(self.document, window)
        self.checks = ChecksPanel(self.document, self.answers, window)
        self.variant = Variant(self.document, self.answers)
        self.compare = ComparePanel(self.document, self.variant, window)
        self.views = Views(window)
        for panel, key, name in self._panels:
            self.views.add(panel, key, name)
        self.notice = Notice(window)
        self.fold_work = FoldWork(self)
        self.user_work = UserWork(self)
        self.propose_work = ProposeWork(self)
        self.step_work = StepWork(self)
        self.picture_work = PictureWork(self)
        self.sheet_work = SheetWork(self)
        self.start_work = StartWork(self)
        self.tour_work = TourWork(self)
        self._lay_out()
        self._actions = Actions(self)
        self._wire()
        self._retitle()
        if carried is not None:
            self._take_over(carried)

    @property
    def _panels(self) -> tuple[tuple[QWidget, str, str], ...]:
        """Return the views, each with its key and its name."""
        return (
            (self.side, "side", say("Side")),
            (self.fold_map, "fold_map", say("Fold map")),
            (self.rolling, "rolling", say("Rolling")),
            (self.plan, "plan", say("Plan")),
            (self.end, "end", say("End")),
            (self.solid, "solid", say("Solid")),
            (self.strength, "strength", say("Strength")),
            (self.carrier, "carrier", say("Carrier")),
            (self.pieces, "pieces", say("Pieces")),
            (self.users, "users", say("Users")),
            (self.compare, "compare", say("Compare")),
        )

    def _lay_out(self) -> None:
        drawing = QWidget(self.window)
        column(drawing, (self.notice, 0), (self.views.pane, 1), (self.fold_bar, 0))
        shown = (_area(say("Dimensions"), self.form), drawing, _area(say("Checks"), self.checks))
        for area, (_, least, _) in zip(shown, AREAS, strict=True):
            area.setMinimumWidth(least)
        parts = ((area, share) for area, (_, _, share) in zip(shown, AREAS, strict=True))
        self._areas = splitter(Qt.Orientation.Horizontal, self.window, *parts)
        self._areas.setChildrenCollapsible(False)
        self._areas.setSizes([first for first, _, _ in AREAS])
        self.window.setCentralWidget(self.step_work.framed(self._areas))
        self.window.statusBar().setSizeGripEnabled(False)
        remembered = settings.state("areas")
        if remembered is not None:
            self._areas.restoreState(remembered)
        self.views.arrange_as_remembered()

    def _wire(self) -> None:
        self.views.currentChanged.connect(self._changed_view)
        self.views.arranged.connect(self._changed_view)
        self.solid.ways_changed.connect(self._show_rolling)
        document = self.document
        document.renamed.connect(self._retitle)
        document.changed.connect(self._retitle)
        document.undo_stack.cleanChanged.connect(self._retitle)
        self.checks.chose.connect(self._show_check)
        self.checks.ways_out.told.connect(self.say)
        self.checks.mend.told.connect(self.say)
        self.pieces.chose.connect(self._light)
        self.form.entered.connect(self._light_field)
        self.form.entered.connect(self.side.show_field)
        self.form.pointed.connect(self._hint)
        self.strength.chose.connect(self._light)
        self.checks.judged.connect(self.compare.refresh)
        self.compare.chose.connect(self.step_work.go_to)
        for panel in (self.side, self.fold_map, self.rolling, self.plan, self.end, self.solid):
            panel.compare_with(self.variant)
        for canvas in self._lit_canvases:
            canvas.pointed.connect(self._point)
            canvas.picked.connect(self._pick)
            canvas.typed_over.connect(partial(self._type_over, canvas))
            canvas.told_of = self._told_of

    # What the actions need

    @property
    def areas(self) -> tuple[tuple[str, QWidget], ...]:
        """Return the areas with the widget that takes the cursor in each."""
        return (
            (say("Dimensions"), self.form),
            (say("Drawing"), self.views),
            (say("Checks"), self.checks.list),
            (say("Steps", "job"), self.step_work.list),
        )

    def play_fold(self) -> None:
        """Play the fold where it can be seen, or pause."""
        self._see_fold()
        self.fold_bar.toggle_play()

    def go_tightest(self) -> None:
        """Show the tightest place of the fold."""
        self._see_fold()
        self.fold_bar.go_tightest()

    def _see_fold(self) -> None:
        if not self.fold_bar.isVisible():
            self.views.setCurrentWidget(self.side)

    def keep_ramp(self) -> None:
        """Keep the ramp in hand, to be compared with what comes of it."""
        if not self.document.whole:
            self.say(
                say("The ramp is being worked out, or has values to be corrected: it cannot be kept yet.")
            )
            return
        self.variant.keep()
        self.say(say("Kept, {name}. What differs from now on stands under Compare.", name=self.variant.name))

    def go_to_problem(self) -> None:
        """Put the cursor on the first value that can't be."""
        if self.document.problems:
            self.form.reveal(self.document.problems[0].key)

    def fit(self) -> None:
        """Show the whole drawing."""
        for canvas in (*self._lit_canvases, self.fold_map.canvas, self.fold_map.pose):
            canvas.fit()

    def about(self) -> None:
        """Tell what this is, the cautions, and what it is made of."""
        from rampdraft import __version__
        from rampdraft.files.known_parts import known_parts

        what = say("Rampdraft {version}: two-section folding ramps. MIT licence.", version=__version__)
        words = "\n\n".join((what, *map(say, CAUTIONS)))
        made_of = "\n".join(f"{one.name} {one.version}: {one.licence}" for one in known_parts())
        self.dialogs.report(say("About Rampdraft"), words, say("Made with:\n{parts}", parts=made_of))

    def choose_language(self, wanted: speech.Tongue) -> None:
        """Speak another language."""
        self._speak(speech.choose_tongue(wanted))

    def choose_lengths(self, wanted: Lengths) -> None:
        """Show lengths in another unit."""
        self._speak(speech.choose_lengths(wanted))

    def _speak(self, otherwise: bool) -> None:
        if otherwise:  # once the menu is closed that it was chosen from, which goes too
            QTimer.singleShot(0, self.window, self.window.furnish_anew)

    def settle(self) -> None:
        """Take what is half typed in the form, so that nothing is lost by what comes next."""
        focused = self.window.focusWidget()
        if focused is not None and self.form.isAncestorOf(focused):
            focused.clearFocus()
            focused.setFocus()

    def say(self, words: str) -> None:
        """Say something in the status line for a while."""
        self.window.statusBar().showMessage(words, SAY_MS)

    def tell_failure(self, message: str, details: str) -> None:
        """Tell of a fault of the program, and save if that is wanted."""
        if self.dialogs.failure(message, details):
            self.filing.save_as()

    def clear(self) -> bool:
        """Return whether the desk is cleared: changes saved or given up, the layout remembered, no work under
        way.
        """
        if not self.filing.may_leave():
            return False
        self._stop()
        return True

    def leave(self) -> "Carried":
        """Clear the desk, and return what another one in its place goes on with."""
        self.settle()
        self.document.give_back()
        view = self.views.key_of(self.views.currentWidget())
        self._stop()
        self.document.let_go(why_not)
        self.document.setParent(None)
        return Carried(document=self.document, variant=self.variant.kept, view=view)

    def _take_over(self, carried: "Carried") -> None:
        """Go on with what another desk carried over, told as is spoken now."""
        self.document.show_anew()
        self.variant.take_over(carried.variant)
        self.views.show_key(carried.view)
        self.journal.now()
        self.recovery.offer()

    def _stop(self) -> None:
        self.fold_bar.pause()
        self.filing.pack.close()
        self.sheet_work.close()
        self.start_work.close()
        self.tour_work.close()
        self.propose_work.close()
        self.notice.dismiss()
        self.checks.ways_out.stop()
        self.judging.stop()
        self.answers.close()
        self.recovery.end()
        self.watch.end()
        self.journal.end()
        settings.remember_state("areas", self._areas.saveState())
        self.views.remember()

    # How the areas speak with one another

    def _changed_view(self) -> None:
        self.views.setTabVisible(self.views.currentIndex(), True)
        folds = {self.side, self.fold_map, self.end, *(() if self.solid.rolls else (self.solid,))}
        self.fold_bar.setVisible(not folds.isdisjoint(self.views.seen))

    def _show_rolling(self) -> None:
        """Show who rolls beside the solid, where that is wanted."""
        if self.solid.rolls and not self.rolling.isVisible():
            self.views.put_beside(self.rolling)
        self._changed_view()

    @property
    def _lit_canvases(self) -> tuple[Canvas, ...]:
        """Return the canvases whose marks name members and dimensions."""
        drawn = (
            self.side,
            self.rolling,
            self.plan,
            self.end,
            self.solid,
            self.strength,
            self.carrier,
            self.users,
        )
        return tuple(panel.canvas for panel in drawn)

    def _point(self, key: str) -> None:
        self.window.statusBar().showMessage(self._told_of(key))
        self.form.light(field_of(key))

    def _told_of(self, key: str) -> str:
        return words_of(key, self.document)

    def _hint(self, path: str) -> None:
        for canvas in self._lit_canvases:
            canvas.hint(path)

    def _type_over(self, canvas: Canvas, key: str, at: QPointF) -> None:
        """Have a dimension typed over where it stands; a member has none, and shows the whole again."""
        if is_field(key):
            type_over(self.document, canvas, key, at)
        else:
            canvas.fit()

    def _pick(self, key: str) -> None:
        if key and is_field(key):
            self.form.reveal(key)
        else:
            self._light(frozenset((key,) if key else ()))

    def _light(self, owners: frozenset[str]) -> None:
        for canvas in self._lit_canvases:
            canvas.light(owners)

    def light_member(self, key: str) -> None:
        """Light a member on the drawings."""
        self._light(frozenset((key,)))
        self._point(key)

    def _light_field(self, path: str) -> None:
        evaluation = self.document.evaluation
        self._light(lit_by(path, evaluation.assembly.members if evaluation is not None else ()))

    def _show_check(self, check: Check | None) -> None:
        """Show on the drawing what a check speaks of."""
        self._light(frozenset((check.member,) if check is not None and check.member else ()))
        if check is None:
            return
        if check.share is not None:
            self.side.show_share(check.share)
        elif check.site_number:
            if check.about.state == "sinking" and isinstance(check.found, Rolled):
                self.side.show_sunk(check.site_number, check.found.drop_mm, check.found.nod_rad)
            else:
                self.side.show_site(check.site_number, check.about.state or "empty")

    def _retitle(self) -> None:
        self.window.setWindowTitle(f"{self.document.title or 'Rampdraft'}[*]")
        self.window.setWindowModified(self.document.modified)


def _area(title: str, panel: QWidget) -> QWidget:
    area = QWidget()
    column(area, (make(QLabel, title, area, role="area"), 0), (panel, 1))
    return area
